//! The back-end-free drawing: pages of items in millimetres on paper, origin lower left, y up.
//!
//! A builder makes it, a back end only translates it. Exact primitives (line, arc, circle) stay what they
//! are to the end, so that a shop file holds true circles. Every item knows its layer, which says what a
//! machine does with it, and the id of what it shows.

use crate::geom::{Arc, Contour, Line, Point, Rect, Segment, Vec2};
use std::sync::Arc as Shared;

pub use super::layer::Layer;
pub use super::style::{Dash, Ink, Stroke};

/// A finished drawing: one or more pages of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Title as it stands in the file's own properties.
    pub title: String,
    /// Pages in order.
    pub pages: Vec<Page>,
    /// Facts about the drawing in order: name and value (revision, content hash, verdict counts).
    pub meta: Vec<(String, String)>,
    /// The unit of the panel file: what a shop file is written in.
    pub units: Units,
}

/// The unit that a shop file is written in. Inside the drawing everything stays in millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// Millimetres.
    Millimetre,
    /// Inches of exactly 25.4 mm.
    Inch,
}

impl Units {
    /// Millimetres in one unit.
    pub fn millimetres(self) -> f64 {
        match self {
            Units::Millimetre => 1.0,
            Units::Inch => 25.4,
        }
    }

    /// The word that stands in file names and on the sheet.
    pub fn word(self) -> &'static str {
        match self {
            Units::Millimetre => "mm",
            Units::Inch => "inch",
        }
    }
}

/// One page: a sheet of paper, or the whole area of a shop file.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Short name ("sheet 1", "tile B2"), part of ids and file names.
    pub name: String,
    /// Paper width in mm, above zero.
    pub width: f64,
    /// Paper height in mm, above zero.
    pub height: f64,
    /// What stands on it. Neighbouring items are painted layer by layer, in the order of
    /// [`Layer::ALL`]; within a layer, and from one group to the next, in the order given here.
    pub items: Vec<Entry>,
}

/// One entry of a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// A single item in page coordinates.
    Item(Item),
    /// Items shared with other pages, moved and clipped.
    Group(Group),
}

/// Items that several pages share: a tile shows a part of them. A point `p` of an item lands on the page
/// at `(p.x * scale_x, p.y * scale_y) + shift`; what lies outside `clip` (page coordinates) is not painted.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Window on the page, in page coordinates; none shows everything.
    pub clip: Option<Rect>,
    /// Correction of the printer's x axis, above zero; 1 is true size.
    pub scale_x: f64,
    /// Correction of the printer's y axis, above zero; 1 is true size.
    pub scale_y: f64,
    /// Added after the scale, mm on the page.
    pub shift: Vec2,
    /// The shared items, in their own coordinates, painted layer by layer.
    pub items: Shared<[Item]>,
}

impl Group {
    /// Where a point of the group's items lands on the page.
    pub fn point(&self, p: Point) -> Point {
        Point::new(p.x * self.scale_x + self.shift.x, p.y * self.scale_y + self.shift.y)
    }
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What kind of thing it is, and what a machine does with it.
    pub layer: Layer,
    /// Id of what it shows (a placement, a rule's finding), if it shows one thing.
    pub subject: Option<String>,
    /// Its form.
    pub shape: Shape,
    /// How its line is drawn; none leaves the line away. Text ignores it.
    pub stroke: Option<Stroke>,
    /// What fills a closed shape or the letters of a text; none leaves it empty (a text is then black).
    pub fill: Option<Ink>,
}

impl Item {
    /// A shape drawn with a line and no fill.
    pub fn stroked(layer: Layer, shape: Shape, stroke: Stroke) -> Item {
        Item { layer, subject: None, shape, stroke: Some(stroke), fill: None }
    }

    /// A closed shape filled, without a line.
    pub fn filled(layer: Layer, shape: Shape, ink: Ink) -> Item {
        Item { layer, subject: None, shape, stroke: None, fill: Some(ink) }
    }

    /// A black text.
    pub fn text(layer: Layer, text: Text) -> Item {
        Item { layer, subject: None, shape: Shape::Text(text), stroke: None, fill: Some(Ink::BLACK) }
    }

    /// The same item, saying what it shows.
    #[must_use]
    pub fn of(mut self, subject: impl Into<String>) -> Item {
        self.subject = Some(subject.into());
        self
    }
}

