//! The words and tables of a drawing: hole schedule, coordinates, contours, outline, notes, cautions.

use super::contour;
use super::feature::Features;
use super::flow::{Cells, Piece};
use super::form::{Form, turned};
use super::number::degrees;
use super::view::{self, Mode, Scene};
use crate::draw::template::Standing;
use crate::draw::template::count_words;
use crate::draw::template::kerf::process_word;
use crate::draw::template::strip::CAUTIONS;
use crate::draw::template::words::short_hash;
use crate::geom::{Contour, Point};
use crate::panel::{Structure, TermKind};

/// A paragraph or table group that starts together.
pub type Block = Vec<Piece>;

/// General tolerance where the panel's title block names none: the one that the fit check takes too.
pub const GENERAL: &str = "ISO 2768-1 m";

/// Everything beside the view, in reading order. `unplaced`: tags that found no room on the view.
pub fn blocks(s: &Scene<'_>, mode: Mode, standing: &Standing, unplaced: &[(String, Point)]) -> Vec<Block> {
    let mut blocks = vec![schedule(s.features)];
    if mode == Mode::Table {
        blocks.push(coordinates(s));
    }
    blocks.push(outline(s));
    blocks.extend(contours(s));
    blocks.push(notes(s, mode, unplaced));
    blocks.push(standings(s, standing));
    blocks.push(cautions());
    blocks
}

/// The hole schedule.
fn schedule(features: &Features) -> Block {
    if features.rows.is_empty() {
        return vec![Piece::Head("Hole schedule".into()), Piece::Words("no opening in this sheet".into())];
    }
    let rows = features.rows.iter().map(|r| {
        let cells =
            [&r.letter, &r.count.to_string(), &r.size, &r.tolerance, &r.tool, &r.uses].map(String::clone);
        Cells(format!("row {}", r.letter), cells.to_vec())
    });
    let head = vec!["", "qty", "size", "\u{b1}", "tool", "for"];
    let parts = vec![0.08, 0.1, 0.245, 0.125, 0.215, 0.235];
    vec![Piece::Head("Hole schedule".into()), Piece::Table(parts, head, rows.collect())]
}

/// The table of coordinates.
fn coordinates(s: &Scene<'_>) -> Block {
    let n = |v: f64| s.print.number(v);
    let turned = s.features.list.iter().any(|f| f.turned.is_some());
    let rows = s.features.list.iter().map(|f| {
        let tag = view::tag(f, Mode::Table);
        let c = f.seen.centre - s.datum;
        let mut cells = vec![tag.clone(), n(c.x), n(c.y)];
        if turned {
            cells
                .push(f.turned.as_ref().map_or(String::new(), |_| format!("{}\u{b0}", degrees(f.seen.turn))));
        }
        cells.push(f.name.clone());
        Cells(format!("place {tag}"), cells)
    });
    let (parts, head) = match turned {
        true => (vec![0.14, 0.175, 0.175, 0.16, 0.35], vec!["", "x", "y", "turned", "opening"]),
        false => (vec![0.14, 0.175, 0.175, 0.51], vec!["", "x", "y", "opening"]),
    };
    vec![Piece::Head("Coordinates of centres".into()), Piece::Table(parts, head, rows.collect())]
}

/// The outline in words or point by point.
fn outline(s: &Scene<'_>) -> Block {
    let mut block = vec![Piece::Head("Outline".into())];
    let n = |v: f64| s.print.number(v);
    if !s.plan.cut_outline {
        block.push(Piece::Words("exists: not cut again".into()));
    }
    match &s.outline.form {
        Form::Path(pieces) => {
            block.push(Piece::Words("points as numbered on the view, from the datum".into()));
            block.push(points("outline", pieces, s));
        }
        form => {
            let c = s.outline.centre - s.datum;
            let turn = turned(s.outline).map_or(String::new(), |t| format!(", {t}"));
            block.push(Piece::Words(format!(
                "{}; centre at x {}, y {}{turn}",
                form.words(s.print),
                n(c.x),
                n(c.y)
            )));
        }
    }
    block
}

fn points(name: &str, pieces: &[crate::geom::Segment], s: &Scene<'_>) -> Piece {
    let rows = contour::rows(pieces, s.print).into_iter().map(|cells| {
        let k = cells.first().cloned().unwrap_or_default();
        Cells(format!("{name} {k}"), cells)
    });
    Piece::Table(vec![0.08, 0.18, 0.18, 0.56], vec!["", "x", "y", "to the next point"], rows.collect())
}

/// Openings that are told point by point.
fn contours(s: &Scene<'_>) -> Vec<Block> {
    let paths = s.features.rows.iter().filter_map(|r| match &r.form {
        Form::Path(pieces) => Some((r, pieces)),
        _ => None,
    });
    paths
        .map(|(r, pieces)| {
            vec![
                Piece::Head(format!("Contour {}", r.letter)),
                Piece::Words("from the centre mark of the opening".into()),
                points(&format!("contour {}", r.letter), pieces, s),
            ]
        })
        .collect()
}

