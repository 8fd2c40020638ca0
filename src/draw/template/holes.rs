//! The hole table: round openings that are made, grouped by diameter and way of making, with a key letter
//! each and the drills that make them.

use super::column::{Block, Piece};
use super::plan::{Fate, Opening, Plan};
use super::words::{inch, limits, mm, trimmed};
use crate::calc::drill::{self, Limits};
use crate::panel::{Fastening, HeadKind, Panel};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Diameters that differ by less are one row: finer than any tool, coarser than rounding (mm).
const SAME: f64 = 1e-3;
/// Most rows of one table.
const ROWS: usize = 30;
const HEAD: [&str; 6] = ["key", "count", "mm (in)", "drill mm", "drill in", "how"];
/// Widths of the columns, in parts of the whole; a test holds them against the words.
const WIDTHS: [f64; 6] = [0.0765, 0.1125, 0.2195, 0.156, 0.237, 0.1985];

/// Rows in order of key.
pub(super) struct Holes {
    rows: Vec<Row>,
}

struct Row {
    /// Diameter in steps of [`SAME`], and whether it is drilled from the part.
    size: (i64, bool),
    key: String,
    diameter: f64,
    count: usize,
    /// What every opening of the row allows; none where one of them says nothing.
    limits: Option<Limits>,
    /// The diameter as it was written in inches, each spelling once.
    written: Vec<Arc<str>>,
    /// Countersinks in words, with how many holes have each.
    sinks: BTreeMap<String, usize>,
}

impl Holes {
    /// Groups the openings of a plan.
    pub fn of(panel: &Panel, plan: &Plan) -> Holes {
        let mut sizes: BTreeMap<(i64, bool), Row> = BTreeMap::new();
        for o in &plan.openings {
            let Some((size, diameter)) = size(o) else { continue };
            let none = || Row {
                size,
                key: String::new(),
                diameter,
                count: 0,
                limits: limits(panel.part(o.part)),
                written: Vec::new(),
                sinks: BTreeMap::new(),
            };
            let row = sizes.entry(size).or_insert_with(none);
            row.count += 1;
            row.limits = row.limits.zip(limits(panel.part(o.part))).map(|(a, b)| a.narrower(b));
            if let Some(sink) = panel.part(o.part).fastening().and_then(countersink) {
                *row.sinks.entry(sink).or_default() += 1;
            }
            row.written
                .extend(o.written.iter().filter(|w| !row.written.contains(w)).cloned().collect::<Vec<_>>());
        }
        let rows = sizes.into_values().enumerate().map(|(k, row)| Row { key: key(k), ..row }).collect();
        Holes { rows }
    }

    /// Key letter of an opening that is in the table.
    pub fn key(&self, o: &Opening) -> Option<&str> {
        let (size, _) = size(o)?;
        self.rows.iter().find(|r| r.size == size).map(|r| r.key.as_str())
    }

    /// The rows of the table: key, count, mm (in), drill mm, drill in, how.
    pub fn cells(&self) -> Vec<Vec<String>> {
        self.rows.iter().map(Row::cells).collect()
    }

    /// The countersinks, a line each.
    pub fn countersinks(&self) -> Vec<String> {
        self.rows.iter().flat_map(Row::sinks).collect()
    }

    /// The table as words on the sheet, at most [`ROWS`] rows a block; empty where no round opening is made.
    pub fn blocks(&self) -> Vec<Block> {
        let mut blocks: Vec<Block> = Vec::new();
        for some in self.rows.chunks(ROWS) {
            let mut rows = vec![HEAD.map(str::to_owned).to_vec()];
            rows.extend(some.iter().map(Row::cells));
            let mut block =
                vec![Piece::head("Round openings, finished diameter"), Piece::Table(WIDTHS.to_vec(), rows)];
            block.extend(some.iter().flat_map(Row::sinks).map(Piece::words));
            block.extend(some.iter().filter_map(Row::larger).map(Piece::words));
            blocks.push(block);
        }
        if let Some(last) = blocks.last_mut() {
            last.push(Piece::words(
                "drill: the nearest within the opening's tolerance, in brackets what it makes, mm; - none does; \
                 drill a trial hole and measure it",
            ));
        }
        blocks
    }
}

