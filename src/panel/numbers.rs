//! Single numbers of one item: what its definition says, and what the panel's file says in place of that.

use super::SizeSource;

/// A number of one item in place of its definition's.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnNumber {
    /// Where it stands in the definition (`bodies.can.to`).
    pub path: String,
    /// As written, with its tolerance.
    pub written: String,
    /// What the definition says; `None`: nothing.
    pub was: Option<String>,
    /// The name of its source in the panel's file.
    pub named: String,
    /// Where it comes from; its place is that in the panel's file.
    pub source: SizeSource,
}

/// A number of an item, said or not.
#[derive(Clone, Debug, PartialEq)]
pub struct NumberLine {
    /// Where it stands in the definition.
    pub path: String,
    /// What the definition says and where that comes from; `None`: it says nothing.
    pub stated: Option<(String, SizeSource)>,
    /// What is said of this item alone.
    pub own: Option<OwnNumber>,
}

impl NumberLine {
    /// As it holds, with its tolerance; `None`: nobody says it.
    pub fn holds(&self) -> Option<&str> {
        let stated = self.stated.as_ref().map(|(words, _)| words.as_str());
        self.own.as_ref().map(|o| o.written.as_str()).or(stated)
    }

    /// Where what holds comes from.
    pub fn source(&self) -> Option<&SizeSource> {
        let stated = self.stated.as_ref().map(|(_, source)| source);
        self.own.as_ref().map(|o| &o.source).or(stated)
    }
}
