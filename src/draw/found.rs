//! A panel found in a drawing, on one page: outline and openings with their names, open ends and what was left out.

use super::template::placer::{Label, Placer, Reach};
use super::template::words::fitted;
use super::{Anchor, Dash, Drawing, Entry, Item, Layer, Page, Shape, Stroke, Text, Units, Weight};
use crate::cut::own;
use crate::found::{About, Found};
use crate::geom::{Arc, Point, Rect, Segment, Vec2};
use crate::import::CutFile;
use crate::units::fmt_mm;

/// Page: A4 lying, ISO 216, mm.
const PAGE: (f64, f64) = (297.0, 210.0);
/// Paper left white, mm.
const MARGIN: f64 = 10.0;
/// Room around the figure for names, mm.
const AROUND: f64 = 10.0;
/// Radius of the ring about a place that is told, mm on paper.
const RING: f64 = 2.2;
/// Most places that are marked, and most lines of words below.
const MOST: (usize, usize) = (60, 8);

/// Most openings that bear their name, the largest first: with more, none could be read.
const NAMED: usize = 250;

/// The page.
pub fn found(title: &str, file: &CutFile, f: &Found) -> Drawing {
    let contours = || f.outline.iter().chain(&f.openings);
    let spots: Vec<Point> = marked(f).map(|(_, p)| p).collect();
    let boxes = contours().map(|p| p.contour.bounds()).chain(spots.iter().map(|p| Rect::from_points(*p, *p)));
    let all = boxes.reduce(|a, b| a.union(b)).filter(|b| b.width() + b.height() > 0.0);
    let all = all.unwrap_or(Rect::new(0.0, 0.0, 100.0, 100.0));
    let words = words(f);
    let under = 4.2 * (words.len() + 1) as f64 + 6.0;
    let room = Rect::new(MARGIN, MARGIN + under, PAGE.0 - MARGIN, PAGE.1 - MARGIN - 10.0);
    let fit = ((room.width() - 2.0 * AROUND) / all.width().max(1.0))
        .min((room.height() - 2.0 * AROUND) / all.height().max(1.0));
    let scale = fit.min(1.0);
    let shift = room.center().to_vec2() - all.center().to_vec2() * scale;
    let view = View { scale, shift, room };
    let mut items = view.draw(file, f);
    let inner = PAGE.0 - 2.0 * MARGIN;
    let from = if f.fits.is_empty() { "a drawing" } else { "measured points" };
    let head = format!("{title}: panel as found in {from}, not to cut from");
    let height = fitted(&head, 4.5, Weight::Bold, inner);
    let at = Point::new(MARGIN, PAGE.1 - MARGIN - height);
    items.push(Item::text(Layer::Frame, Text::new(at, height, Anchor::LEFT, head.clone()).bold()));
    let key = format!(
        "Scale 1:{:.2}. Dashed rings with numbers: places that the notes below tell of; the report tells all of them.",
        1.0 / scale
    );
    for (k, line) in std::iter::once(&key).chain(&words).enumerate() {
        let height = fitted(line, 2.4, Weight::Regular, inner);
        let at = Point::new(MARGIN, MARGIN + under - 6.0 - 4.2 * k as f64);
        items.push(Item::text(Layer::Text, Text::new(at, height, Anchor::LEFT, line.clone())));
    }
    let page = Page {
        name: "found".into(),
        width: PAGE.0,
        height: PAGE.1,
        items: items.into_iter().map(Entry::Item).collect(),
    };
    let meta = vec![("openings".to_owned(), f.openings.len().to_string())];
    Drawing { title: head, pages: vec![page], meta, units: Units::Millimetre }
}

/// Places of what is asked and left out, with the number of what was told.
fn marked(f: &Found) -> impl Iterator<Item = (usize, Point)> + '_ {
    let told = f.told.iter().filter(|t| worth(t.about)).enumerate();
    told.take(MOST.1).flat_map(|(k, t)| t.at.iter().map(move |p| (k + 1, *p))).take(MOST.0)
}

fn worth(about: About) -> bool {
    matches!(about, About::Question | About::LeftOut | About::Changed)
}

/// What was told, a line each.
fn words(f: &Found) -> Vec<String> {
    let told: Vec<_> = f.told.iter().filter(|t| worth(t.about)).collect();
    let mut out: Vec<String> = told
        .iter()
        .take(MOST.1)
        .enumerate()
        .map(|(k, t)| {
            let says: String = t.says.chars().take(170).collect();
            let more = if says.len() < t.says.len() { " ..." } else { "" };
            format!("{} ({}): {says}{more}", k + 1, t.about.word())
        })
        .collect();
    if told.len() > MOST.1 {
        out.push(format!("and {} more: see the report", told.len() - MOST.1));
    }
    let how = if f.fits.is_empty() { "Drawn, not measured" } else { "Fitted to measured points" };
    out.push(format!("{how}: hold it against the sheet. The program advises; it approves nothing."));
    out
}

