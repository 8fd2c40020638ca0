//! Path data as a browser reads it, in the element's own coordinates. Straights and circular arcs are kept as such,
//! Béziers and elliptic arcs as curves beside their chord.

use crate::geom::{Arc, Point, Rational, Rect, Segment, Vec2, angle, length, span};
use crate::import::{Curve, Shape};

/// One subpath and the byte of the path data at which it starts.
pub struct Subpath {
    /// Its chain.
    pub shape: Shape,
    /// Its first byte.
    pub start: usize,
}

/// What is wrong with path data: first byte, byte after the last, and why.
pub struct Fault {
    /// First byte.
    pub start: usize,
    /// Byte after the last.
    pub end: usize,
    /// Why.
    pub why: String,
}

/// Numbers and letters from left to right.
pub struct Scan<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Scan<'a> {
    /// At the start of a text.
    pub fn new(text: &'a str) -> Scan<'a> {
        Scan { text, at: 0 }
    }

    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// Skips blanks and commas.
    pub fn blank(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\t' | b'\r' | b'\n' | 0xC | b',')) {
            self.at += 1;
        }
    }

    /// Whether everything was read.
    pub fn done(&mut self) -> bool {
        self.blank();
        self.at >= self.text.len()
    }

    /// Whether a number follows.
    pub fn more(&mut self) -> bool {
        self.blank();
        self.peek().is_some_and(|c| c.is_ascii_digit() || matches!(c, b'.' | b'-' | b'+'))
    }

    fn fault(&self, start: usize, why: impl Into<String>) -> Fault {
        Fault { start, end: self.at.max(start + 1), why: why.into() }
    }

    /// A finite number.
    pub fn number(&mut self) -> Result<f64, Fault> {
        self.blank();
        let from = self.at;
        let b = self.text.as_bytes();
        let digits = |mut k: usize| {
            while b.get(k).is_some_and(u8::is_ascii_digit) {
                k += 1;
            }
            k
        };
        let k = from + usize::from(matches!(b.get(from), Some(b'+' | b'-')));
        let mut end = digits(k);
        let mut any = end > k;
        if b.get(end) == Some(&b'.') {
            let part = digits(end + 1);
            any |= part > end + 1;
            end = part;
        }
        if any && matches!(b.get(end), Some(b'e' | b'E')) {
            let sign = usize::from(matches!(b.get(end + 1), Some(b'+' | b'-')));
            let power = digits(end + 1 + sign);
            if power > end + 1 + sign {
                end = power;
            }
        }
        if !any {
            let shown: String = self.text.get(from..).unwrap_or("").chars().take(12).collect();
            return Err(self.fault(from, format!("a number is expected here, found `{shown}`")));
        }
        self.at = end;
        let written = self.text.get(from..end).unwrap_or("");
        crate::import::number(written).map_err(|why| self.fault(from, format!("{written} {why}")))
    }

    fn point(&mut self) -> Result<Point, Fault> {
        Ok(Point::new(self.number()?, self.number()?))
    }

    fn flag(&mut self) -> Result<bool, Fault> {
        self.blank();
        match self.peek() {
            Some(c @ (b'0' | b'1')) => {
                self.at += 1;
                Ok(c == b'1')
            }
            _ => Err(self.fault(self.at, "an arc's two flags are 0 or 1")),
        }
    }
}

#[derive(Default)]
struct Pen {
    here: Point,
    start: Point,
    begun: usize,
    pieces: Vec<Segment>,
    curves: Vec<Curve>,
    /// End control point of the last curve: (cubic?, point).
    control: Option<(bool, Point)>,
    open: bool,
    out: Vec<Subpath>,
}

/// Reads path data.
///
/// # Errors
/// The first fault.
pub fn read(text: &str) -> Result<Vec<Subpath>, Fault> {
    let mut scan = Scan::new(text);
    let mut pen = Pen::default();
    let mut first = true;
    while !scan.done() {
        let at = scan.at;
        let c = scan.peek().unwrap_or(b' ');
        if !c.is_ascii_alphabetic() {
            return Err(scan.fault(at, "a path command is expected here"));
        }
        if first && !c.eq_ignore_ascii_case(&b'M') {
            return Err(scan.fault(at, "the path does not start with M"));
        }
        first = false;
        scan.at += 1;
        if c.eq_ignore_ascii_case(&b'Z') {
            pen.close();
            continue;
        }
        let mut round = 0usize;
        loop {
            command(&mut scan, &mut pen, c, round, at)?;
            round += 1;
            if !scan.more() {
                break;
            }
        }
    }
    pen.end(false);
    Ok(pen.out)
}

