//! How lines and areas look: width, pattern, grey.

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Line width in mm, above zero.
    pub width: f64,
    /// Its pattern.
    pub dash: Dash,
    /// Its grey.
    pub ink: Ink,
}

impl Stroke {
    /// A black, unbroken line.
    pub fn solid(width: f64) -> Stroke {
        Stroke { width, dash: Dash::Solid, ink: Ink::BLACK }
    }

    /// The same in another pattern.
    #[must_use]
    pub fn dash(mut self, dash: Dash) -> Stroke {
        self.dash = dash;
        self
    }

    /// The same in another grey.
    #[must_use]
    pub fn ink(mut self, ink: Ink) -> Stroke {
        self.ink = ink;
        self
    }

    /// Lengths of dash, gap, dash, gap ... in mm; empty when unbroken.
    pub fn pattern(&self) -> Vec<f64> {
        self.dash.pattern().iter().map(|k| k * self.width).collect()
    }
}

/// Pattern of a line, in line widths as ISO 128-2 gives them (from memory: dash 12, gap 3, long dash 24,
/// dot 0.5).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Hidden edges.
    Dashed,
    /// Centre lines: long dash, dot.
    Chain,
    /// Other positions and neighbouring parts: long dash, two dots.
    DoubleChain,
    /// Dots.
    Dotted,
}

impl Dash {
    /// Lengths of dash, gap, ... in line widths; empty when unbroken.
    pub fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Dashed => &[12.0, 3.0],
            Dash::Chain => &[24.0, 3.0, 0.5, 3.0],
            Dash::DoubleChain => &[24.0, 3.0, 0.5, 3.0, 0.5, 3.0],
            Dash::Dotted => &[0.5, 3.0],
        }
    }
}

/// A grey: 0 is black, 255 white. There is no colour on a drawing, so that a grey print says everything.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink(pub u8);

impl Ink {
    /// Black.
    pub const BLACK: Ink = Ink(0);
    /// Mid grey.
    pub const GREY: Ink = Ink(128);
    /// Light grey, for what must not disturb.
    pub const LIGHT: Ink = Ink(200);
    /// Paper.
    pub const WHITE: Ink = Ink(255);
}