impl Row {
    /// The countersinks of the row, a line each.
    fn sinks(&self) -> Vec<String> {
        let line = |(sink, n): (&String, &usize)| {
            let which = if *n == self.count { String::new() } else { format!(" {n} of {}", self.count) };
            format!("{}{which}: {sink}, on the pilot's side", self.key)
        };
        self.sinks.iter().map(line).collect()
    }

    /// How much larger the drills make it, where no tolerance is known to keep to.
    fn larger(&self) -> Option<String> {
        let drill::Choice { metric, inches } = drill::choose(self.diameter, self.limits);
        let more = |d: drill::Drill| {
            let by = d.diameter - self.diameter;
            (by >= 0.005).then(|| format!("{d} makes it {} larger", mm(by)))
        };
        let more: Vec<String> = [metric, inches].into_iter().flatten().filter_map(more).collect();
        let told = self.limits.is_none() && !more.is_empty();
        told.then(|| format!("{}: no tolerance known; {}", self.key, more.join(", ")))
    }

    fn cells(&self) -> Vec<String> {
        let d = self.diameter;
        let made = |d: drill::Drill| format!("{d} ({})", mm(d.diameter));
        let drill::Choice { metric, inches } = drill::choose(d, self.limits);
        let how = match (self.size.1, metric.or(inches).is_some()) {
            (true, _) => "drill from part",
            (false, true) => "drill",
            (false, false) => "cut to line",
        };
        vec![
            self.key.clone(),
            self.count.to_string(),
            match self.written.is_empty() {
                true => format!("{} ({})", mm(d), inch(d)),
                false => format!("{} ({})", mm(d), self.written.join(", ")),
            },
            metric.map_or("-".into(), |m| m.to_string()),
            inches.map_or("-".into(), made),
            how.into(),
        ]
    }
}

/// A fastener's countersink in words: diameter and angle; that an angle is not given is said.
fn countersink(f: &Fastening) -> Option<String> {
    let head = f.head.filter(|h| h.kind == HeadKind::Countersunk)?;
    let angle = match head.angle {
        Some(angle) => format!("{} degrees", trimmed(angle, 1)),
        None => "its angle is not given".into(),
    };
    Some(format!("countersink to diameter {} mm, {angle}, for {}", mm(head.diameter), f.name))
}

/// Size class and diameter of a round opening that is made.
fn size(o: &Opening) -> Option<((i64, bool), f64)> {
    let made = matches!(o.fate, Fate::Cut | Fate::FromPart);
    let (_, radius) = o.contour.as_circle().filter(|_| made)?;
    let diameter = 2.0 * radius;
    Some((((diameter / SAME).round() as i64, o.fate == Fate::FromPart), diameter))
}

/// A to Z, then AA, AB ...
fn key(k: usize) -> String {
    let letter = |k: usize| char::from(b'A' + (k % 26) as u8);
    if k < 26 { letter(k).to_string() } else { format!("{}{}", key(k / 26 - 1), letter(k)) }
}

#[cfg(test)]
mod tests {
    use super::super::column::{LEAST, SMALL};
    use super::{HEAD, WIDTHS, key};
    use crate::draw::{Weight, text};

    #[test]
    fn no_word_of_the_table_is_broken_in_the_narrowest_column() {
        let usual = ["AA", "120", "57.15 (2.250)", "4.4 mm", "11/64 in (4.37)", "cut to line"];
        for ((head, usual), part) in HEAD.iter().zip(usual).zip(WIDTHS) {
            let room = part * LEAST - 1.5;
            for (words, weight) in [(*head, Weight::Bold), (usual, Weight::Regular)] {
                let wide = text::width(words, SMALL, weight);
                assert!(wide <= room, "{words}: {wide} mm in {room} mm");
            }
        }
        assert!((WIDTHS.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn keys_go_on_after_z() {
        assert_eq!([0, 25, 26, 51, 52, 701, 702].map(key), ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }
}
