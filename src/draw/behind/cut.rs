//! What a cutting plane meets: outlines in the plane, sheets with their openings, things beside the plane, and the
//! window that is shown.

use super::section::{BehindError, Cut};
use super::things::{self, Role, Thing};
use super::{page::About, project};
use crate::check::Verdict;
use crate::draw::drawing::flow::{Cells, Piece};
use crate::draw::drawing::number::Print;
use crate::draw::drawing::ordinate::{Collect, Mark};
use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point, Rect};
use crate::panel::{Classes, Panel};
use crate::solid::{Plane, Pose, Shape, Solid, section};

/// How far beside an item its section shows its neighbours, mm.
const BESIDE: f64 = 120.0;
/// Room beyond the outermost thing shown, mm.
const ROOM: f64 = 15.0;
/// How far behind the deepest body an obstacle is still shown, mm.
const BEHIND: f64 = 120.0;
/// How far towards the pilot a section reaches at most, mm.
const FRONT: f64 = 300.0;
/// How far chords may lie off an arc that the window cuts off, mm.
const CHORD: f64 = 0.01;

/// The solids of a panel.
pub struct Scene<'a> {
    panel: &'a Panel,
    things: Vec<Thing>,
    lacking: Vec<(usize, String)>,
}

/// A thing in or beside a plane, in the plane's axes.
pub struct Met<'a> {
    /// The thing.
    pub thing: &'a Thing,
    /// Its name.
    pub name: String,
    /// Its outlines in the plane by the even-odd rule; or how it looks beside the plane.
    pub contours: Vec<Contour>,
    /// The plane cuts it.
    pub cut: bool,
}

/// What a plane shows.
pub struct Found<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Things, those that are cut last.
    pub met: Vec<Met<'a>>,
    /// Cut metal of each sheet: its index, and stretches of it.
    pub sheets: Vec<(usize, Vec<Contour>)>,
    /// Where controls reach at their ends: outlines and whose.
    pub extremes: Vec<(String, Contour)>,
    /// What is shown, in the plane's axes.
    pub window: Rect,
    /// What is not drawn for want of a depth.
    pub lacking: Vec<String>,
    upright: bool,
}