struct View {
    scale: f64,
    shift: Vec2,
    room: Rect,
}

impl View {
    fn on(&self, p: Point) -> Point {
        (p.to_vec2() * self.scale + self.shift).to_point()
    }

    fn small(&self, piece: &Segment) -> Segment {
        match piece {
            Segment::Line(l) => Segment::line(self.on(l.a), self.on(l.b)),
            Segment::Arc(a) => {
                Segment::Arc(Arc::between(self.on(a.a), self.on(a.b), self.on(a.centre), a.sweep > 0.0))
            }
        }
    }

    fn draw(&self, file: &CutFile, f: &Found) -> Vec<Item> {
        let mut items = Vec::new();
        let mut placer = Placer::new(self.room);
        let mut names = Vec::new();
        let part: std::collections::BTreeSet<usize> =
            f.patterns.iter().flat_map(|m| m.openings.iter().skip(1).copied()).collect();
        for (k, p) in f.outline.iter().chain(&f.openings).enumerate() {
            let edge = k == 0 && f.outline.is_some();
            let wide = if edge { 0.5 } else { 0.3 };
            let shape = match p.contour.as_circle() {
                Some((c, r)) => Shape::Circle { centre: self.on(c), radius: r * self.scale },
                None => Shape::Chain(p.contour.segments().iter().map(|s| self.small(s)).collect()),
            };
            items.push(Item::stroked(Layer::Outline, shape, Stroke::solid(wide)).of(&*p.id));
            for s in p.contour.segments() {
                keep_off(&mut placer, &self.small(s));
            }
            // holes of a pattern go by its name
            if !edge && !part.contains(&(k - usize::from(f.outline.is_some()))) {
                let size = p.contour.as_circle().map(|(_, r)| format!("Ø {}", fmt_mm(2.0 * r)));
                names.push((p.contour.area(), self.on(p.contour.bounds().center()), p, size));
            }
        }
        let zero = self.on(f.origin);
        for arm in [Vec2::new(3.0, 0.0), Vec2::new(0.0, 3.0)] {
            items.push(Item::stroked(Layer::Mark, Shape::line(zero - arm, zero + arm), Stroke::solid(0.18)));
        }
        placer.block(Rect::from_center_size(zero, (6.0, 6.0)));
        let mut labels = Vec::new();
        let mut seen: Vec<Point> = Vec::new();
        for (n, p) in marked(f) {
            let at = self.on(p);
            // the two ends of a gap are one place on paper
            if seen.iter().any(|q| (*q - at).hypot2() < 0.25) {
                continue;
            }
            seen.push(at);
            let ring = Shape::Circle { centre: at, radius: RING };
            items.push(Item::stroked(Layer::Mark, ring, Stroke::solid(0.35).dash(Dash::Dashed)));
            placer.block(Rect::from_center_size(at, (2.0 * RING, 2.0 * RING)));
            labels.push(label(vec![format!("{n}")], at, RING + 0.4, Weight::Bold, ""));
        }
        let zero_at = own(file, f.origin);
        let near = |v: f64| fmt_mm(v).trim_end_matches(" mm").to_owned();
        let words = format!("origin: ({}, {}) of the drawing", near(zero_at.x), near(zero_at.y));
        labels.push(label(vec![words], zero, 3.4, Weight::Regular, ""));
        names.sort_by(|a, b| b.0.total_cmp(&a.0));
        names.truncate(NAMED);
        for (_, at, p, size) in &names {
            let mut lines = vec![p.id.clone()];
            lines.extend(size.clone());
            labels.push(label(lines, *at, 0.0, Weight::Regular, &p.id));
        }
        for one in labels {
            // a name without room is in the report
            let away = Label {
                lines: one.lines.clone(),
                subject: one.subject.clone(),
                reach: farther(one.reach),
                ..one
            };
            if let Ok(placed) = placer.place(one).or_else(|_| placer.place(away)) {
                items.extend(placed);
            }
        }
        items
    }
}

fn farther(r: Reach) -> Reach {
    match r {
        Reach::Round(off) => Reach::Round(off + 4.0),
        Reach::Box(half) => Reach::Box(half + Vec2::new(4.0, 4.0)),
    }
}

/// Keeps names off a line.
fn keep_off(placer: &mut Placer, piece: &Segment) {
    let n = (piece.len() / 1.5).ceil().clamp(1.0, 2000.0) as u32;
    for k in 0..=n {
        placer.block(Rect::from_center_size(piece.at(f64::from(k) / f64::from(n)), (0.8, 0.8)));
    }
}

fn label(lines: Vec<String>, anchor: Point, off: f64, weight: Weight, subject: &str) -> Label {
    let lines = lines.into_iter().map(|words| (words, 2.2, weight)).collect();
    Label { lines, anchor, reach: Reach::Round(off), inside: off == 0.0, subject: subject.to_owned() }
}
