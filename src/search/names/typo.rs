//! Names with one or two typos.

use super::super::fold;
use super::distance::Pattern;
use super::entry::{self, Entry};
use super::{How, Resolution, Resolver};

/// A taxon is meant only when every other taxon is this many typos further off.
const MARGIN: usize = 2;

/// How many typos a text of this many letters may have.
fn allowed(letters: usize) -> usize {
    match letters {
        0..=4 => 0,
        5..=8 => 1,
        _ => 2,
    }
}

/// How many typos a single word may have: short words are too like one another.
fn allowed_in_word(letters: usize) -> usize {
    match letters {
        0..=3 => 0,
        4..=7 => 1,
        _ => 2,
    }
}

impl Resolver {
    /// The name that is meant but for typos: alone within reach, or candidates.
    pub(super) fn typo(&self, words: &[String]) -> Option<Resolution> {
        let asked = Asked::new(words);
        let mut found: Vec<(usize, usize)> = Vec::new();
        for (i, entry) in self.entries.iter().enumerate() {
            found.extend(asked.typos(entry).map(|typos| (typos, i)));
        }
        let acceptable = |i: usize, typos: usize| asked.plausible(&self.entries[i], typos);
        let least =
            found.iter().filter(|(typos, i)| acceptable(*i, *typos)).map(|(typos, _)| *typos).min()?;
        let within = |most: usize| -> Vec<usize> {
            found.iter().filter(|(typos, _)| *typos <= most).map(|(_, i)| *i).collect()
        };
        let nearest: Vec<usize> = within(least).into_iter().filter(|i| acceptable(*i, least)).collect();
        let decided = self.decide(&nearest, words, |_| How::Typo(least))?;
        // Others nearly as near: not certain.
        match (&decided, self.weigh(&within(least + MARGIN - 1), words, |_| How::Typo(least))) {
            (Resolution::One { taxon, .. }, Some(Resolution::One { taxon: other, .. }))
                if *taxon == other =>
            {
                Some(decided)
            }
            (Resolution::One { .. }, Some(Resolution::Several { candidates })) => {
                Some(Resolution::Several { candidates })
            }
            _ => Some(decided),
        }
    }
}

/// The shortest genus that typos are looked for in.
const GENUS_LETTERS: usize = 6;

impl Resolver {
    /// A genus alone with a typo, or as another language writes it: `Bucephelandra`,
    /// `elódea`. One genus only, and several taxa: a genus misspelt is no certainty.
    pub(super) fn genus_typo(&self, words: &[String]) -> Option<Resolution> {
        let [word] = words else { return None };
        let pattern = Pattern::new(word);
        if pattern.len() < GENUS_LETTERS {
            return None;
        }
        let mut near: Vec<(usize, &str)> = Vec::new();
        for genus in self.entries.iter().filter(|e| e.scientific && e.words.len() > 1).map(|e| &e.words[0]) {
            let typos = pattern.distance(genus);
            if typos <= allowed_in_word(word.len().min(genus.len())) && !near.iter().any(|(_, g)| g == genus)
            {
                near.push((typos, genus));
            }
        }
        near.sort_unstable();
        let (genus, more) = match near.as_slice() {
            [(_, only)] => (*only, None),
            [(least, first), (next, _), ..] => (*first, Some(least == next)),
            [] => return None,
        };
        if more == Some(true) {
            return None;
        }
        let genus = [genus.to_owned()];
        let all = self.genus(&genus, &[fold::stem(&genus[0])]);
        all.filter(|r| matches!(r, Resolution::Several { .. }))
    }
}

/// A text in the forms that are compared.
struct Asked<'a> {
    words: &'a [String],
    /// As it stands, and with its words as stems in the order of the alphabet.
    forms: [Pattern; 2],
    letters: [entry::Letters; 2],
    /// The letter of an abbreviated genus, and the words after it.
    abbreviated: Option<(&'a str, Pattern)>,
}

impl<'a> Asked<'a> {
    fn new(words: &'a [String]) -> Self {
        let stems: Vec<String> = words.iter().map(|w| fold::stem(w)).collect();
        let (compact, sorted) = (fold::compact(words), entry::sorted(&stems));
        let abbreviated = match words {
            [genus, rest @ ..] if genus.len() == 1 && !rest.is_empty() => {
                Some((genus.as_str(), Pattern::new(&fold::compact(rest))))
            }
            _ => None,
        };
        let letters = [entry::letters(&compact), entry::letters(&sorted)];
        Self { words, forms: [Pattern::new(&compact), Pattern::new(&sorted)], letters, abbreviated }
    }

