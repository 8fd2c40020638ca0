//! Lengths, angles, masses and currents as people write them: read, kept as written, printed.
//!
//! The readers and the printers alone know inches, pounds and fractions; everything else works in
//! millimetres, degrees, kilograms and amperes. A length is held as whole nanometres, so that
//! 1/64 in (396 875 nm), 0.001 in (25 400 nm) and 0.001 mm are all exact. What falls between two
//! nanometres (1/3 in, 1/128 in) is rounded to the nearest one, halves away from zero, and
//! [`Length::is_exact`] says so; what would round to nothing is refused.

mod error;
mod length;
mod number;
mod print;
mod quantity;
#[cfg(test)]
mod tests;

pub(crate) use error::comma;
pub use error::{QuantityError, Reason};
pub use length::{Length, Sign, Unit};
pub use print::{fmt_in, fmt_mm, print_against, print_length};
pub use quantity::{Angle, Current, Mass};
