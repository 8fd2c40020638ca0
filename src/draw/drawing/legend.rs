//! The equipment page: bezels with item numbers, and what each number is.

use super::flow::{Cells, Piece, moved};
use super::number::Print;
use super::paper::{Family, Scale};
use super::sheet::Space;
use crate::check::Verdict;
use crate::draw::template::placer::{Label, Placer, Reach};
use crate::draw::template::shape::scaled;
use crate::draw::template::words::trimmed;
use crate::draw::{Dash, Ink, Item, Layer, Shape, Stroke, Weight};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, Panel, Part, Subject, SubjectKind};

/// Letter height of item numbers, mm.
const NUMBER: f64 = 2.5;

/// What the page is made from.
pub struct Legend<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Worst verdict of each subject.
    pub worst: Vec<Verdict>,
    /// How numbers are printed.
    pub print: Print,
}

/// The view of the equipment.
pub struct Shown {
    /// Words of its scale.
    pub scale: String,
    /// Items on the page.
    pub items: Vec<Item>,
    /// Box of the view on the page.
    pub used: Rect,
    /// What each number is.
    pub table: Vec<Piece>,
}

/// One item: its number, the subject, its index.
type Numbered<'a> = (usize, &'a Subject, usize);

impl Legend<'_> {
    /// Items in the panel's order, numbered from 1.
    fn items(&self) -> Vec<Numbered<'_>> {
        let equipment = |s: &Subject| matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit);
        let list = self.panel.subjects.iter().enumerate().filter(|(_, s)| equipment(s));
        list.enumerate().map(|(k, (n, s))| (k + 1, s, n)).collect()
    }

    /// The view on a page, and the table; none without equipment.
    pub fn view(&self, space: &Space) -> Option<Shown> {
        let list = self.items();
        if list.is_empty() {
            return None;
        }
        let bounds = self.bounds();
        let room = (space.area.width(), space.above());
        let family = if self.print.inch { Family::Asme } else { Family::Iso };
        let fits = |f: f64| bounds.width() * f <= room.0 && bounds.height() * f <= room.1;
        let scale = Scale::all(family).iter().find(|s| fits(s.factor()) && s.paper <= s.part);
        let free = (room.0 / bounds.width()).min(room.1 / bounds.height());
        let (factor, words) = scale.map_or((free, "none".into()), |s| (s.factor(), s.words()));
        let (w, h) = (bounds.width() * factor, bounds.height() * factor);
        let at = Vec2::new(space.left(w), space.area.y1 - h);
        let (drawn, homeless) = self.faces(&list, bounds, factor);
        Some(Shown {
            scale: words,
            items: drawn.iter().map(|i| moved(i, at)).collect(),
            used: Rect::new(at.x, at.y, at.x + w, at.y + h),
            table: self.table(&list, &homeless),
        })
    }

    /// Box of sheets and faces.
    fn bounds(&self) -> Rect {
        let sheets = self.panel.sheets.iter().map(|s| s.outline.bounds());
        let faces = self.items().into_iter().filter_map(|(_, s, _)| face(s)).map(|p| p.contour.bounds());
        let all = sheets.chain(faces).reduce(|a, b| a.union(b));
        all.filter(|r| r.area() > 0.0).unwrap_or(Rect::new(0.0, 0.0, 100.0, 100.0))
    }

    /// Outlines, faces and numbers; numbers for which there was no room.
    fn faces(&self, list: &[Numbered<'_>], bounds: Rect, scale: f64) -> (Vec<Item>, Vec<usize>) {
        let shift = -bounds.origin().to_vec2() * scale;
        let small = |c: &Contour| scaled(c, scale, shift);
        let mut items = Vec::new();
        let size = (bounds.width() * scale, bounds.height() * scale);
        let mut placer = Placer::new(Rect::new(-1.0, -1.0, size.0 + 1.0, size.1 + 1.0));
        for (k, s) in self.panel.sheets.iter().enumerate() {
            let stroke =
                if k == 0 { Stroke::solid(0.5) } else { Stroke::solid(0.18).dash(Dash::DoubleChain) };
            items.push(
                Item::stroked(Layer::Outline, Shape::contour(&small(&s.outline)), stroke).of(s.id.clone()),
            );
        }
        let mut labels: Vec<Label> = Vec::new();
        for (n, s, _) in list {
            for p in s.parts.iter().filter(|p| matches!(p.class, Class::Cutout | Class::Hole)) {
                let dash = Stroke::solid(0.13).dash(Dash::Dashed).ink(Ink(110));
                items.push(
                    Item::stroked(Layer::Outline, Shape::contour(&small(&p.contour)), dash).of(s.id.clone()),
                );
            }
            let Some(part) = face(s) else { continue };
            let c = small(&part.contour);
            let line = match s.provision {
                true => Stroke::solid(0.25).dash(Dash::DoubleChain),
                false => Stroke::solid(0.35),
            };
            items.push(Item::stroked(Layer::Outline, Shape::contour(&c), line).of(s.id.clone()));
            placer.line(c.clone());
            labels.push(number(*n, s, &c));
        }
        labels.sort_by_key(|l| !l.inside);
        let mut homeless = Vec::new();
        for l in labels {
            match placer.place(l) {
                Ok(placed) => {
                    for i in placed {
                        items.extend(balloon(&i));
                        items.push(i);
                    }
                }
                Err(l) => homeless.extend(l.lines.first().and_then(|(w, ..)| w.trim().parse::<usize>().ok())),
            }
        }
        (items, homeless)
    }

    /// What each number is.
    fn table(&self, list: &[Numbered<'_>], homeless: &[usize]) -> Vec<Piece> {
        let rows = list.iter().map(|(n, s, k)| {
            let f = s.facts.as_ref();
            let mass = f.and_then(|f| f.mass).map_or("-".into(), |m| trimmed(m, 3));
            let verdict = self.worst.get(*k).copied().unwrap_or(Verdict::Pass).word().to_owned();
            let mut what = s.id.clone();
            if !s.title.is_empty() && s.title != s.id {
                what = format!("{what}: {}", s.title);
            }
            if let Some(f) = f.filter(|f| !f.instrument.is_empty()) {
                what = format!("{what} ({})", f.instrument);
            }
            if s.provision {
                what = format!("PROVISION {what}");
            }
            let cells = vec![n.to_string(), what, self.opening(s), mass, verdict];
            Cells(format!("item {n}"), cells)
        });
        let head = vec!["", "item", "opening", "kg", "verdict"];
        let parts = vec![0.06, 0.45, 0.19, 0.12, 0.18];
        let mut block = vec![Piece::Head("Equipment".into()), Piece::Table(parts, head, rows.collect())];
        let known = || list.iter().filter_map(|(_, s, _)| s.facts.as_ref()?.mass);
        let (sum, count) = (known().sum::<f64>(), known().count());
        let words = format!("mass known of {count} of {}: {} kg together", list.len(), trimmed(sum, 3));
        block.push(Piece::Words(words));
        block.push(Piece::Words("verdict: the worst of the item, not that of its opening alone".into()));
        if !homeless.is_empty() {
            let list: Vec<String> = homeless.iter().map(usize::to_string).collect();
            block.push(Piece::Words(format!("no room on the view for: {}", list.join(", "))));
        }
        block
    }

    /// The main opening in words.
    fn opening(&self, s: &Subject) -> String {
        let Some(p) = opening(s) else { return "-".into() };
        let b = p.contour.bounds();
        match (&p.written, p.contour.as_circle()) {
            (Some(w), Some(_)) => format!("\u{2300}{w}"),
            (Some(w), None) => w.to_string(),
            (None, Some((_, r))) => format!("\u{2300}{}", self.print.number(2.0 * r)),
            (None, None) => {
                format!("{} \u{d7} {}", self.print.number(b.width()), self.print.number(b.height()))
            }
        }
    }
}

fn largest(s: &Subject, classes: &[Class]) -> Option<usize> {
    let some = s.parts.iter().enumerate().filter(|(_, p)| classes.contains(&p.class));
    some.max_by(|a, b| a.1.contour.area().total_cmp(&b.1.contour.area())).map(|(k, _)| k)
}

fn opening(s: &Subject) -> Option<&Part> {
    s.parts.get(largest(s, &[Class::Cutout]).or_else(|| largest(s, &[Class::Hole]))?)
}

/// What is seen of an item from the front: its bezel, else its opening, else its body.
fn face(s: &Subject) -> Option<&Part> {
    let k = largest(s, &[Class::Bezel])
        .or_else(|| largest(s, &[Class::Cutout, Class::Hole]))
        .or_else(|| largest(s, &[Class::Provision, Class::Body]));
    s.parts.get(k?)
}

/// The label of an item number; blanks make room for its balloon.
fn number(n: usize, s: &Subject, c: &Contour) -> Label {
    let b = c.bounds();
    let half = Vec2::new(b.width(), b.height()) / 2.0;
    let reach = c.as_circle().map_or(Reach::Box(half), |(_, r)| Reach::Round(r));
    Label {
        lines: vec![(format!(" {n} "), NUMBER, Weight::Bold)],
        anchor: b.center(),
        reach,
        inside: half.x > 5.0 && half.y > 4.0,
        subject: s.id.clone(),
    }
}

/// The balloon of a number: paper with a round-ended border.
fn balloon(item: &Item) -> Option<Item> {
    let Shape::Text(t) = &item.shape else { return None };
    let b = crate::draw::text::bounds(t).inflate(0.2, 0.75);
    let centre: Point = b.center();
    let shape = Shape::Path(Contour::rect(centre, b.width().max(b.height()), b.height(), b.height() / 2.0));
    let mut balloon = Item::filled(Layer::Text, shape, Ink::WHITE);
    balloon.stroke = Some(Stroke::solid(0.25));
    Some(balloon)
}
