//! Reads a drawing as a toolmaker does: its words, and which word stands at which leader or letter. No contour of
//! the drawing is looked at.

use panelwright::draw::{Drawing, Entry, Item, Layer, Shape, Text};
use panelwright::geom::{Arc, Contour, Corner, Point, Segment, Transform, Vec2};
use std::collections::BTreeMap;

/// What the words say.
#[derive(Debug, Default)]
pub struct Read {
    /// Millimetres in the drawing's unit.
    pub unit: f64,
    /// The drawing's datum on the panel, mm.
    pub datum: Vec2,
    /// Letter: count and size.
    pub rows: BTreeMap<String, (usize, String)>,
    /// Opening: number at its x leader, number at its y leader.
    pub ordinates: BTreeMap<String, [Vec<f64>; 2]>,
    /// Opening: letter and turn at its tag.
    pub tags: BTreeMap<String, (String, f64)>,
    /// Opening: letter, x, y, turn in the table.
    pub places: BTreeMap<String, (String, f64, f64, f64)>,
    /// `outline` or a letter: its points and what leads on.
    pub points: BTreeMap<String, Vec<(f64, f64, String)>>,
    /// All words without a subject, in order.
    pub notes: String,
}

/// Items of all pages.
pub fn items(d: &Drawing) -> Vec<&Item> {
    let all = d.pages.iter().flat_map(|p| &p.items);
    all.filter_map(|e| match e {
        Entry::Item(i) => Some(i),
        Entry::Group(_) => None,
    })
    .collect()
}

/// A row of a table with its texts.
type Cells<'a> = (String, Vec<&'a Text>);

pub fn text(i: &Item) -> Option<&Text> {
    match &i.shape {
        Shape::Text(t) => Some(t),
        _ => None,
    }
}

/// Cells of a row, left to right, each with its lines joined.
fn cells(texts: &[&Text]) -> Vec<String> {
    let mut by: BTreeMap<i64, Vec<&Text>> = BTreeMap::new();
    for t in texts {
        by.entry((t.at.x * 1e6).round() as i64).or_default().push(t);
    }
    by.into_values()
        .map(|mut lines| {
            lines.sort_by(|a, b| b.at.y.total_cmp(&a.at.y));
            lines.iter().map(|t| t.text.as_str()).collect::<Vec<_>>().join(" ")
        })
        .collect()
}

fn number(words: &str) -> f64 {
    words.trim().parse().unwrap_or_else(|_| panic!("{words:?} is no number"))
}

impl Read {
    pub fn of(d: &Drawing) -> Read {
        let mut read = Read { unit: d.units.millimetres(), ..Read::default() };
        let mut rows: Vec<Cells<'_>> = Vec::new();
        for i in items(d) {
            let Some(t) = text(i) else { continue };
            match (&i.subject, i.layer) {
                (Some(s), Layer::Dimension) => {
                    let (axis, names) = s.split_once(' ').unwrap();
                    for name in names.split(", ") {
                        let numbers = read.ordinates.entry(name.to_owned()).or_default();
                        numbers[usize::from(axis == "y")].push(number(&t.text) * read.unit);
                    }
                }
                (Some(s), Layer::Text) => match rows.iter_mut().find(|r| r.0 == *s) {
                    Some(r) => r.1.push(t),
                    None => rows.push((s.clone(), vec![t])),
                },
                (None, Layer::Text) => {
                    read.notes.push_str(&t.text);
                    read.notes.push(' ');
                }
                _ => {}
            }
        }
        for (subject, texts) in rows {
            read.row(&subject, &texts);
        }
        let found = read.notes.split("Datum (0, 0) of this drawing: x ").nth(1);
        if let Some((x, rest)) = found.and_then(|f| f.split_once(", y ")) {
            let y = rest.split_once(" of the panel").unwrap().0;
            read.datum = Vec2::new(number(x), number(y)) * read.unit;
        }
        read
    }