fn command(scan: &mut Scan<'_>, pen: &mut Pen, c: u8, round: usize, at: usize) -> Result<(), Fault> {
    let relative = c.is_ascii_lowercase();
    let base = if relative { pen.here.to_vec2() } else { Vec2::ZERO };
    let control = pen.control.take();
    match c.to_ascii_uppercase() {
        b'M' if round == 0 => {
            let to = scan.point()? + base;
            pen.end(false);
            (pen.here, pen.start, pen.begun) = (to, to, at);
        }
        b'M' | b'L' => {
            let to = scan.point()? + base;
            pen.line(to);
        }
        b'H' => {
            let x = scan.number()? + base.x;
            pen.line(Point::new(x, pen.here.y));
        }
        b'V' => {
            let y = scan.number()? + base.y;
            pen.line(Point::new(pen.here.x, y));
        }
        b'A' => {
            let (rx, ry) = (scan.number()?.abs(), scan.number()?.abs());
            let turn = scan.number()?;
            let (large, sweep) = (scan.flag()?, scan.flag()?);
            let to = scan.point()? + base;
            pen.arc(Vec2::new(rx, ry), turn, large, sweep, to);
        }
        b'C' | b'S' | b'Q' | b'T' => {
            let cubic = matches!(c.to_ascii_uppercase(), b'C' | b'S');
            let mirrored = match control {
                Some((kind, p)) if kind == cubic => pen.here + (pen.here - p),
                _ => pen.here,
            };
            let smooth = matches!(c.to_ascii_uppercase(), b'S' | b'T');
            let p1 = if smooth { mirrored } else { scan.point()? + base };
            let p2 = if cubic { scan.point()? + base } else { p1 };
            let to = scan.point()? + base;
            let bounds = Rect::from_points(pen.here, to).union_pt(p1).union_pt(p2);
            let part = match cubic {
                true => Rational::bezier(&[pen.here, p1, p2, to]),
                false => Rational::bezier(&[pen.here, p1, to]),
            };
            pen.curve(to, bounds, vec![part]);
            pen.control = Some((cubic, p2));
        }
        _ => return Err(scan.fault(at, format!("`{}` is no path command", char::from(c)))),
    }
    Ok(())
}

impl Pen {
    fn piece(&mut self, s: Segment) {
        self.open = true;
        self.here = s.end();
        self.pieces.push(s);
    }

    fn line(&mut self, to: Point) {
        self.open = true;
        if to != self.here {
            self.piece(Segment::line(self.here, to));
        }
    }

    fn curve(&mut self, to: Point, bounds: Rect, parts: Vec<Rational>) {
        self.curves.push(Curve { piece: self.pieces.len(), bounds, exact: Ok(parts.into()) });
        self.piece(Segment::line(self.here, to));
    }

    /// Scalable Vector Graphics 1.1, appendix F.6: no radius is a straight, a radius too small is enlarged.
    fn arc(&mut self, axes: Vec2, turn: f64, large: bool, sweep: bool, to: Point) {
        let (rx, ry) = (axes.x, axes.y);
        let from = self.here;
        if to == from {
            return;
        }
        if rx == 0.0 || ry == 0.0 {
            return self.line(to);
        }
        let d = to - from;
        let long = length(d);
        if (rx - ry).abs() > 1e-9 * rx.max(ry) {
            return self.ellipse(axes, turn, large == sweep, sweep, to);
        }
        let r = rx.max(long / 2.0);
        let h = ((r - long / 2.0) * (r + long / 2.0)).max(0.0).sqrt();
        let side = if large == sweep { -1.0 } else { 1.0 };
        let centre = from.midpoint(to) + Vec2::new(-d.y, d.x) * (side * h / long);
        let arc = Arc::between(from, to, centre, sweep);
        if centre.is_finite() && span(centre, from) < 1e9 {
            self.piece(Segment::Arc(arc));
        } else {
            self.line(to);
        }
    }

    /// The same with two radii, by way of the circle that the ellipse is under a scale (F.6.5).
    fn ellipse(&mut self, axes: Vec2, turn: f64, over: bool, sweep: bool, to: Point) {
        let from = self.here;
        let (s, c) = angle::sin_cos_deg(turn);
        let own = |v: Vec2| Vec2::new((v.x * c + v.y * s) / axes.x, (v.y * c - v.x * s) / axes.y);
        let d = own(to - from);
        let long = length(d);
        let r = (long / 2.0).max(1.0);
        let h = ((r - long / 2.0) * (r + long / 2.0)).max(0.0).sqrt();
        let side = if over { -1.0 } else { 1.0 };
        // centre in the scaled axes, from the start
        let mid = d / 2.0 + Vec2::new(-d.y, d.x) * (side * h / long.max(f64::MIN_POSITIVE));
        let (u, v) = (Vec2::new(c, s) * (axes.x * r), Vec2::new(-s, c) * (axes.y * r));
        let centre = from + (u * mid.x + v * mid.y) / r;
        let start = angle::normalise(angle::direction(-mid));
        let turned = angle::normalise(angle::direction(d - mid) - start);
        let way = if sweep { turned } else { turned - std::f64::consts::TAU };
        if !centre.is_finite() || length(u) > 1e9 || length(v) > 1e9 || long == 0.0 {
            return self.line(to);
        }
        let reach = length(u).max(length(v));
        let bounds = Rect::from_center_size(centre, (2.0 * reach, 2.0 * reach)).union_pt(to).union_pt(from);
        self.curve(to, bounds, Rational::ellipse(centre, u, v, start, way));
    }

    fn close(&mut self) {
        self.open = true;
        if self.here != self.start {
            self.piece(Segment::line(self.here, self.start));
        }
        self.end(true);
        self.here = self.start;
        self.control = None;
    }

    /// Ends a subpath. One that drew nothing at all is none; one that went nowhere has no length.
    fn end(&mut self, closed: bool) {
        let mut pieces = std::mem::take(&mut self.pieces);
        let curves = std::mem::take(&mut self.curves);
        if !std::mem::take(&mut self.open) {
            return;
        }
        let mut closed = closed;
        if pieces.is_empty() {
            pieces.push(Segment::line(self.start, self.start));
            closed = false;
        }
        self.out.push(Subpath { shape: Shape::Chain { pieces, closed, curves }, start: self.begun });
        self.begun = 0;
    }
}