/// A form, in mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line(Line),
    /// A circular arc.
    Arc(Arc),
    /// A full circle; the radius is above zero.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius, mm.
        radius: f64,
    },
    /// A closed contour of lines and arcs.
    Path(Contour),
    /// An open chain of pieces, each starting where the one before ends.
    Chain(Vec<Segment>),
    /// A line of text.
    Text(Text),
    /// Parallel lines inside closed contours (inside by the even-odd rule, so that a contour within
    /// another stays free).
    Hatch {
        /// The area's borders; they are not drawn.
        contours: Vec<Contour>,
        /// Distance of two lines, mm, above zero.
        spacing: f64,
        /// Direction of the lines, degrees counter-clockwise from x.
        angle: f64,
    },
    /// A grey picture under a drawing to look at; no shop file holds it.
    Picture {
        /// Where it lies on the page.
        at: Rect,
        /// Its pixels.
        picture: Shared<Greys>,
    },
}

/// A grey picture, row by row from the top.
#[derive(Clone, Debug, PartialEq)]
pub struct Greys {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// One byte a pixel: 0 is black.
    pub pixels: Vec<u8>,
}

impl Shape {
    /// A straight line from `a` to `b`.
    pub fn line(a: Point, b: Point) -> Shape {
        Shape::Line(Line { a, b })
    }

    /// A contour as the simplest shape that is exactly it: a circle stays a circle.
    pub fn contour(contour: &Contour) -> Shape {
        match contour.as_circle() {
            Some((centre, radius)) => Shape::Circle { centre, radius },
            None => Shape::Path(contour.clone()),
        }
    }

    /// Smallest upright box in mm (for a text: of its cap-height box); none for an empty shape.
    pub fn bounds(&self) -> Option<Rect> {
        let union = |a: Option<Rect>, b: Rect| Some(a.map_or(b, |a| a.union(b)));
        match self {
            Shape::Line(l) => Some(Rect::from_points(l.a, l.b)),
            Shape::Arc(a) => Some(Segment::Arc(*a).bounds()),
            Shape::Circle { centre, radius } => {
                Some(Rect::from_center_size(*centre, (2.0 * radius, 2.0 * radius)))
            }
            Shape::Path(c) => Some(c.bounds()),
            Shape::Chain(pieces) => pieces.iter().map(Segment::bounds).fold(None, union),
            Shape::Text(t) => Some(super::text::bounds(t)),
            Shape::Hatch { contours, .. } => contours.iter().map(Contour::bounds).fold(None, union),
            Shape::Picture { at, .. } => Some(*at),
        }
    }
}

/// A line of text in the bundled font.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Where its anchor stands.
    pub at: Point,
    /// Height of a capital letter, mm, above zero.
    pub height: f64,
    /// Direction of the line, degrees counter-clockwise from x.
    pub angle: f64,
    /// Which point of the text stands there.
    pub anchor: Anchor,
    /// The characters, one line (a control character counts as a space).
    pub text: String,
    /// Regular or bold.
    pub weight: Weight,
}

impl Text {
    /// A level, regular text.
    pub fn new(at: Point, height: f64, anchor: Anchor, text: impl Into<String>) -> Text {
        Text { at, height, angle: 0.0, anchor, text: text.into(), weight: Weight::Regular }
    }

    /// The same in bold.
    #[must_use]
    pub fn bold(mut self) -> Text {
        self.weight = Weight::Bold;
        self
    }

    /// The same turned to `degrees` counter-clockwise from x.
    #[must_use]
    pub fn turned(mut self, degrees: f64) -> Text {
        self.angle = degrees;
        self
    }
}

/// Which point of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Anchor {
    /// Along the line.
    pub across: Across,
    /// Across the line.
    pub up: Up,
}

impl Anchor {
    /// Left end of the baseline.
    pub const LEFT: Anchor = Anchor { across: Across::Left, up: Up::Baseline };
    /// Middle of the baseline.
    pub const MIDDLE: Anchor = Anchor { across: Across::Middle, up: Up::Baseline };
    /// Right end of the baseline.
    pub const RIGHT: Anchor = Anchor { across: Across::Right, up: Up::Baseline };
    /// Middle of the cap-height box.
    pub const CENTRE: Anchor = Anchor { across: Across::Middle, up: Up::Middle };
    /// Left end, cap height.
    pub const TOP_LEFT: Anchor = Anchor { across: Across::Left, up: Up::Top };
}

/// Anchor along the line of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Across {
    /// At the start.
    Left,
    /// Half the width.
    Middle,
    /// At the end.
    Right,
}

/// Anchor across the line of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Up {
    /// Where the letters stand.
    Baseline,
    /// Half a capital's height.
    Middle,
    /// A capital's top.
    Top,
}

/// Weight of the letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Regular.
    Regular,
    /// Bold.
    Bold,
}
