//! The fabrication drawing, held against what it promises.

#[path = "drawing/boxes.rs"]
mod boxes;
#[path = "drawing/command.rs"]
mod command;
#[path = "drawing/kit.rs"]
mod kit;
#[path = "drawing/paper.rs"]
mod paper;
#[path = "drawing/read.rs"]
mod read;
#[path = "drawing/rebuild.rs"]
mod rebuild;
#[path = "drawing/words.rs"]
mod words;

#[path = "support/messy.rs"]
mod messy;
#[path = "support/panels.rs"]
mod panels;
