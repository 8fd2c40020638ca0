//! Placed items as subjects with their parts.

use super::catalogue::Entry;
use super::instrument::Built;
use super::items::{Item, Kind, LabelLine, is, turn};
use super::lettering;
use super::merge::Merged;
use super::place::{Ready, ReadyUnit};
use super::scene::{Scene, Stand, number};
use crate::define::panel::Placed;
use crate::define::{Size, Text};
use crate::diag::{Problem, Where, did_you_mean};
use crate::geom::{Contour, Point};
use crate::panel::{Basis, Class, Detail, Facts, Hung, SizeSource, StackUnit, State, Subject, SubjectKind};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// By more than this nothing that is screwed to a panel droops, degrees.
const MOST_DROOP: f64 = 30.0;

impl Scene<'_, '_> {
    /// Makes the subjects of all placed items, in the order of the files.
    pub fn put_items(&mut self, ready: &[Ready]) {
        let m: &Merged<'_> = self.merged;
        for r in ready {
            let item = &m.items[r.item];
            let sheet = self.sheet_of(item);
            let Some(sheet) = sheet else { continue };
            let stand =
                Stand { at: r.at, turn: turn(&item.placed), mirrored: is(&item.placed.mirrored), sheet };
            match &item.kind {
                // labels come last, when everything that they name is there
                Kind::Label(_) => {}
                Kind::Placement | Kind::Stack(_) => {
                    let Some(entry) = &r.entry else { continue };
                    self.put_instrument(item, &stand, entry, &r.units);
                }
            }
        }
    }

    /// Makes the labels.
    pub fn put_labels(&mut self, ready: &[Ready]) {
        let m: &Merged<'_> = self.merged;
        let mut of: BTreeMap<Text, Text> = BTreeMap::new();
        let labels: BTreeSet<&Text> =
            m.items.iter().filter(|i| matches!(i.kind, Kind::Label(_))).map(|i| &i.id.value).collect();
        let mut known: BTreeSet<Text> = m.items.iter().map(|i| i.id.value.clone()).collect();
        known.extend(self.subjects.iter().map(|s| Text::from(s.id.as_str())));
        for item in &m.items {
            for label in &item.placed.labels {
                if labels.contains(&label.value) {
                    of.insert(label.value.clone(), item.id.value.clone());
                    continue;
                }
                if m.unsure(&label.value) {
                    continue;
                }
                let help = match did_you_mean(&label.value, labels.iter().map(|l| l.as_ref())) {
                    Some(near) => format!("did you mean \"{near}\"?"),
                    None => {
                        "add it to \"labels\", or write the lettering itself: \"label\": \"PITOT\"".into()
                    }
                };
                let message = format!("there is no label `{}`", label.value);
                self.problems.push(Problem::new("unknown-id", &label.place, message).help(help));
            }
        }
        for r in ready {
            let item = &m.items[r.item];
            let Kind::Label(line) = &item.kind else { continue };
            let Some(sheet) = self.sheet_of(item) else { continue };
            let stand = Stand { at: r.at, turn: turn(&item.placed), mirrored: false, sheet };
            let named = match &line.of {
                Some(named) => {
                    if named.value == item.id.value {
                        let message = format!("the label `{}` names itself", named.value);
                        let help = "name the item that the lettering belongs to, or leave the key out";
                        self.problems.push(Problem::new("names-itself", &named.place, message).help(help));
                    }
                    self.named_item(&named.value, &named.place, &known);
                    Some(named.value.to_string())
                }
                None => of.get(&item.id.value).map(|t| t.to_string()),
            };
            self.put_label(item, line, &stand, named);
        }
    }

