//! Where an instrument fits, seen from the front: the region of its origin with lines of equal room, the spots that were
//! found with the instrument in broken lines, and, where it fits nowhere, the least bad place and what binds there.
//!
//! Scaled, never to cut from. Hatching, line weights and figures say all; there is no colour.

mod ghost;
mod levels;
mod says;

use super::front_view::{Fitted, Over, bar, cautions, overlaid};
use super::template::column::flow;
use super::template::placer::whole;
use super::template::shape::scaled;
use super::template::words::{fitted, trimmed};
use super::{Anchor, Drawing, Entry, Ink, Item, Layer, Page, Shape, Stroke, Text, Units, Weight, text};
use crate::check::Finding;
use crate::geom::{Contour, Point, Rect, Vec2, length};
use crate::panel::Panel;
use crate::place::{Answer, Spot};

/// Room, mm, at which a line is drawn, where there is as much.
const LEVELS: [f64; 5] = [2.0, 5.0, 10.0, 20.0, 40.0];
/// Lines shorter than this on paper bear no figure, mm.
const NAMED: f64 = 18.0;
/// Letter height of a figure, mm.
const FIGURE: f64 = 1.6;

/// The answer on a front view of the panel as it is; `findings` are of that panel, without the instrument.
pub fn region_view(panel: &Panel, findings: &[Finding], answer: &Answer) -> Drawing {
    let blocks = vec![
        says::words(panel, findings, answer),
        says::spots(answer),
        says::nowhere(answer),
        says::open(answer),
        cautions(),
    ];
    let tall = |inner: f64| flow(&blocks, 0.0, 0.0, inner, Layer::Text).1;
    let page = Fitted::of(panel, tall);
    let scale = 1.0 / page.ratio;
    let view = View { answer, scale, shift: page.shift, room: page.room };
    let margin = page.room.x0;
    let (width, height) = page.size;
    let inner = width - 2.0 * margin;
    let mut items = overlaid(panel, &page, view.over());
    let title = format!(
        "{}: where {} fits, turned by {} degrees, scale 1:{}, not to cut from",
        panel.name,
        answer.asks.instrument,
        trimmed(answer.asks.turn, 3),
        trimmed(page.ratio, 1)
    );
    let letters = fitted(&title, 4.5, Weight::Bold, inner);
    let at = Point::new(margin, height - margin - letters);
    items.push(Item::text(Layer::Frame, Text::new(at, letters, Anchor::LEFT, title.clone()).bold()));
    let top = page.room.y0 - 12.0;
    items.extend(bar(width - margin, top + 5.0, scale));
    items.extend(flow(&blocks, margin, top, inner, Layer::Text).0);
    let page = Page {
        name: "where it fits".into(),
        width,
        height,
        items: items.into_iter().map(Entry::Item).collect(),
    };
    let meta = vec![
        ("panel".to_owned(), panel.name.clone()),
        ("inputs".to_owned(), panel.hash.clone()),
        ("instrument".to_owned(), answer.asks.instrument.clone()),
        ("verdict".to_owned(), answer.verdict().word().to_owned()),
    ];
    let units = if panel.unit.is_inch() { Units::Inch } else { Units::Millimetre };
    Drawing { title, pages: vec![page], meta, units }
}

/// The spots of an answer with their letter and title; two that are the same are told once.
pub(super) fn lettered(answer: &Answer) -> Vec<(char, String, &Spot)> {
    let all = [
        ("the only place", answer.hairline.as_ref()),
        ("most room", answer.roomiest.best.as_ref()),
        ("nearest to the place wished for", answer.nearest.as_ref().and_then(|n| n.best.as_ref())),
        ("best by sight and reach", answer.sighted().and_then(|s| s.spots.best.as_ref())),
    ];
    let mut out: Vec<(char, String, &Spot)> = Vec::new();
    for (title, spot) in all.into_iter().filter_map(|(t, s)| Some((t, s?))) {
        match out.iter_mut().find(|(_, _, known)| length(known.shift - spot.shift) < 0.005) {
            Some((_, known, _)) => *known += &format!("; {title}"),
            None => out.push((char::from(b'A' + out.len() as u8), title.to_owned(), spot)),
        }
    }
    out
}

/// A view on paper.
struct View<'a> {
    answer: &'a Answer,
    scale: f64,
    shift: Vec2,
    room: Rect,
}