impl<'a> Scene<'a> {
    /// All solids of a panel.
    pub fn of(panel: &'a Panel) -> Scene<'a> {
        Scene { panel, things: things::things(panel), lacking: things::lacking(panel) }
    }

    /// What a plane meets.
    pub fn cut(&'a self, c: &Cut) -> Result<Found<'a>, BehindError> {
        let plane = c.plane();
        let mut met: Vec<Met<'a>> = Vec::new();
        for thing in &self.things {
            let name = self.panel.part_name(thing.part);
            let contours = section(&thing.solid, &plane);
            if !contours.is_empty() {
                met.push(Met { thing, name, contours, cut: true });
                continue;
            }
            let b = thing.solid.bounds();
            let beside = c.across(b.low) < c.slab.1 && c.across(b.high) > c.slab.0;
            if let (true, Some(seen)) = (beside, project::outline(&thing.solid, &plane)) {
                met.push(Met { thing, name, contours: vec![seen], cut: false });
            }
        }
        met.sort_by_key(|m| m.cut);
        let sheets: Vec<(usize, Vec<Contour>)> =
            (0..self.panel.sheets.len()).map(|k| (k, self.sheet(k, &plane))).collect();
        let extremes = self.extremes(&met, &plane);
        let window = self.window(c, &met, &sheets)?;
        let lacking = match c.subject {
            Some(k) => self.lacking.iter().filter(|(s, _)| *s == k).map(|(_, w)| w.clone()).collect(),
            None => self.lacking.iter().map(|(_, w)| w.clone()).collect(),
        };
        let panel = self.panel;
        let mut found = Found { panel, met, sheets, extremes, window, lacking, upright: c.upright };
        found.clip();
        Ok(found)
    }

    /// Metal of a sheet in the plane: its outline's stretches without those of its openings.
    fn sheet(&self, k: usize, plane: &Plane) -> Vec<Contour> {
        let Some(sheet) = self.panel.sheets.get(k) else { return Vec::new() };
        let thick = sheet.thickness.unwrap_or(UNSAID);
        let prism = |c: &Contour| {
            let shape = Shape::Prism { section: c.ccw(), from: sheet.front, to: sheet.front + thick };
            Solid::new(shape, Pose::IDENTITY).map_or(Vec::new(), |s| section(&s, plane))
        };
        let corners = |list: &[Contour]| {
            list.iter().map(|c| polygon(c, Bound::Within, CHORD)).collect::<Vec<Vec<Point>>>()
        };
        let metal = prism(&sheet.outline);
        if metal.is_empty() {
            return metal;
        }
        let of = |at: u32| at as usize == k || sheet.layer_of == Some(at as usize);
        let parts = self.panel.subjects.iter().filter(|s| !s.provision).flat_map(|s| &s.parts);
        let open: Vec<Contour> = parts
            .filter(|p| Classes::OPENINGS.has(p.class) && of(p.sheet))
            .flat_map(|p| prism(&p.contour))
            .collect();
        Area::of(&corners(&metal)).without(&Area::of(&corners(&open))).contours(1e-3)
    }

    /// Outlines of what moves at the ends of each of its drivers, overtravel with them; the others at rest.
    fn extremes(&self, met: &[Met<'_>], plane: &Plane) -> Vec<(String, Contour)> {
        let m = &self.panel.space.mechanism;
        let rest = m.neutral();
        let mut out = Vec::new();
        for one in met {
            let Role::Control(link) = one.thing.role else { continue };
            let back = m.pose(link, &rest).inverse();
            for driver in m.movers(link) {
                let Some((low, high)) = m.drivers.get(driver).map(|d| d.domain()) else { continue };
                for value in [low, high] {
                    let mut at = rest.clone();
                    if let Some(v) = at.get_mut(driver) {
                        *v = value;
                    }
                    let solid = one.thing.solid.moved(&back.then(&m.pose(link, &at)));
                    out.extend(section(&solid, plane).into_iter().map(|c| (one.name.clone(), c)));
                }
            }
        }
        out
    }

    /// The window, in the plane's axes.
    fn window(
        &self,
        c: &Cut,
        met: &[Met<'_>],
        sheets: &[(usize, Vec<Contour>)],
    ) -> Result<Rect, BehindError> {
        // along the sheet and along the depth, whichever axis of the plane they are
        let flip = |r: Rect| if c.upright { Rect::new(r.y0, r.x0, r.y1, r.x1) } else { r };
        let boxes = |m: &Met<'_>| m.contours.iter().map(|c| flip(c.bounds())).collect::<Vec<_>>();
        let metal = sheets.iter().flat_map(|(_, list)| list).map(|c| flip(c.bounds()));
        let own = |m: &Met<'_>| c.subject.is_some_and(|k| m.thing.part.subject as usize == k);
        let solid = |m: &&Met<'_>| matches!(m.thing.role, Role::Body | Role::Port | Role::Nut | Role::Front);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let (mut front, mut deep) = (0.0_f64, 0.0_f64);
        let all = met.iter().filter(solid).flat_map(boxes).chain(metal);
        let mine = met.iter().filter(|m| own(m)).flat_map(boxes);
        let shown: Vec<Rect> = if c.subject.is_some() { mine.collect() } else { all.collect() };
        for b in shown {
            (low, high) = (low.min(b.x0), high.max(b.x1));
            (front, deep) = (front.min(b.y0), deep.max(b.y1));
        }
        if low > high {
            let all = self.things.iter().map(|t| t.solid.bounds());
            let reach = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), o| {
                (a.min(c.across(o.low)), b.max(c.across(o.high)))
            });
            let sheet = self.panel.sheets.first().map(|s| s.outline.bounds()).unwrap_or_default();
            let edge = if c.upright { (sheet.x0, sheet.x1) } else { (sheet.y0, sheet.y1) };
            let line = format!("{} = {}", if c.upright { "x" } else { "y" }, c.at);
            return Err(BehindError::Nothing(line, (reach.0.min(edge.0), reach.1.max(edge.1))));
        }
        if c.subject.is_some() {
            (low, high) = (low - BESIDE, high + BESIDE);
            // no wider than what is there
            let there = met.iter().filter(|m| !matches!(m.thing.role, Role::Obstacle)).flat_map(boxes);
            let metal = sheets.iter().flat_map(|(_, list)| list).map(|c| flip(c.bounds()));
            let reach = there
                .chain(metal)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), o| (a.min(o.x0), b.max(o.x1)));
            (low, high) = (low.max(reach.0), high.min(reach.1));
        }
        let near = |b: &Rect| b.x0 < high && b.x1 > low;
        deep = met.iter().filter(solid).flat_map(boxes).filter(near).fold(deep, |d, b| d.max(b.y1));
        // what is beside the plane and far in front, or far behind everything, needs no paper
        let cut = met.iter().filter(|m| m.cut).flat_map(boxes).filter(near);
        front = cut.fold(front, |f, b| f.min(b.y0.max(-FRONT)));
        let within = met.iter().flat_map(boxes).filter(|b| near(b) && b.y0 < deep + BEHIND);
        deep = within.fold(deep, |d, b| d.max(b.y1.min(b.y0.max(deep) + ROOM)));
        Ok(flip(Rect::new(low - ROOM, front - ROOM, high + ROOM, deep + ROOM)))
    }
}

