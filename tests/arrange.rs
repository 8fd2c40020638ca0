//! Many items placed at once: from hidden arrangements and by hand, the wishes of a file, and the command.

#[path = "support/arranged.rs"]
mod arranged;
#[path = "support/panels.rs"]
mod panels;

#[path = "arrange/command.rs"]
mod command;
#[path = "arrange/demo.rs"]
mod demo;
#[path = "arrange/found.rs"]
mod found;
#[path = "arrange/wishes.rs"]
mod wishes;
