//! Names that point at other things: `item`, `item.port`, `control.link`.

use crate::define::Text;
use crate::diag::{Problem, Written, did_you_mean};
use crate::panel::{Exempt, Exempted, PartRef, Space, SubjectKind};
use crate::resolve::merge::Merged;
use crate::resolve::scene::{Scene, number};

impl Scene<'_, '_> {
    /// The subject of a name; one that is not there is told.
    pub(super) fn named_subject(&mut self, id: &str, said: &Written<Text>) -> Option<usize> {
        if let Some(k) = self.subjects.iter().position(|s| s.id == id) {
            return Some(k);
        }
        // what could not be built has been told of
        let text = Text::from(id);
        let known = self.merged.known(&text);
        if known || self.merged.unsure(&text) {
            return None;
        }
        let help = match did_you_mean(id, self.subjects.iter().map(|s| s.id.as_str())) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "name an item of this panel by its id".to_string(),
        };
        let message = format!("there is no item `{id}` on this panel");
        self.problems.push(Problem::new("unknown-id", &said.place, message).help(help));
        None
    }

    /// A part of a subject by its name, with or without `prefix`; one that is not there is told.
    pub(super) fn named_part(
        &mut self,
        subject: usize,
        part: &str,
        prefix: &str,
        said: &Written<Text>,
    ) -> Option<PartRef> {
        let s = self.subjects.get(subject)?;
        let whole = format!("{prefix}{part}");
        let found = s.parts.iter().position(|p| p.name == whole || p.name == part);
        if let Some(k) = found {
            return Some(PartRef { subject: number(subject), part: number(k) });
        }
        if s.missing.iter().any(|(name, _)| *name == whole || name == part) || self.problems.within(&s.place)
        {
            return None;
        }
        let names: Vec<&str> = s
            .parts
            .iter()
            .filter(|p| p.name.starts_with(prefix))
            .map(|p| p.name.get(prefix.len()..).unwrap_or(""))
            .collect();
        let what = if prefix.is_empty() { "part" } else { "port" };
        let help = match did_you_mean(part, names.iter().copied()) {
            Some(near) => format!("did you mean \"{}.{near}\"?", s.id),
            None if names.is_empty() => format!("`{}` has none", s.id),
            None => format!("`{}` has: {}", s.id, names.join(", ")),
        };
        let message = format!("`{}` has no {what} `{part}`", s.id);
        self.problems.push(Problem::new("unknown-id", &said.place, message).help(help));
        None
    }

    /// What links pass through or bear in.
    pub(super) fn bearings(&mut self, space: &mut Space) {
        let m: &Merged<'_> = self.merged;
        for from in &m.space.controls {
            let def = from.def;
            let Some(control) = self.subjects.iter().position(|s| s.id == def.id.value.as_ref()) else {
                continue;
            };
            for link in &def.links {
                let Some(index) = super::controls::link(space, control, &link.id.value) else { continue };
                for said in &link.runs_in {
                    let found = self.bearing(said, space);
                    for from in found.into_iter().flat_map(|f| self.with_layers(f)) {
                        space.exempt.push(Exempt { link: index, from, place: said.place.clone() });
                    }
                }
            }
        }
    }

    /// What passes through a sheet passes through the layers on it.
    fn with_layers(&self, found: Exempted) -> Vec<Exempted> {
        let mut all = vec![found];
        if let Exempted::Subject(subject) = found
            && let Some(k) = self.sheets.iter().position(|s| s.subject == subject)
        {
            let layers = self.sheets.iter().filter(|s| s.layer_of == Some(k));
            all.extend(layers.map(|s| Exempted::Subject(s.subject)));
        }
        all
    }

    fn bearing(&mut self, said: &Written<Text>, space: &Space) -> Option<Exempted> {
        let name = said.value.as_ref();
        let (id, part) = name.split_once('.').map_or((name, None), |(id, part)| (id, Some(part)));
        let subject = self.named_subject(id, said)?;
        let Some(part) = part else { return Some(Exempted::Subject(number(subject))) };
        let moves = self.subjects.get(subject).is_some_and(|s| s.kind == SubjectKind::Control);
        match super::controls::link(space, subject, part).filter(|_| moves) {
            Some(link) => Some(Exempted::Link(link)),
            None => self.named_part(subject, part, "", said).map(Exempted::Part),
        }
    }
}
