//! The survey: coordinates and deviations, wrong readings, what is open, what is refused, and the demo.

#[path = "survey/cases.rs"]
mod cases;
#[path = "survey/invariance.rs"]
mod invariance;
#[path = "survey/make.rs"]
mod make;
#[path = "survey/refused.rs"]
mod refused;
