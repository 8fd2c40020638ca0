//! Layout and fit check of light-aeroplane instrument panels.
#![forbid(unsafe_code)]

pub mod geom;
