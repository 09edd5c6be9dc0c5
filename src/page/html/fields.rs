//! What is written about the tank, as fields. Each shows the text of the file as it stands there.

use maud::{Markup, html};
use serde_json::json;

use super::bits::{change, slug};
use crate::page::desk::Written;
use crate::page::desk::field::{
    ABOUT, BED, FILTER, Field, GAS, GLASS, Kind, LAMP, LIGHT, LIVESTOCK, PIECE, Section, WATER, WISHES, ZONE,
};

/// All fields of a tank file.
pub(in crate::page) fn fields(written: &Written, spectra: &[String]) -> Markup {
    let form = Form { written, spectra };
    html! {
        p.soft {
            "A number with its unit, or a range for what you measured: 23..25 degC. Inches, US gallons and °F are read as well. "
            "What is wrong is said beside the field; the tank keeps its last right value until then."
        }
        (form.part("The tank", &[ABOUT], true))
        (form.part("Glass", &[GLASS], true))
        (form.part("Bed", &[BED], false))
        (form.part("Light", &[LIGHT], false))
        (form.parts("Lamp", "lamp", LAMP, "light.lamp"))
        (form.part("Water and animals", &[WATER, FILTER, LIVESTOCK], false))
        (form.part("Gas", &[GAS], false))
        (form.parts("Wood and rock", "hardscape", PIECE, "hardscape"))
        (form.parts("Zone", "zone", ZONE, "zone"))
        (form.part("What you wish of the list", &[WISHES], false))
    }
}

struct Form<'a> {
    written: &'a Written,
    spectra: &'a [String],
}

impl Form<'_> {
    fn part(&self, title: &str, sections: &[Section], open: bool) -> Markup {
        html! {
            details id={ "part-" (slug(title)) } open[open] {
                summary { (title) }
                div.inside.fields {
                    @for section in sections {
                        p.wrong.field.wide id={ "wrong-" (slug(section.table)) } {}
                        @for field in section.fields { (self.field(&full(section.table, field.key), field)) }
                    }
                }
            }
        }
    }

    /// The parts of a list, each with its fields, and a button for one more.
    fn parts(&self, title: &str, what: &str, section: Section, list: &str) -> Markup {
        let adds = json!([{ "do": "add", "what": what }]);
        html! {
            @for i in 0..self.written.count(list) {
                @let key = format!("{list}[{i}]");
                @let name = self.written.get(&format!("{key}.name"));
                @let called = if name.is_empty() { format!("{} {}", title, i + 1) } else { name };
                details id={ "part-" (slug(&key)) } {
                    summary {
                        @if section.table == "zone[]" { "Zone " (i + 1) ": " }
                        @if section.table == "hardscape[]" { "Piece: " }
                        (called)
                    }
                    div.inside.fields {
                        p.wrong.field.wide id={ "wrong-" (slug(&key)) } {}
                        @for field in section.fields { (self.field(&full(&key, field.key), field)) }
                        div.field.wide {
                            (change("Take out", &json!([{ "do": "drop", "key": key }]), "Taken out", &called))
                        }
                    }
                }
            }
            div.row { (change(&format!("Add: {}", title.to_lowercase()), &adds, "Added; it stands on the plan", "")) }
        }
    }

    fn field(&self, key: &str, field: &Field) -> Markup {
        let value = self.written.get(key);
        let own = slug(key);
        let (id, hint, wrong) = (format!("field-{own}"), format!("hint-{own}"), format!("wrong-{own}"));
        let about = if field.hint.is_empty() { wrong.clone() } else { format!("{hint} {wrong}") };
        let wide = matches!(field.kind, Kind::Outline);
        // These rename or reorder the other fields.
        let shapes = field.key == "name";
        html! {
            div.field.wide[wide] {
                @match field.kind {
                    Kind::Flag(absent) => {
                        @let on = if value.is_empty() { absent } else { value == "true" };
                        label {
                            input id=(id) type="checkbox" checked[on] data-key=(key) aria-describedby=(about);
                            (field.label)
                        }
                    }
                    kind => {
                        label for=(id) { (field.label) }
                        @match kind {
                            Kind::Choice(words) => (choice(&id, key, &about, &value, words.iter().map(|w| (*w, *w)))),
                            Kind::Spectrum => {
                                @let known = self.spectra.iter().map(|k| (k.as_str(), k.as_str()));
                                (choice(&id, key, &about, &value, std::iter::once(("", "not known: a usual white LED")).chain(known)))
                            }
                            Kind::Outline => textarea id=(id) data-key=(key) aria-describedby=(about) spellcheck="false" rows="5" { (value) },
                            Kind::Words => input id=(id) type="text" value=(list(&value)) data-key=(key) aria-describedby=(about)
                                autocomplete="off" spellcheck="false";,
                            _ => input id=(id) type="text" value=(value) data-key=(key) aria-describedby=(about)
                                data-shapes[shapes] autocomplete="off" spellcheck="false";,
                        }
                    }
                }
                @if !field.hint.is_empty() { p.hint id=(hint) { (field.hint) } }
                p.wrong id=(wrong) {}
            }
        }
    }
}

fn full(table: &str, key: &str) -> String {
    if table.is_empty() { key.to_owned() } else { format!("{table}.{key}") }
}

/// A list on one line.
fn list(value: &str) -> String {
    value.lines().collect::<Vec<_>>().join(", ")
}

/// A choice; what the file says stays choosable even when it is none of the words.
fn choice<'a>(
    id: &str,
    key: &str,
    about: &str,
    value: &str,
    words: impl Iterator<Item = (&'a str, &'a str)>,
) -> Markup {
    let words: Vec<(&str, &str)> = words.collect();
    let known = words.iter().any(|(word, _)| *word == value);
    html! {
        select id=(id) data-key=(key) aria-describedby=(about) {
            @if !known && !value.is_empty() { option value=(value) selected { (value) } }
            @for (word, label) in words { option value=(word) selected[word == value] { (label) } }
        }
    }
}
