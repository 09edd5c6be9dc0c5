//! One way of reducing what people write to what is compared: for names and for words alike.

/// The words of a text: case, accents, apostrophes and punctuation gone, the hybrid sign too.
///
/// `"Échinodorus × 'Ozelot'"` gives `echinodorus`, `ozelot`; `"H'Ra"` gives `hra`.
pub(super) fn words(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word = String::new();
    let mut end = |word: &mut String| {
        if !word.is_empty() {
            words.push(std::mem::take(word));
        }
    };
    for c in text.chars() {
        match c {
            'a'..='z' | '0'..='9' => word.push(c),
            'A'..='Z' => word.push(c.to_ascii_lowercase()),
            // An apostrophe joins (`parrot's`), as does an accent typed on its own.
            '\'' | '’' | '‘' | 'ʼ' | '`' | '´' | '\u{300}'..='\u{36f}' => {}
            '×' | '✕' | '⨯' => end(&mut word),
            c if c.is_alphanumeric() => {
                let plain = deunicode::deunicode_char(c).unwrap_or_default();
                word.extend(
                    plain.chars().filter(char::is_ascii_alphanumeric).map(|c| c.to_ascii_lowercase()),
                );
            }
            _ => end(&mut word),
        }
    }
    end(&mut word);
    // A lone x is a hybrid sign typed on a keyboard, unless it is all there is.
    if words.iter().any(|w| w != "x") {
        words.retain(|w| w != "x");
    }
    words
}

/// A word without its plural ending. Latin words lose an `s` too (`anubias`, `natans`); as it
/// is done to both sides of every comparison, that does no harm.
pub(super) fn stem(word: &str) -> String {
    if matches!(word, "leaves" | "leaved" | "leafed") {
        return "leaf".to_owned();
    }
    let mut word = word;
    // `mosses`, `grasses`, `bushes`, `anubiases`; the last leaves an `s` for the next step.
    if let Some(cut) = word.strip_suffix("es")
        && cut.len() >= 3
        && ["ss", "sh", "ch", "x", "as"].iter().any(|end| cut.ends_with(end))
    {
        word = cut;
    }
    if word.len() > 4
        && let Some(cut) = word.strip_suffix("ies")
    {
        return format!("{cut}y");
    }
    match word.strip_suffix('s') {
        Some(cut) if cut.len() >= 3 && !["s", "u", "i"].iter().any(|end| cut.ends_with(end)) => {
            cut.to_owned()
        }
        _ => word.to_owned(),
    }
}

/// The words run together: `java fern`, `java-fern` and `javafern` are one.
pub(super) fn compact(words: &[String]) -> String {
    words.concat()
}