/// Thickness with which a sheet is drawn whose thickness is not given, mm.
pub const UNSAID: f64 = 1.0;

impl<'a> Found<'a> {
    /// Size of the window, mm.
    pub fn real(&self) -> (f64, f64) {
        (self.window.width(), self.window.height())
    }

    /// Cuts off what reaches beyond the window; what lies beyond it is gone.
    fn clip(&mut self) {
        let w = self.window;
        let within = |list: &mut Vec<Contour>| inside_window(list, w);
        for m in &mut self.met {
            within(&mut m.contours);
        }
        for (_, list) in &mut self.sheets {
            within(list);
        }
        self.met.retain(|m| !m.contours.is_empty());
        let extremes = std::mem::take(&mut self.extremes);
        for (name, c) in extremes {
            let mut one = vec![c];
            within(&mut one);
            self.extremes.extend(one.into_iter().map(|c| (name.clone(), c)));
        }
    }

    /// Depth range of outlines, and their range along the sheet.
    pub fn ranges(&self, contours: &[Contour]) -> Option<((f64, f64), (f64, f64))> {
        let b = contours.iter().map(Contour::bounds).reduce(|a, b| a.union(b))?;
        Some(if self.upright { ((b.x0, b.x1), (b.y0, b.y1)) } else { ((b.y0, b.y1), (b.x0, b.x1)) })
    }

    /// Running dimensions of depth, on the view.
    pub fn depths(&self, print: Print, scale: f64) -> Vec<Mark> {
        let origin =
            if self.upright { (self.window.x0, self.window.y0) } else { (self.window.y0, self.window.x0) };
        let mut all = Collect::default();
        let mut add = |depth: f64, (low, high): (f64, f64), name: &str| {
            let (low, high) = ((low - origin.1) * scale, (high - origin.1) * scale);
            all.add(
                print.key(depth),
                Mark {
                    at: (depth - origin.0) * scale,
                    words: print.number(depth),
                    names: vec![name.to_owned()],
                    begin: (low, high),
                    span: (low, high),
                },
            );
        };
        for (k, list) in &self.sheets {
            let Some(((_, back), along)) = self.ranges(list) else { continue };
            let Some(sheet) = self.panel.sheets.get(*k) else { continue };
            add(sheet.front, along, &sheet.id);
            if sheet.thickness.is_some() {
                add(back, along, &sheet.id);
            }
        }
        for m in self.met.iter().filter(|m| m.cut) {
            let Some(((near, far), along)) = self.ranges(&m.contours) else { continue };
            match m.thing.role {
                Role::Front => add(near, along, &m.name),
                Role::Body | Role::Port => add(far, along, &m.name),
                Role::Obstacle if near >= 0.0 => add(near, along, &m.name),
                Role::Control(_) if near >= 0.0 => add(near, along, &m.name),
                Role::Obstacle | Role::Control(_) if far <= 0.0 => add(far, along, &m.name),
                _ => {}
            }
        }
        all.marks()
    }

