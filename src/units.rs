//! Units at the doors; millimetres inside.

/// A unit of length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetre.
    Millimetre,
    /// Inch, 25.4 mm exactly.
    Inch,
}
