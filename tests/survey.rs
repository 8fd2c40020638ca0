//! The survey: coordinates and deviations, wrong readings, what is open, what is refused, and the demo.

#[path = "survey/behind.rs"]
mod behind;
#[path = "survey/cases.rs"]
mod cases;
#[path = "survey/corncrake.rs"]
mod corncrake;
#[path = "survey/found.rs"]
mod found;
#[path = "survey/hole.rs"]
mod hole;
#[path = "survey/images.rs"]
mod images;
#[path = "survey/invariance.rs"]
mod invariance;
#[path = "survey/make.rs"]
mod make;
#[path = "survey/oracle.rs"]
mod oracle;
#[path = "survey/photograph.rs"]
mod photograph;
#[path = "survey/refused.rs"]
mod refused;
#[path = "survey/simulate.rs"]
mod simulate;
#[path = "survey/wheatear_photo.rs"]
mod wheatear_photo;
