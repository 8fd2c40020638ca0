//! Outlines written as SVG path data, in the panel's own axes: y up, sweep 1 counter-clockwise, numbers
//! in the file's unit. Lines and circular arcs are taken as they are (exact to rounding).
//!
//! Unlike a browser, an arc whose radius cannot reach its end is an error: a radius that is silently
//! enlarged is a sheet that does not fit. An end that is off by rounding only is taken as a half circle.

use super::curve::{self, Ellipse};
use super::scan::{COMMANDS, Scan};
use crate::geom::{Arc, Contour, ContourError, Point, SLACK, Segment, Vec2, span};

/// What is wrong with path data, and the bytes it is about.
#[derive(Clone, Debug, PartialEq)]
pub struct PathError {
    /// Stable code.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub help: &'static str,
    /// First byte and byte after the last, within the path data.
    pub bytes: (usize, usize),
}

/// One closed loop of path data.
#[derive(Clone, Debug)]
pub struct Loop {
    /// The checked contour, in its own way round.
    pub contour: Contour,
    /// Largest distance of the contour from the curves that were written, mm; 0 for lines and arcs.
    pub error: f64,
}

/// Reads path data. `mm` is the length of the file's unit in millimetres. At least one loop is given
/// unless it is an error.
pub fn read(text: &str, mm: f64) -> Result<Vec<Loop>, PathError> {
    let mut pen = Pen::new(text, mm);
    pen.run()?;
    if pen.loops.is_empty() {
        return Err(PathError {
            code: "empty-path",
            message: "the path draws nothing".into(),
            help: "start with M x y, then lines (L, H, V) and arcs (A), and end with Z",
            bytes: (0, text.len()),
        });
    }
    Ok(pen.loops)
}

/// Most pieces that one outline may have.
const MOST_PIECES: usize = 20_000;

struct Pen<'a> {
    scan: Scan<'a>,
    mm: f64,
    here: Point,
    start: Point,
    /// Bytes of the loop's first command.
    begun: usize,
    pieces: Vec<Segment>,
    /// Bytes of each piece.
    spans: Vec<(usize, usize)>,
    /// End control point of the last curve, for the smooth commands: (cubic?, point).
    control: Option<(bool, Point)>,
    error: f64,
    loops: Vec<Loop>,
}

