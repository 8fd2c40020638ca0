//! The numbers of one item, one by one: what its definition says, what its panel's file says in place of that, what neither
//! says and either may.

use super::instrument::Sources;
use super::{Catalogue, beside};
use crate::define;
use crate::define::instrument::open_numbers;
use crate::define::summary::{OUTLINE, summary};
use crate::diag::{Problem, Problems};
use crate::files::Files;
use crate::panel::{NumberLine, Subject};

/// All numbers of an item: those of its definition in its order, then those that it leaves open.
///
/// # Errors
/// An item without an instrument; what is wrong with the definition's file.
pub fn numbers_of(
    s: &Subject,
    files: &dyn Files,
    catalogue: &Catalogue,
) -> Result<Vec<NumberLine>, Problems> {
    let none = || {
        Problems::from(
            Problem::nowhere("no-item", format!("{} has no instrument", s.id))
                .help("name a placed instrument"),
        )
    };
    let facts = s.facts.as_ref().filter(|f| !f.instrument.is_empty()).ok_or_else(none)?;
    let name = &facts.instrument;
    let read = if name.ends_with(".json") {
        let file = beside(&s.place.file, name);
        files.read(&file).map(|text| (file, text))
    } else {
        catalogue.text(name)
    };
    let (file, text) = read.map_err(Problems::from)?;
    let mut problems = Problems::new();
    let tree = define::read_instrument_tree(&file, &text, &mut problems);
    let (root, def) = problems.or(tree)?.ok_or_else(none)?;
    let sources = Sources::of_instrument(&def);
    let own = |path: &str| facts.numbers.iter().find(|n| n.path == path).cloned();
    let mut lines: Vec<NumberLine> = summary(name, &root, &def, [])
        .values
        .into_iter()
        // an outline is no single number
        .filter(|v| !v.path.ends_with(OUTLINE))
        .map(|v| {
            let named = Some(v.source.as_str()).filter(|n| !n.is_empty()).map(define::Text::from);
            NumberLine {
                own: own(&v.path),
                stated: Some((v.written, sources.named(named.as_ref()))),
                path: v.path,
            }
        })
        .collect();
    lines.extend(open_numbers(&root).into_iter().map(|path| NumberLine {
        own: own(&path),
        stated: None,
        path,
    }));
    Ok(lines)
}
