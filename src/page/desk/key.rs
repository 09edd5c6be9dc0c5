//! The full name of a value in a tank file: `glass.water`, `zone[1].from_front`, `light.lamp[0].at[1]`.

use std::fmt;

/// A name with an optional place in a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::page) struct Step {
    pub name: String,
    pub index: Option<usize>,
}

/// A full name; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::page) struct Key(Vec<Step>);

impl Key {
    /// Reads a key; `None` when the text is none.
    pub fn parse(text: &str) -> Option<Self> {
        text.split('.').map(step).collect::<Option<Vec<Step>>>().map(Self)
    }

    /// The tables to walk through, and the value's own name in the last of them.
    pub fn split(&self) -> (&[Step], Option<&Step>) {
        self.0.split_last().map_or((&[], None), |(last, tables)| (tables, Some(last)))
    }

    /// The key with every index left open: `zone[].from_front`.
    pub fn pattern(&self) -> String {
        let step = |s: &Step| format!("{}{}", s.name, if s.index.is_some() { "[]" } else { "" });
        self.0.iter().map(step).collect::<Vec<_>>().join(".")
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, step) in self.0.iter().enumerate() {
            let dot = if i > 0 { "." } else { "" };
            write!(f, "{dot}{}", step.name)?;
            if let Some(index) = step.index {
                write!(f, "[{index}]")?;
            }
        }
        Ok(())
    }
}

fn step(text: &str) -> Option<Step> {
    let (name, index) = match text.split_once('[') {
        None => (text, None),
        Some((name, rest)) => {
            let digits = rest.strip_suffix(']')?;
            let plain = !digits.is_empty() && digits.len() <= 4 && digits.bytes().all(|b| b.is_ascii_digit());
            (name, Some(digits.parse().ok().filter(|_| plain)?))
        }
    };
    let bare = |b: u8| b.is_ascii_alphanumeric() || b == b'_' || b == b'-';
    let named = !name.is_empty() && name.bytes().all(bare);
    named.then(|| Step { name: name.to_owned(), index })
}

#[cfg(test)]
mod tests {
    use super::Key;

    #[test]
    fn keys_read_back_as_they_are_written() {
        for text in ["name", "glass.water", "zone[12].from_front", "light.lamp[0].at[1]"] {
            assert_eq!(Key::parse(text).map(|k| k.to_string()).as_deref(), Some(text));
        }
        assert_eq!(Key::parse("light.lamp[3].at[1]").expect("a key").pattern(), "light.lamp[].at[]");
        for text in ["", "a..b", "zone[", "zone[]", "zone[x]", "zone[00001]", "zone[1]x", "a b", "zone[-1]"] {
            assert_eq!(Key::parse(text), None, "{text}");
        }
    }
}