    fn row(&mut self, subject: &str, texts: &[&Text]) {
        let u = self.unit;
        let words = cells(texts);
        let get = |k: usize| words.get(k).map_or("", String::as_str);
        if subject.starts_with("outline point")
            || get(0).trim().parse::<u32>().is_ok() && !subject.contains(' ')
        {
            // numbers at the outline's points and of equipment
            return;
        }
        match subject.split_once(' ') {
            Some(("row", letter)) => {
                assert_eq!(get(0), letter);
                self.rows.insert(letter.into(), (number(get(1)) as usize, get(2).into()));
            }
            Some(("place", tag)) => {
                assert_eq!(get(0), tag);
                let letter = tag.trim_end_matches(|c: char| c.is_ascii_digit()).to_owned();
                let turn = if words.len() == 5 { number(get(3).trim_end_matches('\u{b0}')) } else { 0.0 };
                let name = words.last().unwrap().replace(' ', "");
                self.places.insert(name, (letter, number(get(1)) * u, number(get(2)) * u, turn));
            }
            Some(("item", _)) => {}
            Some(("outline", _)) => self.point("outline", &words),
            Some(("contour", rest)) => {
                let letter = rest.split_once(' ').unwrap().0;
                self.point(letter, &words);
            }
            // words at an opening: its tag, then perhaps its turn or its item's id
            _ => {
                let mut lines: Vec<&&Text> = texts.iter().collect();
                lines.sort_by(|a, b| b.at.y.total_cmp(&a.at.y));
                let turn = lines.iter().find_map(|t| t.text.strip_prefix("turned "));
                let turn = turn.map_or(0.0, |t| number(t.trim_end_matches('\u{b0}')));
                self.tags.insert(subject.into(), (lines[0].text.clone(), turn));
            }
        }
    }

    fn point(&mut self, of: &str, words: &[String]) {
        let list = self.points.entry(of.into()).or_default();
        assert_eq!(number(&words[0]) as usize, list.len() + 1, "points of {of} in order");
        list.push((number(&words[1]) * self.unit, number(&words[2]) * self.unit, words[3].clone()));
    }

    /// The pieces of a contour from its table, from its own origin. Their numbers are rounded: they join to within
    /// that.
    pub fn chain(&self, of: &str) -> Vec<Segment> {
        let list = &self.points[of];
        let at = |k: usize| {
            let (x, y, _) = &list[k % list.len()];
            Point::new(*x, *y)
        };
        let pieces = list.iter().enumerate().map(|(k, (.., next))| {
            let (a, b) = (at(k), at(k + 1));
            if next == "straight" {
                return Segment::line(a, b);
            }
            let mut words = next.split(' ');
            let radius = number(words.next().unwrap().strip_prefix('R').unwrap()) * self.unit;
            let ccw = words.next() == Some("ccw");
            assert_eq!(words.next(), Some("about"));
            let x = number(words.next().unwrap().trim_end_matches(',')) * self.unit;
            let y = number(words.next().unwrap()) * self.unit;
            let arc = Arc::between(a, b, Point::new(x, y), ccw);
            Segment::Arc(Arc { radius, ..arc })
        });
        pieces.collect()
    }

    /// The pieces of an outline from the words of its size, about the origin.
    pub fn pieces(&self, letter: &str, size: &str) -> Vec<Segment> {
        let size = size.split(" (").next().unwrap();
        match size {
            "see contour" => self.chain(letter),
            _ => self.shape(size).segments().to_vec(),
        }
    }

