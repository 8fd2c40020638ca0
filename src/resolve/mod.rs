//! Definitions to one [`Panel`](crate::panel::Panel): everything absolute, in millimetres, all errors together.

pub mod outline;
mod solve;
