//! Where sizes come from, in one line.

use crate::define::instrument::{Basis as Said, Instrument, Source};
use crate::define::{Panel, Size, Text};
use crate::panel::{Basis, SizeSource};

/// The sources of one file.
pub(in crate::resolve) struct Sources<'a> {
    list: &'a [Source],
    general: Option<Text>,
    /// What a size rests on that names no source at all.
    unnamed: SizeSource,
}

impl<'a> Sources<'a> {
    /// Of an instrument's file. A size without a source is no better than a typical one.
    pub fn of_instrument(def: &'a Instrument) -> Sources<'a> {
        Sources {
            list: &def.sources,
            general: def.source.as_ref().map(|s| s.value.clone()),
            unnamed: SizeSource { basis: Basis::Typical, words: "no source named".into(), place: None },
        }
    }

    /// Of a panel's file. A size without a source is the user's own.
    pub fn of_panel(def: &'a Panel) -> Sources<'a> {
        Sources {
            list: &def.sources,
            general: def.source.as_ref().map(|s| s.value.clone()),
            unnamed: SizeSource { basis: Basis::File, words: "the panel's own file".into(), place: None },
        }
    }

    /// The source of a name, or of the nearest name around it.
    pub fn named(&self, name: Option<&Text>) -> SizeSource {
        let Some(name) = name.or(self.general.as_ref()) else { return self.unnamed.clone() };
        match self.list.iter().find(|s| s.name == *name) {
            Some(s) => SizeSource { basis: basis(s.basis.value), words: words(s).into(), place: None },
            None => self.unnamed.clone(),
        }
    }

    /// The source of one size.
    pub fn of(&self, size: &Size) -> SizeSource {
        SizeSource { place: Some(size.place.clone()), ..self.named(size.source.as_ref()) }
    }

    /// The weakest source of several sizes; of the general one if there are none.
    pub fn weakest<'b>(&self, sizes: impl IntoIterator<Item = &'b Size>) -> SizeSource {
        let all = sizes.into_iter().map(|s| self.of(s));
        all.reduce(weaker).unwrap_or_else(|| self.named(None))
    }
}

/// The weaker of two; the user's own word is not weak.
pub(super) fn weaker(a: SizeSource, b: SizeSource) -> SizeSource {
    let rank = |s: &SizeSource| if s.basis == Basis::File { None } else { Some(s.basis) };
    if rank(&b) > rank(&a) { b } else { a }
}

fn basis(said: Said) -> Basis {
    match said {
        Said::Maker => Basis::Maker,
        Said::Measured => Basis::Measured,
        Said::Standard => Basis::Standard,
        Said::Practice => Basis::Practice,
        Said::Typical => Basis::Typical,
        Said::Invented => Basis::Invented,
    }
}

fn words(s: &Source) -> String {
    let standing = match s.basis.value {
        Said::Maker => "maker's drawing",
        Said::Measured => "measured",
        Said::Standard => "standard",
        Said::Practice => "common practice",
        Said::Typical => "typical, measure yours",
        Said::Invented => "invented for the demo",
    };
    let said: Vec<&str> =
        [&s.document, &s.revision, &s.who, &s.when].into_iter().flatten().map(|t| t.value.as_ref()).collect();
    if said.is_empty() { standing.into() } else { format!("{standing}: {}", said.join(", ")) }
}