    /// A named shape.
    fn shape(&self, size: &str) -> Contour {
        let o = Point::ORIGIN;
        let n = |w: &str| number(w) * self.unit;
        if let Some(rest) = size.strip_prefix("slot ") {
            let (l, w) = rest.strip_suffix(", round ends").unwrap().split_once(" \u{d7} ").unwrap();
            let half = Vec2::new((n(l) - n(w)) / 2.0, 0.0);
            return Contour::slot(o - half, o + half, n(w) / 2.0);
        }
        if let Some(rest) = size.strip_prefix('\u{2300}') {
            let Some((d, flats)) = rest.split_once(", ") else { return Contour::circle(o, n(rest) / 2.0) };
            let flats = flats.strip_suffix(" from centre").unwrap();
            return match flats.strip_prefix("two flats ") {
                Some(flat) => Contour::d_hole(o, n(d) / 2.0, n(flat), true),
                None => Contour::d_hole(o, n(d) / 2.0, n(flats.strip_prefix("flat below ").unwrap()), false),
            };
        }
        let (wh, corners) = size.split_once(", corners ").unwrap_or_else(|| panic!("{size:?}"));
        let (w, h) = wh.split_once(" \u{d7} ").unwrap();
        let corner = |c: &str| match (c.strip_prefix('R'), c.strip_prefix("cut ")) {
            (Some(r), _) => Corner::Round(n(r)),
            (_, Some(cut)) => {
                let (x, y) = cut.split_once(" \u{d7} ").unwrap();
                Corner::Clip(n(x), n(y))
            }
            _ => {
                assert_eq!(c, "sharp");
                Corner::Sharp
            }
        };
        let each: Vec<Corner> = match corners.starts_with("LL ") {
            true => corners.split(", ").map(|c| corner(c.split_once(' ').unwrap().1)).collect(),
            false => vec![corner(corners); 4],
        };
        Contour::rect_corners(o, n(w), n(h), [each[0], each[1], each[2], each[3]])
    }

    /// Every opening that is told, panel axes: name, outline.
    pub fn openings(&self) -> Vec<(String, Vec<Segment>)> {
        let mut list = Vec::new();
        let mut told: Vec<(String, String, f64, f64, f64)> = Vec::new();
        for (name, (letter, x, y, turn)) in &self.places {
            told.push((name.clone(), letter.clone(), *x, *y, *turn));
        }
        if self.places.is_empty() {
            for (name, (letter, turn)) in &self.tags {
                let [x, y] = self.ordinates.get(name).unwrap_or_else(|| panic!("{name} stands at no leader"));
                assert_eq!((x.len(), y.len()), (1, 1), "{name} is told once on each axis");
                told.push((name.clone(), letter.clone(), x[0], y[0], *turn));
            }
        }
        for (name, letter, x, y, turn) in told {
            let (_, size) = self.rows.get(&letter).unwrap_or_else(|| panic!("no row {letter}"));
            let at = Point::new(x, y) + self.datum;
            list.push((name, moved(at, turn, &self.pieces(&letter, size))));
        }
        list
    }

    /// The sheet's outline, panel axes.
    pub fn outline(&self) -> Vec<Segment> {
        if self.points.contains_key("outline") {
            return moved(self.datum.to_point(), 0.0, &self.chain("outline"));
        }
        let words = self.notes.split("Outline ").nth(1).unwrap();
        let words = words.strip_prefix("exists: not cut again ").unwrap_or(words);
        let (size, rest) = words.split_once("; centre at x ").unwrap();
        let (x, rest) = rest.split_once(", y ").unwrap();
        let mut rest = rest.split(' ');
        let y = rest.next().unwrap();
        let turn = if y.ends_with(',') && rest.next() == Some("turned") { rest.next().unwrap() } else { "0" };
        let turn = number(turn.trim_end_matches('\u{b0}'));
        let at = Point::new(number(x), number(y.trim_end_matches(','))).to_vec2() * self.unit + self.datum;
        moved(at.to_point(), turn, &self.pieces("", size))
    }
}

fn moved(at: Point, turn: f64, pieces: &[Segment]) -> Vec<Segment> {
    let t = Transform::place(at, turn, false);
    pieces.iter().map(|s| t.segment(s)).collect()
}