    /// How many typos lie between the text and a name; `None` when certainly too many to
    /// matter, even as a rival.
    fn typos(&self, entry: &Entry) -> Option<usize> {
        let most = allowed(self.forms[0].len()) + MARGIN - 1;
        let forms = self.forms.iter().zip([&entry.compact, &entry.sorted]);
        let bounds = self.letters.iter().zip(&entry.letters).map(|(a, b)| entry::least_edits(a, b));
        let near = bounds.zip(forms).filter(|(bound, _)| *bound <= most);
        let typos = near.map(|(_, (ours, theirs))| ours.distance(theirs));
        typos.chain(self.abbreviated_typos(entry)).min().filter(|typos| *typos <= most)
    }

    /// `C. wendti` against the epithets of names with that initial.
    fn abbreviated_typos(&self, entry: &Entry) -> Option<usize> {
        let (initial, rest) = self.abbreviated.as_ref()?;
        let (genus, epithets) = entry.words.split_first().filter(|_| entry.scientific)?;
        let near = genus.starts_with(initial) && !epithets.is_empty();
        near.then(|| rest.distance(&fold::compact(epithets)))
    }

    /// Whether a distance can be typos: not too many for the length of the text, nor for any
    /// one word of it.
    fn plausible(&self, entry: &Entry, typos: usize) -> bool {
        let compared = match &self.abbreviated {
            Some((_, rest)) if entry.scientific => rest.len(),
            _ => self.forms[0].len().min(entry.compact.len()),
        };
        // The initial of a listed `H. leucocephala` is no slip of who writes `leucocephala`.
        if entry.words[0].len() == 1 && self.words[0].len() > 1 {
            return false;
        }
        let shift = usize::from(self.abbreviated.is_some());
        let (ours, theirs) = (&self.words[shift..], entry.words.get(shift..).unwrap_or_default());
        let same_count = ours.len() == theirs.len();
        let in_place = || ours.iter().zip(theirs).all(|(a, b)| like(a, b));
        let words = !same_count || in_place() || same_words_moved(ours, theirs);
        // Two slips in one epithet, or slips that also move a blank, are as often another
        // species: japonica and javanica are both real.
        let epithets = ours.iter().zip(theirs).skip(1 - shift);
        let certain =
            !entry.scientific || if same_count { epithets.into_iter().all(same_epithet) } else { typos < 2 };
        typos <= allowed(compared) && words && certain
    }
}

/// Whether an epithet is meant by another spelling of it. One slip may be anything; two are
/// believed in a long epithet that begins alike, or when both sound the same.
fn same_epithet((a, b): (&String, &String)) -> bool {
    let slips = strsim::osa_distance(a, b);
    let long =
        a.len().min(b.len()) >= 10 && a.bytes().zip(b.bytes()).take_while(|(x, y)| x == y).count() >= 3;
    slips < 2 || long || strsim::osa_distance(&sound(a), &sound(b)) < 2
}

/// An epithet with the spellings that Latin and Greek names vary in made one: `ae` and `oe`,
/// `ph`, `th`, `rh`, `ch`, `y`, `j`, `k`, and doubled consonants.
fn sound(word: &str) -> String {
    let mut plain = word.to_owned();
    for (from, to) in [("ae", "e"), ("oe", "e"), ("ph", "f"), ("th", "t"), ("rh", "r"), ("ch", "c")] {
        plain = plain.replace(from, to);
    }
    let mut sound = String::new();
    for c in plain.chars() {
        let c = match c {
            'y' | 'j' => 'i',
            'k' => 'c',
            other => other,
        };
        if "aeiou".contains(c) || !sound.ends_with(c) {
            sound.push(c);
        }
    }
    sound
}

/// Whether two words are one but for typos, with or without their plural endings.
fn like(a: &str, b: &str) -> bool {
    let near = |a: &str, b: &str| {
        let (short, long) = (a.len().min(b.len()), a.len().max(b.len()));
        // A word of four letters may lose one.
        let letters = if (short, long) == (3, 4) { long } else { short };
        strsim::osa_distance(a, b) <= allowed_in_word(letters)
    };
    near(a, b) || near(&fold::stem(a), &fold::stem(b))
}

/// Whether each word has a counterpart in another place: `fern jva` for `java fern`.
fn same_words_moved(ours: &[String], theirs: &[String]) -> bool {
    let mut left: Vec<&String> = theirs.iter().collect();
    ours.iter().all(|word| {
        let place = left.iter().position(|other| like(word, other));
        place.map(|p| left.swap_remove(p)).is_some()
    })
}