impl<'a> Pen<'a> {
    fn new(text: &'a str, mm: f64) -> Pen<'a> {
        Pen {
            scan: Scan { text, at: 0 },
            mm,
            here: Point::ZERO,
            start: Point::ZERO,
            begun: 0,
            pieces: Vec::new(),
            spans: Vec::new(),
            control: None,
            error: 0.0,
            loops: Vec::new(),
        }
    }

    fn run(&mut self) -> Result<(), PathError> {
        let mut first = true;
        loop {
            self.scan.blank(false);
            let begin = self.scan.at;
            let Some(c) = self.scan.peek() else { break };
            if !c.is_ascii_alphabetic() {
                return Err(self.fail("bad-path", begin, format!("`{c}` is not a path command"), COMMANDS));
            }
            if first && !matches!(c, 'M' | 'm') {
                return Err(self.fail("bad-path", begin, "the path does not start with M".into(), COMMANDS));
            }
            first = false;
            self.scan.at += 1;
            self.command(c, begin)?;
        }
        self.close(false, self.scan.text.len())
    }

    /// One command letter with all its repetitions.
    fn command(&mut self, c: char, begin: usize) -> Result<(), PathError> {
        if matches!(c, 'Z' | 'z') {
            self.close(true, begin)?;
            self.here = self.start;
            return Ok(());
        }
        let relative = c.is_ascii_lowercase();
        let mut round = 0usize;
        loop {
            let from = self.scan.at;
            let control = self.control.take();
            let base = if relative { self.here.to_vec2() } else { Vec2::ZERO };
            match c.to_ascii_uppercase() {
                'M' if round == 0 => {
                    let to = self.point(begin)? + base;
                    self.close(false, begin)?;
                    (self.here, self.start, self.begun) = (to, to, begin);
                }
                'M' | 'L' => {
                    let to = self.point(begin)? + base;
                    self.line(to, from);
                }
                'H' => {
                    let x = self.scan.single(begin)? * self.mm + base.x;
                    self.line(Point::new(x, self.here.y), from);
                }
                'V' => {
                    let y = self.scan.single(begin)? * self.mm + base.y;
                    self.line(Point::new(self.here.x, y), from);
                }
                'A' => self.arc(base, begin, from)?,
                'C' | 'S' => {
                    let mirrored = match control {
                        Some((true, p)) => self.here + (self.here - p),
                        _ => self.here,
                    };
                    let p1 = if c.eq_ignore_ascii_case(&'S') { mirrored } else { self.point(begin)? + base };
                    let p2 = self.point(begin)? + base;
                    let p3 = self.point(begin)? + base;
                    self.cubic([self.here, p1, p2, p3], from);
                    self.control = Some((true, p2));
                }
                'Q' | 'T' => {
                    let mirrored = match control {
                        Some((false, p)) => self.here + (self.here - p),
                        _ => self.here,
                    };
                    let q = if c.eq_ignore_ascii_case(&'T') { mirrored } else { self.point(begin)? + base };
                    let p3 = self.point(begin)? + base;
                    let lift = |end: Point| end + (q - end) * (2.0 / 3.0);
                    self.cubic([self.here, lift(self.here), lift(p3), p3], from);
                    self.control = Some((false, q));
                }
                _ => {
                    return Err(self.fail(
                        "bad-path",
                        begin,
                        format!("`{c}` is not a path command"),
                        COMMANDS,
                    ));
                }
            }
            round += 1;
            if self.pieces.len() > MOST_PIECES {
                let message = format!("the outline has more than {MOST_PIECES} pieces");
                return Err(self.fail(
                    "too-many-pieces",
                    begin,
                    message,
                    "draw it with fewer lines and arcs",
                ));
            }
            if !self.scan.more() {
                return Ok(());
            }
        }
    }

    fn piece(&mut self, s: Segment, from: usize) {
        self.here = s.end();
        self.pieces.push(s);
        self.spans.push((from, self.scan.at));
    }

    /// A straight piece; one of no length is left out when it goes nowhere at all.
    fn line(&mut self, to: Point, from: usize) {
        if to != self.here {
            self.piece(Segment::line(self.here, to), from);
        }
    }

    fn arc(&mut self, base: Vec2, begin: usize, from: usize) -> Result<(), PathError> {
        let rx = self.scan.number(begin)?.abs() * self.mm;
        let ry = self.scan.number(begin)?.abs() * self.mm;
        let turn = self.scan.number(begin)?;
        let large = self.scan.flag(begin)?;
        let ccw = self.scan.flag(begin)?;
        let to = self.point(begin)? + base;
        if to == self.here {
            return Err(self.fail(
                "bad-arc",
                from,
                "the arc ends where it starts".into(),
                "write a full circle as two half circles",
            ));
        }
        if rx == 0.0 || ry == 0.0 {
            let help = "write L for a straight line, or give the radius";
            return Err(self.fail("bad-arc", from, "the arc has no radius".into(), help));
        }
        if rx != ry {
            return self.ellipse(Vec2::new(rx, ry), turn, large, ccw, to, from);
        }
        let arc = circle_through(self.here, to, rx, large, ccw).map_err(|chord| {
            let message = format!(
                "an arc of radius {} cannot reach from ({}, {}) to ({}, {}), {} away",
                show(rx / self.mm),
                show(self.here.x / self.mm),
                show(self.here.y / self.mm),
                show(to.x / self.mm),
                show(to.y / self.mm),
                show(chord / self.mm)
            );
            self.fail("bad-arc", from, message, "the radius is at least half the distance of the two ends")
        })?;
        self.piece(Segment::Arc(arc), from);
        Ok(())
    }

    /// Ends the loop. `closed`: by Z; otherwise its last point must be its first.
    fn close(&mut self, closed: bool, at: usize) -> Result<(), PathError> {
        if self.pieces.is_empty() {
            return Ok(());
        }
        if closed && span(self.here, self.start) > SLACK {
            self.spans.push((at, (at + 1).min(self.scan.text.len())));
            self.pieces.push(Segment::line(self.here, self.start));
        }
        let pieces = std::mem::take(&mut self.pieces);
        let spans = std::mem::take(&mut self.spans);
        let error = std::mem::take(&mut self.error);
        match Contour::new(pieces) {
            Ok(contour) => {
                self.loops.push(Loop { contour, error });
                Ok(())
            }
            Err(e) => {
                let bytes = piece_of(&e).and_then(|k| spans.get(k).copied()).unwrap_or((self.begun, at));
                let help = match e {
                    ContourError::Open { .. } => "end the outline with Z, or make its ends meet",
                    ContourError::SelfCrossing { .. } => "an outline goes round once without crossing itself",
                    _ => "correct this piece of the outline",
                };
                Err(PathError { code: contour_code(&e), message: e.to_string(), help, bytes })
            }
        }
    }

    fn point(&mut self, begin: usize) -> Result<Point, PathError> {
        let x = self.scan.number(begin)? * self.mm;
        Ok(Point::new(x, self.scan.number(begin)? * self.mm))
    }

    fn cubic(&mut self, c: [Point; 4], from: usize) {
        self.curve(from, |out| curve::cubic(c, out));
    }

    fn ellipse(
        &mut self,
        axes: Vec2,
        turn: f64,
        large: bool,
        ccw: bool,
        to: Point,
        from: usize,
    ) -> Result<(), PathError> {
        let here = self.here;
        let Some(e) = Ellipse::through(here, to, axes, turn, large, ccw) else {
            let message = "the ellipse is too small to reach the end of its arc".into();
            return Err(self.fail("bad-arc", from, message, "enlarge its radii, or move the end"));
        };
        self.curve(from, |out| curve::ellipse(&e, here, to, out));
        Ok(())
    }

    fn curve(&mut self, from: usize, draw: impl FnOnce(&mut Vec<Segment>) -> f64) {
        let mut out = Vec::new();
        let error = draw(&mut out);
        self.error = self.error.max(error);
        for s in out {
            self.piece(s, from);
        }
    }

    fn fail(&self, code: &'static str, from: usize, message: String, help: &'static str) -> PathError {
        PathError { help, ..self.scan.fail(code, from, message) }
    }
}

/// The arc of a circle from `a` to `b`; the length of the chord if the radius cannot reach.
pub(in crate::resolve) fn circle_through(
    a: Point,
    b: Point,
    radius: f64,
    large: bool,
    ccw: bool,
) -> Result<Arc, f64> {
    let chord = b - a;
    let half = span(a, b) / 2.0;
    if half > radius + SLACK {
        return Err(2.0 * half);
    }
    // rounding of the written numbers makes a half circle
    let radius = if half > radius { half } else { radius };
    let rise = ((radius - half) * (radius + half)).max(0.0).sqrt();
    let left = Vec2::new(-chord.y, chord.x) / (2.0 * half);
    let centre = a.midpoint(b) + left * if large == ccw { -rise } else { rise };
    let arc = Arc::between(a, b, centre, ccw);
    Ok(Arc { radius, ..arc })
}

pub(in crate::resolve) fn piece_of(e: &ContourError) -> Option<usize> {
    match e {
        ContourError::NotFinite { piece }
        | ContourError::BadArc { piece, .. }
        | ContourError::ZeroLength { piece, .. }
        | ContourError::Open { piece, .. } => Some(*piece),
        ContourError::SelfCrossing { pieces, .. } => Some(pieces.1),
        ContourError::Empty | ContourError::NoArea => None,
    }
}

/// The code of a contour's error.
pub(in crate::resolve) fn contour_code(e: &ContourError) -> &'static str {
    match e {
        ContourError::Empty => "empty-path",
        ContourError::NotFinite { .. } => "not-finite",
        ContourError::BadArc { .. } => "bad-arc",
        ContourError::ZeroLength { .. } => "zero-length",
        ContourError::Open { .. } => "open-outline",
        ContourError::SelfCrossing { .. } => "crossing-outline",
        ContourError::NoArea => "no-area",
    }
}

/// A number for people: at most six decimals, no trailing zeros.
fn show(v: f64) -> String {
    let text = format!("{v:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.into() }
}
