//! The four back ends: read back by ourselves and by other people's readers, on a made-up plate and on
//! random drawings.

#[path = "export/facts.rs"]
mod facts;
#[path = "export/outside.rs"]
mod outside;
#[path = "export/own.rs"]
mod own;
#[path = "export/picture.rs"]
mod picture;
#[path = "export/random.rs"]
mod random;
#[path = "export/refused.rs"]
mod refused;
#[path = "export/scene.rs"]
mod scene;