impl View<'_> {
    fn point(&self, p: Point) -> Point {
        Point::ORIGIN + p.to_vec2() * self.scale + self.shift
    }

    /// A contour of the panel, after a shift of it, on paper.
    fn small(&self, c: &Contour, by: Vec2) -> Contour {
        scaled(c, self.scale, self.shift + by * self.scale)
    }

    fn over(&self) -> Over {
        let a = self.answer;
        let origin = a.at(Vec2::ZERO).to_vec2();
        let mut over = Over::default();
        let region = a.region.area.contours(0.0);
        let border: Vec<Contour> = region.iter().map(|c| self.small(c, origin)).collect();
        let mut taken: Vec<Rect> = Vec::new();
        if !border.is_empty() {
            let hatch = Shape::Hatch { contours: border.clone(), spacing: 1.8, angle: 45.0 };
            over.under.push(Item::stroked(Layer::Hatch, hatch, Stroke::solid(0.1).ink(Ink(150))));
        }
        let spots = lettered(a);
        for (_, _, spot) in &spots {
            // figures keep off the marks of origins
            taken.push(Rect::from_center_size(self.point(a.at(spot.shift)), (8.0, 6.0)));
        }
        let mut figures = Vec::new();
        for c in &border {
            over.lines.push(line(c, 0.35));
            figures.extend(self.figure(c, "0", &mut taken));
        }
        for by in LEVELS {
            let lines = levels::inner(&a.region.area, by).contours(0.0);
            if lines.is_empty() {
                break;
            }
            for c in lines.iter().map(|c| self.small(c, origin)) {
                over.lines.push(line(&c, 0.18));
                figures.extend(self.figure(&c, &trimmed(by, 0), &mut taken));
            }
        }
        over.lines.extend(ghost::in_the_way(self));
        let mut spot = |shift: Vec2, lines: Vec<String>| {
            over.lines.extend(ghost::ghost(self, shift));
            over.labels.push(ghost::name(self, shift, lines));
        };
        for (letter, _, s) in spots {
            let p = a.at(s.shift);
            let at = format!("[{}, {}]", trimmed(p.x, 2), trimmed(p.y, 2));
            spot(s.shift, vec![letter.to_string(), at, format!("room {}", trimmed(s.room, 2))]);
        }
        if let Some(short) = &a.short {
            spot(
                short.at.to_vec2(),
                vec!["FITS NOWHERE".into(), format!("short {} mm", trimmed(short.by, 2))],
            );
        }
        over.lines.extend(figures);
        over
    }

    /// A figure on a line, at a place of its own; none on a short line.
    fn figure(&self, c: &Contour, words: &str, taken: &mut Vec<Rect>) -> Vec<Item> {
        let corners = levels::eased(c);
        let sides: Vec<(Point, Point)> =
            corners.iter().copied().zip(corners.iter().copied().cycle().skip(1)).collect();
        let around: f64 = sides.iter().map(|(a, b)| length(*b - *a)).sum();
        if around < NAMED {
            return Vec::new();
        }
        let wide = text::width(words, FIGURE, Weight::Regular);
        // along the longest straight first: a figure reads best there
        let mut places: Vec<(f64, Point)> =
            sides.iter().map(|(a, b)| (length(*b - *a), a.midpoint(*b))).collect();
        places.sort_by(|a, b| b.0.total_cmp(&a.0));
        let boxed = |p: Point| Rect::from_center_size(p, (wide + 0.8, FIGURE + 0.8));
        let clear = |p: &Point| {
            let b = boxed(*p);
            let inside =
                b.x0 > self.room.x0 && b.x1 < self.room.x1 && b.y0 > self.room.y0 && b.y1 < self.room.y1;
            inside && !taken.iter().any(|t| t.inflate(1.0, 1.0).overlaps(b))
        };
        let Some(at) = places.into_iter().map(|(_, p)| p).find(clear) else { return Vec::new() };
        taken.push(boxed(at));
        let t = Text::new(at, FIGURE, Anchor::CENTRE, words);
        let back = whole(text::bounds(&t), FIGURE).inflate(0.3, 0.1);
        let paper = Shape::Path(Contour::rect(back.center(), back.width(), back.height(), 0.0));
        vec![Item::filled(Layer::Text, paper, Ink::WHITE), Item::text(Layer::Text, t)]
    }
}

fn line(c: &Contour, width: f64) -> Item {
    Item::stroked(Layer::Dimension, Shape::contour(c), Stroke::solid(width))
}
