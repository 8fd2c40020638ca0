//! The cutting template, held against what it promises.

#[path = "template/build.rs"]
mod build;
#[path = "template/words.rs"]
mod words;