    /// What the view is, and its least gap.
    pub fn words(&self, c: &Cut, least: Option<String>, print: Print) -> Vec<Piece> {
        let mut b = vec![Piece::Head(format!("Section {0}-{0}", c.letter))];
        b.push(Piece::Words(format!(
            "Depths in {}, from the front face of the main sheet (0), forward positive. To scale as stated; the numbers \
             hold.",
            if print.inch { "inches" } else { "millimetres" }
        )));
        b.push(match least {
            Some(words) => Piece::Strong(words),
            None => Piece::Words("No gap to tell in this plane: nothing stands beside anything.".into()),
        });
        b.push(Piece::Words(
            "Gaps are those of this plane, controls at rest: the fit check asks all of space and the whole travel."
                .into(),
        ));
        let mut lines =
            "Hatched: cut metal and airframe. Grey: bodies; lighter grey: connectors and bends. ".to_owned();
        if !self.extremes.is_empty() {
            lines.push_str("Dashed: controls at the ends of their travel, overtravel included. ");
        }
        if self.met.iter().any(|m| !m.cut) {
            lines.push_str("Dash and two dots: within the width of the item, not cut by the plane. ");
        }
        lines.push_str("What reaches beyond the view is cut off at its edge.");
        b.push(Piece::Words(lines));
        let unsaid = self.sheets.iter().filter_map(|(k, _)| self.panel.sheets.get(*k));
        for s in unsaid.filter(|s| s.thickness.is_none()) {
            let thick = print.number(UNSAID);
            b.push(Piece::Words(format!("Thickness of {} not given: drawn as {thick}.", s.id)));
        }
        if !self.lacking.is_empty() {
            b.push(Piece::Strong(format!("NOT DRAWN, missing: {}.", self.lacking.join("; "))));
        }
        b
    }

    /// Everything that is cut, with its depths.
    pub fn table(&self, print: Print) -> Vec<Piece> {
        let mut rows = Vec::new();
        for m in self.met.iter().filter(|m| m.cut) {
            let Some(((near, far), _)) = self.ranges(&m.contours) else { continue };
            rows.push(Cells(
                format!("cut {}", m.name),
                vec![m.name.clone(), role_word(m.thing.role).into(), print.number(near), print.number(far)],
            ));
        }
        if rows.is_empty() {
            return vec![Piece::Head("Cut by the plane".into()), Piece::Words("sheets alone".into())];
        }
        let head = vec!["", "what", "from", "to"];
        vec![Piece::Head("Cut by the plane".into()), Piece::Table(vec![0.42, 0.22, 0.18, 0.18], head, rows)]
    }

    /// What the fit check says of the item that is cut.
    pub fn says(&self, about: &About<'_>, c: &Cut) -> Option<Vec<Piece>> {
        let k = c.subject? as u32;
        let of = |f: &&crate::check::Finding| f.a.subject == k || f.b.is_some_and(|b| b.subject == k);
        let open = about.findings.iter().filter(of).filter(|f| f.verdict != Verdict::Pass);
        let mut lines: Vec<(Verdict, String)> = open.map(|f| (f.verdict, f.id(self.panel))).collect();
        lines.sort_by_key(|(v, _)| *v);
        let mut b = vec![Piece::Head("What the fit check says of it".into())];
        if lines.is_empty() {
            b.push(Piece::Words("all that was asked of it is pass".into()));
        }
        b.extend(lines.into_iter().map(|(v, id)| Piece::Words(format!("{}: {id}", v.word()))));
        Some(b)
    }
}

/// Cuts off what of an area (even-odd) reaches beyond a window; what lies in it stays exactly as it is.
pub fn inside_window(list: &mut Vec<Contour>, w: Rect) {
    let inside = |b: Rect| b.x0 >= w.x0 && b.x1 <= w.x1 && b.y0 >= w.y0 && b.y1 <= w.y1;
    if list.iter().all(|c| inside(c.bounds())) {
        return;
    }
    let corners = [(w.x0, w.y0), (w.x1, w.y0), (w.x1, w.y1), (w.x0, w.y1)];
    let frame = Area::of(&[corners.map(|(x, y)| Point::new(x, y)).to_vec()]);
    let mut area = Area::default();
    for c in list.iter() {
        let one = Area::of(&[polygon(c, Bound::Within, CHORD)]);
        // even-odd: a contour within another is a gap
        area = area.without(&one).with(&one.without(&area));
    }
    *list = area.common(&frame).contours(1e-3);
}

/// A role in words.
pub fn role_word(role: Role) -> &'static str {
    match role {
        Role::Front => "front part",
        Role::Body => "body",
        Role::Port => "connector, bend",
        Role::Nut => "nut",
        Role::Obstacle => "obstacle",
        Role::Control(_) => "control",
        Role::Line => "line",
    }
}
