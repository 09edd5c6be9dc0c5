//! The values of a tank file that the page edits: their names, how they are written, and the words
//! beside them. What is not listed here stays in the file as it is.

use super::key::Key;
use crate::diagnostic::nearest;
use crate::tank::file::{BedKind, Injection, Material, Tint, ZoneRole};

/// How a value is written in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::page) enum Kind {
    /// Text in quotes, quantities with their unit among them.
    Text,
    /// A bare number, or a quantity in quotes.
    Number,
    /// `true` or `false`; absent is `true` or `false` as said.
    Flag(bool),
    /// A list of texts, written with commas between them.
    Words,
    /// One of a few words; the first stands when none is written.
    Choice(&'static [&'static str]),
    /// A lamp spectrum of the library.
    Spectrum,
    /// Points, one a line, each two lengths with a comma between them.
    Outline,
}

/// A value that the page edits.
#[derive(Debug, Clone, Copy)]
pub(in crate::page) struct Field {
    /// Its name inside its section; a pair of lengths has two fields, `at[0]` and `at[1]`.
    pub key: &'static str,
    pub label: &'static str,
    pub kind: Kind,
    /// What to write, in a few words.
    pub hint: &'static str,
}

const fn field(key: &'static str, label: &'static str, kind: Kind, hint: &'static str) -> Field {
    Field { key, label, kind, hint }
}

use Kind::{Choice, Flag, Number, Outline, Spectrum, Text, Words};

/// A part of the file and its fields.
#[derive(Debug, Clone, Copy)]
pub(in crate::page) struct Section {
    /// The table, `zone[]` for a list of tables; empty for the top of the file.
    pub table: &'static str,
    pub fields: &'static [Field],
}

pub(in crate::page) const ABOUT: Section = Section {
    table: "",
    fields: &[
        field("name", "Name", Text, "your name for the tank"),
        field("jurisdiction", "Law of", Words, "EU, DE, GB-SCT, US-CA; commas between several"),
    ],
};
pub(in crate::page) const GLASS: Section = Section {
    table: "glass",
    fields: &[
        field("length", "Length", Text, "left to right, inside: 60 cm, 24 in"),
        field("depth", "Depth", Text, "front to back, inside: 30 cm"),
        field("height", "Height", Text, "floor to rim: 36 cm"),
        field("water", "Water level", Text, "above the floor: 32 cm"),
        field("open_top", "Open top", Flag(true), "leaves may grow out of the water"),
        field("cover_transmittance", "Light through the cover", Text, "90 %, when covered"),
    ],
};
pub(in crate::page) const BED: Section = Section {
    table: "bed",
    fields: &[
        field("kind", "Made of", Choice(BedKind::WORDS), ""),
        field("front", "Thick in front", Text, "3 cm"),
        field("back", "Thick behind", Text, "8 cm"),
    ],
};
pub(in crate::page) const LIGHT: Section = Section {
    table: "light",
    fields: &[
        field("hours", "Hours a day", Number, "8"),
        field("floating_cover", "Surface closed by floating plants", Text, "0 %"),
    ],
};
pub(in crate::page) const LAMP: Section = Section {
    table: "light.lamp[]",
    fields: &[
        field("photon_flux", "Photons", Text, "40 umol/s; state the output once, in one of these ways"),
        field("luminous_flux", "or lumens", Text, "2400 lm"),
        field("power", "or watts", Text, "30 W, with one of the next two"),
        field("photon_efficacy", "photons a joule", Text, "1.8 umol/J"),
        field("luminous_efficacy", "lumens a watt", Text, "110 lm/W"),
        field("spectrum", "Spectrum", Spectrum, ""),
        field("dimmed_to", "Dimmed to", Text, "100 %"),
        field("size[0]", "Long, left to right", Text, "50 cm"),
        field("size[1]", "Wide, front to back", Text, "8 cm"),
        field("above_water", "Above the water", Text, "8 cm"),
        field("beam", "Beam", Text, "120 deg, between the directions of half intensity"),
        field("at[0]", "Middle, from the left", Text, "30 cm"),
        field("at[1]", "Middle, from the front", Text, "15 cm"),
    ],
};
pub(in crate::page) const GAS: Section = Section {
    table: "gas",
    fields: &[
        field("injection", "CO2 from", Choice(Injection::WORDS), ""),
        field("target", "Aimed at", Text, "18..26 mg/L; empty leaves it to pH and KH"),
        field("on_before", "On before the light", Text, "1 h"),
        field("off_before", "Off before its end", Text, "1 h"),
    ],
};
pub(in crate::page) const WATER: Section = Section {
    table: "water",
    fields: &[
        field("temperature", "Temperature", Text, "23..25 degC, 75 degF"),
        field("ph", "pH", Text, "6.8..7.2"),
        field("gh", "General hardness", Text, "6 dGH"),
        field("kh", "Carbonate hardness", Text, "3..5 dKH"),
        field("tint", "Colour", Choice(Tint::WORDS), ""),
        field("weekly_change", "Changed weekly", Text, "50 %"),
    ],
};
pub(in crate::page) const FILTER: Section =
    Section { table: "filter", fields: &[field("flow", "Filter flow", Text, "450 L/h")] };
