//! A file of measured points: a table with commas, its first row naming the columns `x mm,y mm,contour,piece`.

use super::joined::Fault;
use super::{On, Run};
use crate::diag::{Lines, Problem, Problems, Where, did_you_mean};
use crate::geom::{Point, Segment};
use crate::import::{
    Axes, CutFile, Declared, FileUnit, Format, Item, Layer, MOST_MM, ReadOptions, Shape, Spot, decode, number,
};
use std::sync::Arc;

/// Columns that are known.
const COLUMNS: [&str; 4] = ["x", "y", "contour", "piece"];
/// Most faults that are told.
const MOST_FAULTS: usize = 50;

/// Contours by name, with their runs.
pub(super) type Contours = Vec<(String, Vec<Run>)>;

/// Reads the table: an empty drawing with a layer for each contour, and the runs.
pub(super) fn read(
    name: &str,
    bytes: &[u8],
    options: &ReadOptions,
) -> Result<(CutFile, Contours, Lines), Problems> {
    let lines = Lines::new(name.into(), decode(name, bytes)?.into());
    let text = lines.text().clone();
    let mut problems = Problems::new();
    problems.add_text(lines.file(), lines.text());
    let mut rows = rows(&text);
    let Some((start, head)) = rows.next() else {
        let p = Problem::new("no-points", &lines.place(0, 0), "the file holds no points");
        problems.push(p.help("the first row names the columns: x mm,y mm,contour,piece"));
        return Err(problems);
    };
    let (columns, unit) = header(&lines, start, head, &mut problems);
    if !problems.is_empty() {
        return Err(problems);
    }
    let unit = match (options.unit_mm, unit) {
        (Some(mm), _) => FileUnit { name: "unit".into(), mm, declared: Declared::ByUser },
        (None, Some((name, mm))) => {
            FileUnit { name: name.into(), mm, declared: Declared::InFile("its first row".into()) }
        }
        (None, None) => FileUnit {
            name: "mm".into(),
            mm: 1.0,
            declared: Declared::Missing("its first row names none, as `x mm,y mm` would".into()),
        },
    };
    let mut contours: Contours = Vec::new();
    for (start, row) in rows {
        if problems.len() >= MOST_FAULTS {
            break;
        }
        let Some((contour, piece, on, at)) = point(&lines, start, row, &columns, unit.mm, &mut problems)
        else {
            continue;
        };
        let k = contours.iter().position(|c| c.0 == contour).unwrap_or_else(|| {
            contours.push((contour.to_owned(), vec![]));
            contours.len() - 1
        });
        let runs = &mut contours[k].1;
        if runs.last().is_none_or(|r| r.name != piece) {
            runs.push(Run { on, name: piece.to_owned(), points: vec![], lines: vec![] });
        }
        if let Some(last) = runs.last_mut() {
            last.points.push(at);
            last.lines.push(lines.place(start, start).line);
        }
    }
    contours.iter_mut().for_each(|(_, runs)| whole(runs));
    let layer =
        |(name, _): &(String, Vec<Run>)| Layer { name: name.clone(), hidden: None, says_cut: Some(true) };
    let file = CutFile {
        file: lines.file().clone(),
        format: Format::Points,
        version: format!("{} contours", contours.len()),
        unit,
        axes: Axes::File,
        layers: contours.iter().map(layer).collect(),
        items: vec![],
        not_read: vec![],
        remarks: vec![],
    };
    if problems.is_empty() && contours.is_empty() {
        let p = Problem::new("no-points", &lines.place(start, start), "the file holds no points");
        problems.push(p.help("below the first row, one point a row: 0.2,-0.1,outline,line bottom"));
    }
    problems.or((file, contours, lines))
}

/// Who begins in the middle of a piece comes back to it at the end of the way round: its points are one run.
fn whole(runs: &mut Vec<Run>) {
    let same = runs.first().map(|r| &r.name) == runs.last().map(|r| &r.name);
    if runs.len() < 3 || !same {
        return;
    }
    let (Some(mut last), Some(first)) = (runs.pop(), runs.first_mut()) else { return };
    last.points.append(&mut first.points);
    last.lines.append(&mut first.lines);
    (first.points, first.lines) = (last.points, last.lines);
}

/// Rows that say something, each with its first byte.
fn rows(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut at = 0;
    text.split_inclusive('\n')
        .map(move |row| {
            let start = at;
            at += row.len();
            (start, row.trim_end())
        })
        .filter(|(_, row)| !row.trim().is_empty() && !row.trim_start().starts_with('#'))
}

/// Cells of a row, each with its first byte.
fn cells(start: usize, row: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut at = start;
    row.split(',').map(move |cell| {
        let first = at + cell.len() - cell.trim_start().len();
        at += cell.len() + 1;
        (first, cell.trim())
    })
}

