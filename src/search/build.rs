//! Writes the index: one segment, the taxa in the order of their keys.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use tantivy::directory::MmapDirectory;
use tantivy::indexer::SingleSegmentIndexWriter;
use tantivy::schema::Schema;
use tantivy::{IndexBuilder, TantivyDocument, TantivyError};

use super::schema::{
    self, ACCEPTED, ALIAS, BITS, FAMILY, Measure, NOTES, RENOWN, TAXON, TERMS, TRAITS, VERNACULAR, WHOLE,
    WRITTEN,
};
use super::{Facet, SearchError, facet, fold, tags};
use crate::catalogue::{Catalogue, LegalEntry, Name, NameKind, Offered, Plant, TaxonId};

/// Memory for the tables of terms, in bytes; the catalogue needs a small part of it.
const MEMORY: usize = 32 << 20;

/// Builds the index of `catalogue` in `folder`, which is created.
///
/// The taxa stand in the order of their keys, so hits of equal score come in that order.
///
/// # Errors
/// The folder cannot be written.
pub fn write(folder: &Path, catalogue: &Catalogue) -> Result<(), SearchError> {
    fs::create_dir_all(folder)
        .map_err(|e| SearchError::Unwritable { path: folder.to_owned(), what: e.to_string() })?;
    fill(folder, catalogue).map_err(SearchError::unwritable(folder))
}

fn fill(folder: &Path, catalogue: &Catalogue) -> Result<(), TantivyError> {
    let mut names: BTreeMap<&TaxonId, Vec<&Name>> = BTreeMap::new();
    for name in &catalogue.names {
        names.entry(&name.taxon).or_default().push(name);
    }
    let mut laws: BTreeMap<&TaxonId, Vec<&LegalEntry>> = BTreeMap::new();
    for law in catalogue.legal.iter().filter(|l| facet::is_law(l.standing)) {
        laws.entry(&law.taxon).or_default().push(law);
    }
    let mut plants: Vec<&Plant> = catalogue.plants.iter().collect();
    plants.sort_by(|a, b| a.id.cmp(&b.id));
    let schema = schema::schema();
    let directory = MmapDirectory::open(folder)?;
    let mut writer: SingleSegmentIndexWriter =
        IndexBuilder::new().schema(schema.clone()).single_segment_index_writer(directory, MEMORY)?;
    for plant in plants {
        let of = |map: &BTreeMap<_, Vec<_>>| map.get(&plant.id).cloned().unwrap_or_default();
        let laws = laws.get(&plant.id).map_or(&[][..], Vec::as_slice);
        writer.add_document(document(&schema, plant, &of(&names), laws))?;
    }
    writer.finalize()?;
    Ok(())
}

fn document(schema: &Schema, plant: &Plant, names: &[&Name], laws: &[&LegalEntry]) -> TantivyDocument {
    let mut doc = Draft { schema, doc: TantivyDocument::default() };
    doc.text(TAXON, &plant.id.0);
    doc.names(plant, names);
    doc.words(TRAITS.name, &trait_words(plant));
    doc.words(NOTES.name, &plant.notes);
    doc.words(FAMILY.name, &plant.family);
    doc.facets(plant, laws);
    for tag in tags::tags(plant) {
        doc.text(TERMS, &format!("tag:{tag}"));
    }
    for measure in Measure::ALL {
        for (name, value) in measure.fields().into_iter().zip(measure.of(plant)) {
            doc.doc.add_f64(schema::field(schema, name), value);
        }
    }
    doc.doc
}

/// A document in the making.
struct Draft<'a> {
    schema: &'a Schema,
    doc: TantivyDocument,
}

impl Draft<'_> {
    fn text(&mut self, field: &str, value: &str) {
        self.doc.add_text(schema::field(self.schema, field), value);
    }

    /// Folded and stemmed words of a text.
    fn words(&mut self, field: &str, value: &str) {
        let words: Vec<String> = fold::words(value).iter().map(|w| fold::stem(w)).collect();
        self.text(field, &words.join(" "));
    }

    fn names(&mut self, plant: &Plant, names: &[&Name]) {
        let accepted = plant.display_name();
        self.words(ACCEPTED.name, &accepted);
        self.words(VERNACULAR.name, &plant.vernacular);
        let mut whole = vec![fold::compact(&fold::words(&accepted)), plant.id.0.replace('-', "")];
        whole.push(fold::compact(&fold::words(&plant.vernacular)));
        let mut written = vec![accepted];
        self.doc.add_u64(schema::field(self.schema, RENOWN), renown(plant, names));
        for name in names {
            let words = fold::words(&name.name);
            whole.push(fold::compact(&words));
            whole.push(words.iter().map(|w| fold::stem(w)).collect());
            if let (NameKind::Accepted | NameKind::Synonym, [genus, epithets @ ..]) = (name.kind, &words[..])
            {
                // `C. wendtii`; the genus is a letter or longer.
                whole.push(genus.chars().take(1).chain(epithets.concat().chars()).collect());
            }
            match name.kind {
                NameKind::Accepted => continue,
                NameKind::Synonym | NameKind::Trade => self.words(ALIAS.name, &name.name),
                NameKind::Vernacular => self.words(VERNACULAR.name, &name.name),
            }
            written.push(name.name.clone());
        }
        whole.sort();
        whole.dedup();
        for name in whole {
            self.text(WHOLE, &name);
        }
        self.text(WRITTEN, &written.join("\n"));
    }

    fn facets(&mut self, plant: &Plant, laws: &[&LegalEntry]) {
        let mut bits = 0_u64;
        for facet in Facet::CLOSED {
            for value in facet.closed_values(plant) {
                let place = facet.words().iter().position(|w| *w == value);
                let place = place.expect("closed values are words of their facet");
                bits |= 1 << (schema::first_bit(*facet) + place);
                self.text(TERMS, &schema::facet_term(*facet, value));
            }
        }
        self.doc.add_u64(schema::field(self.schema, BITS), bits);
        let mut native: Vec<&str> =
            plant.native.iter().flat_map(|code| [code.as_str(), &code[..1]]).collect();
        native.sort_unstable();
        native.dedup();
        let mut law: Vec<&str> = laws.iter().map(|l| l.jurisdiction.as_str()).collect();
        law.sort_unstable();
        law.dedup();
        for (facet, values) in
            [(Facet::Family, vec![plant.family.as_str()]), (Facet::Native, native), (Facet::Law, law)]
        {
            for value in values {
                self.text(facet.word(), value);
                self.text(TERMS, &schema::facet_term(facet, value));
            }
        }
    }
}

/// How well known a taxon is: how often it is offered, and how many names people have for it.
fn renown(plant: &Plant, names: &[&Name]) -> u64 {
    let offered = match plant.offered {
        Offered::Often => 30,
        Offered::Sometimes => 12,
        Offered::Seldom => 3,
        Offered::Wild => 0,
    };
    let popular = names.iter().filter(|n| matches!(n.kind, NameKind::Vernacular | NameKind::Trade));
    offered + popular.count() as u64
}

/// The traits in words, so that a word no phrase knows still finds them.
fn trait_words(plant: &Plant) -> String {
    let mut words: Vec<&str> = Facet::CLOSED.iter().flat_map(|f| f.closed_values(plant)).collect();
    words.extend(tags::tags(plant));
    words.push(plant.carbon_use.word());
    words.extend(plant.hazards.iter().map(|h| h.word()));
    words.join(" ")
}