    /// Tells a name that no item bears; one that could not be placed has been told of.
    fn named_item(&mut self, id: &Text, place: &Where, known: &BTreeSet<Text>) {
        if known.contains(id) || self.merged.unsure(id) {
            return;
        }
        let help = match did_you_mean(id, known.iter().map(|k| k.as_ref())) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "a label names an item of this panel by its id".into(),
        };
        let message = format!("there is no item `{id}` on this panel");
        self.problems.push(Problem::new("unknown-id", place, message).help(help));
    }

    fn put_label(&mut self, item: &Item, line: &LabelLine, stand: &Stand, of: Option<String>) {
        let height = line.height.as_ref().map(Size::mm).unwrap_or_else(|| {
            self.remark(format!(
                "labels without a height are taken {} high, by default",
                crate::units::fmt_mm(lettering::HEIGHT)
            ));
            lettering::HEIGHT
        });
        let (w, h) = lettering::room(&line.text.value, height);
        let contour = stand.transform().contour(&Contour::rect(Point::ORIGIN, w, h, 0.0));
        let id = item.id.value.as_ref();
        let state = self.state(id, item.file, item.kept_by, stand, &line.text.value, &item.place);
        let index = self.subjects.len();
        let title = line.text.value.to_string();
        let mut s =
            self.subject(id, SubjectKind::Label, title.clone(), stand.at, stand.sheet, state, &item.place);
        s.turn = stand.turn;
        s.locked = is(&item.placed.locked);
        let mut part =
            self.file_part("", Class::Label, contour, stand.at, stand.sheet, state, index, &item.place);
        part.detail =
            Detail::Label { text: title, height, process: line.process.as_ref().map(|p| p.to_string()), of };
        s.parts.push(part);
        self.subjects.push(s);
    }

    fn sheet_of(&mut self, item: &Item) -> Option<usize> {
        let on = item.placed.on.as_ref().map(|o| (o.value.clone(), o.place.clone()));
        self.sheet_named(on.as_ref())
    }

    fn put_instrument(&mut self, item: &Item, stand: &Stand, entry: &Entry, units: &[ReadyUnit]) {
        let name = item.instrument.as_ref();
        let place = name.map_or(&item.place, |n| &n.place);
        if matches!(item.kind, Kind::Placement)
            && !entry.built.has_opening()
            && !lies_flat(&entry.built.facts.kind)
        {
            let what = name.map_or("this instrument", |n| n.value.as_ref());
            let (message, help) = if entry.def.unit_of_stack.is_some() {
                (format!("{what} is a unit of a stack"), "list it among the \"units\" of a stack")
            } else {
                (
                    format!("{what} has no opening: there is nothing to cut for {}", item.id.value),
                    "give its definition \"openings\" or \"holes\"; a zone keeps room without an opening",
                )
            };
            self.problems.push(Problem::new("no-opening", place, message).help(help));
        }
        let id = item.id.value.as_ref();
        let what = &entry.built.facts.instrument;
        let state = self.state(id, item.file, item.kept_by, stand, what, &item.place);
        let words = title(&item.placed, &entry.built.facts);
        let kind = SubjectKind::Placement;
        let index = self.subjects.len();
        let mut s = self.instrument(id, kind, words, stand, &entry.built, state, &item.placed, &item.place);
        let first = number(index + 1);
        s.units = first..first + number(units.len());
        if units.is_empty() {
            s.units = 0..0;
        }
        self.subjects.push(s);
        let frame = entry.built.facts.frame.clone();
        for u in units {
            let stand = Stand { at: u.at, ..*stand };
            let place = &u.unit.place;
            let kept = if is(&u.unit.placed.kept) { Some(item.file) } else { item.kept_by };
            let mut unit = match &u.entry {
                Some(e) => {
                    let what = &e.built.facts.instrument;
                    let state = self.state(&u.id, item.file, kept, &stand, what, place);
                    let title = title(&u.unit.placed, &e.built.facts);
                    self.instrument(
                        &u.id,
                        SubjectKind::Unit,
                        title,
                        &stand,
                        &e.built,
                        state,
                        &u.unit.placed,
                        place,
                    )
                }
                None => self.room_for_unit(u, &stand, frame.as_ref(), place),
            };
            unit.carrier = Some(number(index));
            self.subjects.push(unit);
        }
    }

    /// Room kept free in a stack.
    fn room_for_unit(
        &mut self,
        u: &ReadyUnit,
        stand: &Stand,
        frame: Option<&crate::panel::StackFrame>,
        place: &Where,
    ) -> Subject {
        let height = u.room.unwrap_or(0.0);
        let width = frame.and_then(|f| match (f.rail_spacing, f.opening_width) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        });
        let title = u.unit.placed.title.as_ref().map_or("kept free".to_string(), |t| t.value.to_string());
        let mut s =
            self.subject(&u.id, SubjectKind::Unit, title.clone(), stand.at, stand.sheet, State::New, place);
        s.provision = true;
        s.turn = stand.turn;
        s.mirrored = stand.mirrored;
        let unit = StackUnit {
            height: Some(height),
            width,
            set_back: frame.and_then(|f| f.set_back),
            lock_room: None,
        };
        s.facts = Some(Arc::new(kept_free(title, unit)));
        if let (Some(w), true) = (width, height > 0.0) {
            let contour = stand.transform().contour(&Contour::rect(Point::ORIGIN, w, height, 0.0));
            let index = self.subjects.len();
            s.parts.push(self.file_part(
                "",
                Class::Provision,
                contour,
                stand.at,
                stand.sheet,
                State::New,
                index,
                place,
            ));
        }
        s
    }

    #[allow(clippy::too_many_arguments)]
    pub fn instrument(
        &mut self,
        id: &str,
        kind: SubjectKind,
        title: String,
        stand: &Stand,
        built: &Built,
        state: State,
        placed: &Placed,
        place: &Where,
    ) -> Subject {
        let index = self.subjects.len();
        let mut s = self.subject(id, kind, title, stand.at, stand.sheet, state, place);
        s.turn = stand.turn;
        s.mirrored = stand.mirrored;
        s.provision = is(&placed.provision);
        s.locked = is(&placed.locked);
        s.critical = is(&placed.critical);
        s.checked = placed.checked.as_ref().map(|c| c.value.to_string());
        s.hung = self.hung(placed);
        let covered = covered(built, stand);
        let faces = self.faces(stand.sheet, &covered);
        let mounting = built.facts.mounting;
        for local in &built.parts {
            let part = self.part(local, stand, mounting, faces, state, index, place);
            if part.depth.is_none()
                && matches!(part.class, Class::Body | Class::Port | Class::Flange | Class::Nut)
                && faces.back.is_none()
                && !matches!(local.span, super::instrument::Span::Missing)
            {
                s.missing.push((part.name.clone(), "the thickness of the metal on which it seats".into()));
            }
            s.parts.push(part);
        }
        s.missing.extend(built.missing.iter().cloned());
        s.facts = Some(built.facts.clone());
        self.note_error(built.error);
        s
    }

    /// What happens to the back of an item.
    fn hung(&mut self, placed: &Placed) -> Option<Hung> {
        if let Some(words) = &placed.rear_support {
            return Some(Hung::Held(words.value.to_string()));
        }
        let droop = placed.droop.as_ref()?;
        let (value, found) = match (droop.number, &droop.length) {
            (Some(degrees), _) => (degrees, Hung::Droop(degrees)),
            (None, length) => {
                let mm = length.as_ref()?.mm();
                (mm, Hung::Sag(mm))
            }
        };
        let degrees = droop.number.is_some();
        if value >= 0.0 && !(degrees && (value > MOST_DROOP || droop.written.trim().ends_with('D'))) {
            return Some(found);
        }
        let message = format!("nothing droops by {}", droop.written);
        let help = format!(
            "give degrees from 0 to {MOST_DROOP}, or the sag of its back end as a length with its unit: \"4 mm\""
        );
        self.problems.push(Problem::new("out-of-range", &droop.place, message).help(help));
        None
    }

    /// Keeps something for the report, once.
    pub fn remark(&mut self, words: String) {
        if !self.remarks.contains(&words) {
            self.remarks.push(words);
        }
    }
}

