//! What is wrong with a file: a code, words, advice and the place, rendered for people and programs.

mod lines;
mod render;
#[cfg(test)]
mod tests;

pub use lines::Lines;

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// A place in a file, cheap to clone.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Where {
    /// The file's name as shown to the user.
    pub file: Arc<str>,
    /// First byte.
    pub start: usize,
    /// Byte after the last.
    pub end: usize,
    /// Line, from 1.
    pub line: u32,
    /// Column in characters, from 1.
    pub column: u32,
}

impl fmt::Display for Where {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.file, self.line, self.column)
    }
}

/// A value together with the place where it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Written<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub place: Where,
}

impl<T> Written<T> {
    /// A value at a place.
    pub fn new(value: T, place: Where) -> Self {
        Written { value, place }
    }
}

impl<T> std::ops::Deref for Written<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Stable code, such as "unknown-key".
    pub code: &'static str,
    /// What is wrong, with the value.
    pub message: String,
    /// What to do about it.
    pub help: Option<String>,
    /// Where, if it is about a place in a file.
    pub place: Option<Where>,
}

impl Problem {
    /// A problem at a place.
    pub fn new(code: &'static str, place: &Where, message: impl Into<String>) -> Self {
        Problem { code, message: message.into(), help: None, place: Some(place.clone()) }
    }

    /// A problem that belongs to no place in a file.
    pub fn nowhere(code: &'static str, message: impl Into<String>) -> Self {
        Problem { code, message: message.into(), help: None, place: None }
    }

    /// Adds what to do about it.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = &self.place {
            write!(f, "{place}: ")?;
        }
        write!(f, "{} [{}]", self.message, self.code)?;
        match &self.help {
            Some(help) => write!(f, " ({help})"),
            None => Ok(()),
        }
    }
}

impl std::error::Error for Problem {}

/// All problems found, with the texts of the files they point into.
#[derive(Clone, Debug, Default)]
pub struct Problems {
    list: Vec<Problem>,
    texts: BTreeMap<Arc<str>, Arc<str>>,
}

impl Problems {
    /// None yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Remembers a file's text, so that its lines can be shown.
    pub fn add_text(&mut self, file: &Arc<str>, text: &Arc<str>) {
        self.texts.insert(file.clone(), text.clone());
    }

    /// Adds one.
    pub fn push(&mut self, problem: Problem) {
        self.list.push(problem);
    }

    /// Takes over all of `other`.
    pub fn append(&mut self, other: Problems) {
        self.list.extend(other.list);
        self.texts.extend(other.texts);
    }

    /// Leaves out those of a code.
    pub fn forget(&mut self, code: &str) {
        self.list.retain(|p| p.code != code);
    }

    /// The same, each problem once.
    pub fn without_repeats(mut self) -> Problems {
        let mut seen: Vec<Problem> = Vec::new();
        for p in self.list {
            if !seen.contains(&p) {
                seen.push(p);
            }
        }
        self.list = seen;
        self
    }

    /// Whether something is told of a place within this one.
    pub fn within(&self, whole: &Where) -> bool {
        let places = self.list.iter().filter_map(|p| p.place.as_ref());
        places.into_iter().any(|p| p.file == whole.file && whole.start <= p.start && p.end <= whole.end)
    }

    /// True when nothing is wrong.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// All of them in the order of file and place; those without a place come first.
    pub fn sorted(&self) -> Vec<&Problem> {
        let mut all: Vec<&Problem> = self.list.iter().collect();
        all.sort_by(|a, b| a.place.cmp(&b.place).then(a.code.cmp(b.code)).then(a.message.cmp(&b.message)));
        all.dedup();
        all
    }

    /// `value` when nothing is wrong, else all problems.
    pub fn or<T>(self, value: T) -> Result<T, Problems> {
        if self.is_empty() { Ok(value) } else { Err(self) }
    }
}

impl From<Problem> for Problems {
    fn from(problem: Problem) -> Self {
        Problems { list: vec![problem], texts: BTreeMap::new() }
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for problem in self.sorted() {
            writeln!(f, "{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Problems {}

/// The candidate most like `word`, if one is near enough to be a likely slip.
pub fn did_you_mean<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // A long run of rubbish is like nothing, and comparing it costs its length times theirs.
    if word.chars().count() > 60 {
        return None;
    }
    let plain = |s: &str| s.to_lowercase().replace(['_', ' '], "-");
    let wanted = plain(word);
    let mut best: Option<(f64, &str)> = None;
    for candidate in candidates {
        let other = plain(candidate);
        let near = match strsim::damerau_levenshtein(&wanted, &other) {
            0 => 2.0,
            n if n <= 1 + wanted.chars().count() / 4 => strsim::jaro_winkler(&wanted, &other).max(0.5),
            _ => strsim::jaro_winkler(&wanted, &other),
        };
        let close = near >= 0.85
            || (near >= 0.5
                && strsim::damerau_levenshtein(&wanted, &other) <= 1 + wanted.chars().count() / 4);
        if close && best.is_none_or(|(score, _)| near > score) {
            best = Some((near, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}
