//! The cutting template, held against what it promises.

#[path = "template/build.rs"]
mod build;
#[path = "template/cuts.rs"]
mod cuts;
#[path = "template/notice.rs"]
mod notice;
#[path = "template/scale.rs"]
mod scale;
#[path = "template/words.rs"]
mod words;
#[path = "template/written.rs"]
mod written;