fn notes(s: &Scene<'_>, mode: Mode, unplaced: &[(String, Point)]) -> Block {
    let mut b = vec![Piece::Head("Notes".into())];
    let unit = if s.print.inch { "inches" } else { "millimetres" };
    let n = |v: f64| s.print.number(v);
    let mut number = 0;
    let mut say = |words: String| {
        number += 1;
        b.push(Piece::Words(format!("{number}  {words}")));
    };
    let places = match mode {
        Mode::Ordinates => "numbers at the edge of the view are running dimensions from the datum to centres",
        Mode::Table => "places of centres stand in the table, from the datum; x to the right, y up",
    };
    say(format!(
        "Dimensions in {unit}, rounded to {}; {places}.",
        if s.print.inch { ".001" } else { "0.01" }
    ));
    say(datum(s));
    say("Do not scale. Front face, seen by the pilot. Sizes are finished sizes; where no tolerance stands the general \
         one holds."
        .into());
    say(process(s));
    let shift = |k: usize| {
        let parts = s.panel.subjects.get(k).map(|s| &s.parts[..]).unwrap_or_default();
        parts
            .iter()
            .flat_map(|p| &p.terms)
            .filter(|t| t.kind == TermKind::Position)
            .map(|t| t.shift)
            .fold(0.0, f64::max)
    };
    let made = s.features.list.iter().map(|f| shift(f.part.subject as usize));
    let most = made.fold(0.0, f64::max);
    if s.print.key(most) > 0 {
        say(format!(
            "Places of openings \u{b1}{}. The fit check counts on this and on the tolerances of the schedule.",
            n(most)
        ));
    }
    say("Deburr all edges, break sharp edges 0.2 to 0.5 mm (common practice, no source).".into());
    if s.features.rows.iter().any(|r| r.size.contains("LL ")) {
        say("LL, LR, UR, UL: lower left, lower right, upper right, upper left corner.".into());
    }
    if s.features.list.iter().any(|f| f.turned.is_some()) {
        say("Turned: counter-clockwise about the centre mark.".into());
    }
    say(
        "Solid: cut. Dashed: exists, not cut. Dotted: the part guides the drill. Dash and two dots: provision, not \
         cut now."
            .into(),
    );
    let zones: Vec<String> =
        view::zones(s.panel, s.sheet).map(|z| format!("{}: {}", z.id, z.because)).collect();
    if !zones.is_empty() {
        say(format!("Hatched: no opening there ({}).", zones.join("; ")));
    }
    for r in &s.features.remarks {
        say(format!("{}.", r.trim_end_matches('.')));
    }
    if !unplaced.is_empty() {
        let list = unplaced
            .iter()
            .map(|(tag, p)| format!("{tag} at {}, {}", n(p.x - s.datum.x), n(p.y - s.datum.y)));
        say(format!("No room on the view for the tags: {}.", list.collect::<Vec<_>>().join("; ")));
    }
    b
}

/// How it is cut, and that the sizes are those of the finished part.
fn process(s: &Scene<'_>) -> String {
    let Some(p) = s.panel.process_of(s.sheet) else { return "Process not given.".into() };
    let mut words = format!("Process: {}", process_word(p.kind));
    for (name, size) in [("width of the cut", p.kerf), ("radius of the tool", p.tool_radius)] {
        if let Some(v) = size {
            words.push_str(&format!(", {name} {}", s.print.number(v)));
        }
    }
    format!("{words}. Whoever makes the tool path allows for it: no size here does.")
}

/// Where the datum is.
fn datum(s: &Scene<'_>) -> String {
    let (x, y) = (s.print.number(s.datum.x), s.print.number(s.datum.y));
    if s.datum == Point::ORIGIN {
        let b: Contour = s.plan.outline.clone();
        let inside = b.bounds().inflate(0.01, 0.01).contains(Point::ORIGIN);
        return if inside {
            "Datum (0, 0): the panel's.".into()
        } else {
            "Datum (0, 0): the panel's; it lies beside this sheet.".into()
        };
    }
    format!("Datum (0, 0) of this drawing: x {x}, y {y} of the panel.")
}

fn standings(s: &Scene<'_>, standing: &Standing) -> Block {
    let p = s.panel;
    let mut b = vec![Piece::Head("Standing".into())];
    if let Some(n) = standing.notice() {
        b.push(Piece::Strong(n));
    }
    if let Some((because, by)) = &standing.lifted {
        b.push(Piece::Strong(format!("CUT IN SPITE OF {}", standing.against.join(", "))));
        b.push(Piece::Words(format!("recorded reason: {because} ({by})")));
    }
    b.push(Piece::Words(format!("verdicts: {}", count_words(&standing.counts))));
    let revision = p.title.get("revision").unwrap_or("not given");
    b.push(Piece::Words(format!("revision {revision}; content of the inputs: {}", short_hash(p))));
    let structure = p.sheets.get(s.sheet).map(|s| &s.structure);
    let by = |who: &Option<String>| who.as_ref().map_or(String::new(), |w| format!(", says {w}"));
    b.push(Piece::Words(match structure {
        Some((Structure::Yes, who)) => {
            format!("this sheet is structure{}: who approves the change?", by(who))
        }
        Some((Structure::No, who)) => format!("not structure{}", by(who)),
        _ => "is this sheet structure, and who approves the change? Not answered: ask before cutting".into(),
    }));
    b
}

fn cautions() -> Block {
    let mut b = vec![Piece::Head("Cautions".into())];
    b.push(Piece::Words("Check every number against your own instruments and airframe.".into()));
    b.extend(CAUTIONS.iter().skip(1).map(|c| Piece::Words((*c).into())));
    b
}