/// The outline under which the metal counts where an instrument seats: its largest face or opening.
fn covered(built: &Built, stand: &Stand) -> Contour {
    let rank = |class: Class| match class {
        Class::Bezel | Class::Flange => 3,
        Class::Cutout => 2,
        Class::Hole => 1,
        _ => 0,
    };
    let area = |c: &Contour| c.bounds().area();
    let best = built
        .parts
        .iter()
        .max_by(|a, b| rank(a.class).cmp(&rank(b.class)).then(area(&a.contour).total_cmp(&area(&b.contour))));
    match best {
        Some(p) => stand.transform().contour(&p.contour),
        None => Contour::circle(stand.at, 1.0),
    }
}

fn lies_flat(kind: &str) -> bool {
    matches!(kind, "placard" | "blank" | "other")
}

fn title(placed: &Placed, facts: &Facts) -> String {
    placed.title.as_ref().map_or_else(|| facts.title.clone(), |t| t.value.to_string())
}

/// The facts of room kept free.
fn kept_free(title: String, unit: StackUnit) -> Facts {
    Facts {
        instrument: String::new(),
        title,
        kind: "other".into(),
        nominal: None,
        mounting: None,
        service: None,
        accepts: (None, None),
        tilt: None,
        tilt_matters: false,
        control: None,
        needs_label: false,
        mass: None,
        numbers: Vec::new(),
        has_case: true,
        unit: Some(unit),
        frame: None,
        weakest: SizeSource { basis: Basis::File, words: "the panel's own file".into(), place: None },
        unconfirmed: Vec::new(),
        open_terms: Vec::new(),
        ports: Vec::new(),
    }
}