/// Where each known column stands, and the unit.
fn header(
    lines: &Lines,
    start: usize,
    row: &str,
    problems: &mut Problems,
) -> ([usize; 4], Option<(&'static str, f64)>) {
    let mut places = [None; 4];
    let mut units = Vec::new();
    for (k, (at, cell)) in cells(start, row).enumerate() {
        let (name, unit) = cell.split_once(char::is_whitespace).unwrap_or((cell, ""));
        let place = lines.place(at, at + cell.len());
        let lower = name.to_ascii_lowercase();
        match COLUMNS.iter().position(|c| *c == lower) {
            Some(c) if places[c].is_none() => places[c] = Some(k),
            Some(_) => problems.push(Problem::new(
                "doubled-column",
                &place,
                format!("the column {lower} stands here again"),
            )),
            None => {
                let p = Problem::new(
                    "unknown-column",
                    &place,
                    format!("`{cell}` is no column of a file of points"),
                );
                problems.push(match did_you_mean(&lower, COLUMNS) {
                    Some(n) => p.help(format!("did you mean `{n}`?")),
                    None => {
                        p.help("the columns are x, y, contour and piece; x and y bear their unit: x mm,y mm")
                    }
                });
            }
        }
        match unit.trim() {
            "" => {}
            "mm" => units.push(("mm", 1.0)),
            "in" => units.push(("in", 25.4)),
            other => problems.push(
                Problem::new("bad-unit", &place, format!("`{other}` is no unit of a column"))
                    .help("mm or in"),
            ),
        }
    }
    let place = lines.place(start, start + row.len());
    for (c, name) in COLUMNS.iter().enumerate().filter(|(c, _)| places[*c].is_none()) {
        let p = Problem::new("missing-column", &place, format!("the first row names no column {name}"));
        problems.push(p.help(match c {
            0 | 1 => "the first row is x mm,y mm,contour,piece",
            2 => "it says to which contour a point belongs: outline, airspeed, ...",
            _ => "it says what a point lies on: line left, fillet 1, arc top, circle",
        }));
    }
    if units.windows(2).any(|u| u[0] != u[1]) {
        problems.push(Problem::new("two-units", &place, "x and y are in different units").help("use one"));
    }
    (places.map(Option::unwrap_or_default), units.first().copied())
}

fn point<'a>(
    lines: &Lines,
    start: usize,
    row: &'a str,
    columns: &[usize; 4],
    mm: f64,
    problems: &mut Problems,
) -> Option<(&'a str, &'a str, On, Point)> {
    let all: Vec<(usize, &str)> = cells(start, row).collect();
    let most = columns.iter().max().copied().unwrap_or(0) + 1;
    if all.len() != most {
        let place = lines.place(start, start + row.len());
        let message = format!("the row has {} cells, the first row {most}", all.len());
        let p = Problem::new("bad-row", &place, message);
        problems.push(p.help("numbers have a point, commas stand between the cells alone"));
        return None;
    }
    let [x, y, contour, piece] = columns.map(|k| all[k]);
    let mut coordinate = |(at, cell): (usize, &str)| {
        let why = match number(cell) {
            Ok(v) if (v * mm).abs() <= MOST_MM => return Some(v * mm),
            Ok(_) => "is farther out than any panel",
            Err(why) => why,
        };
        let place = lines.place(at, at + cell.len());
        problems.push(Problem::new("bad-number", &place, format!("`{cell}` {why}")).help("correct it"));
        None
    };
    let (x, y) = (coordinate(x), coordinate(y));
    let word = piece.1.split_whitespace().next().unwrap_or("");
    let on = [On::Line, On::Arc, On::Circle, On::Fillet].into_iter().find(|o| o.word() == word);
    let say = |at: (usize, &str)| lines.place(at.0, at.0 + at.1.len());
    if on.is_none() {
        let p = Problem::new(
            "bad-piece",
            &say(piece),
            format!("`{}` does not say what the point lies on", piece.1),
        );
        problems
            .push(p.help("line, arc, circle or fillet, with a name of yours behind: line left, fillet 2"));
    }
    if contour.1.is_empty() {
        let p = Problem::new("no-contour-named", &say(contour), "the point names no contour");
        problems.push(p.help("outline, or the name of an opening"));
        return None;
    }
    Some((contour.1, piece.1, on?, Point::new(x?, y?)))
}

/// Adds a fitted contour to the drawing.
pub(super) fn item(file: &mut CutFile, layer: usize, name: &str, runs: &[Run], pieces: Vec<Segment>) {
    let line = runs.first().and_then(|r| r.lines.first()).copied().unwrap_or(1);
    file.items.push(Item {
        kind: "points".into(),
        layer,
        spot: Spot { line, column: 1, id: Some(Arc::from(name)), via: None },
        shape: Shape::Chain { pieces, closed: true, curves: vec![] },
        hidden: None,
        mirrored: false,
        z: [0.0; 2],
    });
}

/// A fault of a contour as a problem with its place.
pub(super) fn problem(lines: &Lines, line: u32, contour: &str, run: Option<&Run>, fault: Fault) -> Problem {
    let start: usize = lines.text().split_inclusive('\n').take(line as usize - 1).map(str::len).sum();
    let row = lines.text().get(start..).and_then(|t| t.lines().next()).unwrap_or("");
    let place: Where = lines.place(start, start + row.len());
    let piece = run.map_or("", |r| r.name.as_str());
    Problem::new(fault.code, &place, format!("{contour}, {piece}: {}", fault.says)).help(fault.help)
}