pub(in crate::page) const LIVESTOCK: Section = Section {
    table: "livestock",
    fields: &[field("fish", "Animals", Flag(false), "limits what may be done to gas and water")],
};
pub(in crate::page) const PIECE: Section = Section {
    table: "hardscape[]",
    fields: &[
        field("name", "Name", Text, "root wood"),
        field("material", "Material", Choice(Material::WORDS), ""),
        field("top", "Top, above the floor", Text, "22 cm"),
        field("outline", "Corners", Outline, "a line each, from the left and from the front: 20 cm, 10 cm"),
    ],
};
pub(in crate::page) const ZONE: Section = Section {
    table: "zone[]",
    fields: &[
        field("name", "Name", Text, "front lawn"),
        field("placement", "Part of the layout", Choice(ZoneRole::WORDS), ""),
        field("taxa", "Kinds of plants", Text, "1..3"),
        field("tallest", "No plant taller than", Text, "12 cm"),
        field("shortest", "None shorter than", Text, "5 cm"),
        field("from_front", "From the front", Text, "0..10 cm"),
        field("from_left", "From the left", Text, "0..30 cm"),
        field("on", "On", Words, "names of wood or rock; for epiphytes"),
        field(
            "outline",
            "Corners instead",
            Outline,
            "a line each, from the left and from the front: 0 cm, 9 cm",
        ),
    ],
};
pub(in crate::page) const WISHES: Section = Section {
    table: "wishes",
    fields: &[
        field("budget", "Budget", Text, "150"),
        field("currency", "Currency", Text, "EUR"),
        field("trim_minutes_per_month", "Minutes of trimming a month", Number, "60"),
        field("fast_share", "Fast growers, at least", Text, "30 %"),
        field("per_genus", "Of one genus, at most", Number, "2"),
        field("most_taxa", "Kinds in all, at most", Number, "12"),
        field("height_order", "Low in front, tall behind", Flag(true), "along the lines of sight"),
        field("native", "Native to", Words, "areas of the world geographical scheme"),
        field("must", "Keep", Words, "plants that must be on the list"),
        field("never", "Never", Words, "plants that must not"),
    ],
};

/// Every part, in the order of a file.
pub(in crate::page) const SECTIONS: &[Section] =
    &[ABOUT, GLASS, BED, LIGHT, LAMP, GAS, WATER, FILTER, LIVESTOCK, PIECE, ZONE, WISHES];

/// The pattern of a field of a section: `light.lamp[].at[]`.
fn pattern(section: &Section, field: &Field) -> String {
    let own = field.key.split('[').next().unwrap_or(field.key);
    let pair = if own == field.key { "" } else { "[]" };
    let dot = if section.table.is_empty() { "" } else { "." };
    format!("{}{dot}{own}{pair}", section.table)
}

/// The field of a key; the nearest patterns when there is none.
pub(in crate::page) fn find(key: &Key) -> Result<&'static Field, Vec<String>> {
    let wanted = key.pattern();
    let all = || SECTIONS.iter().flat_map(|s| s.fields.iter().map(move |f| (pattern(s, f), f)));
    if let Some((_, field)) = all().find(|(p, _)| *p == wanted) {
        return Ok(field);
    }
    let patterns: Vec<String> = all().map(|(p, _)| p).collect();
    Err(nearest(&wanted, patterns.iter().map(String::as_str), 2))
}
