//! The report as pages of paper: a `Drawing` for the PDF writer. Words are measured, wrapped and never cut.

mod chunk;
mod place;
mod table;
mod text;

use crate::draw::template::Paper;
use crate::draw::{Drawing, Units};
use crate::report::document::{Block, Document, Section};
use chunk::{Chunk, Set};
use place::Placer;
use text::Measure;

/// Paper left white at the sides, mm.
const SIDE: f64 = 16.0;

/// The pages of a document, upright but for those that hold a picture.
pub fn pages(doc: &Document, paper: Paper) -> Drawing {
    // a page as large as its content is for templates: a report is read on sheets
    let size = paper.size().unwrap_or((210.0, 297.0));
    let m = Measure::new();
    let mut placer = Placer::new(&m, doc, size, SIDE);
    placer.title();
    for s in &doc.sections {
        let lying = s.blocks.iter().any(|b| matches!(b, Block::Figure(_)));
        let width = placer.width(lying);
        placer.section(lying, section(&m, s, width));
    }
    Drawing {
        title: doc.title.clone(),
        pages: placer.finish(),
        meta: doc.meta.clone(),
        units: Units::Millimetre,
    }
}

fn section(m: &Measure, s: &Section, width: f64) -> Vec<Chunk> {
    let mut chunks = Vec::new();
    let set = Set { height: 3.2, ..Set::words(0.0, 0.0, width).bold() };
    chunk::head(m, &s.title, set, 8.0, &mut chunks);
    if let Some(c) = chunks.last_mut() {
        c.height += 0.6;
        c.items.push(chunk::rule(0.0, width, c.height, crate::draw::Stroke::solid(0.5)));
    }
    for (k, b) in s.blocks.iter().enumerate() {
        let start = chunks.len();
        chunk::block(m, b, width, &mut chunks);
        // a heading with a sentence below it is not left alone at the foot of a page
        let opens = k == 0 && s.blocks.len() > 1 && matches!(b, Block::Words(_));
        for c in chunks.iter_mut().skip(start).filter(|_| opens) {
            c.keep = true;
        }
    }
    chunks
}
