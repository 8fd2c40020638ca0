//! The mock-up kit: paper nets of every body and connector behind the sheet, true size, to fold and stick behind a card
//! panel before anything is bought or cut.
//!
//! Exact: every side, fold and circumference is as long as the body's own. Paper has a thickness (0.1 to 0.3 mm a
//! layer) that no net allows for.

mod body;
mod face;
mod list;
mod net;
mod piece;
mod tab;
mod tiles;

pub use body::SMALLEST;

use crate::draw::template::Paper;
use crate::draw::{Drawing, Units};
use crate::panel::Panel;
use std::fmt;

/// Why there is no kit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MockupError {
    /// Nothing stands behind the sheet.
    Nothing {
        /// What has no net, with the reason.
        without: Vec<String>,
    },
    /// A page as large as the thing: a kit is made for a printer's paper.
    NoPaper,
}

impl fmt::Display for MockupError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            MockupError::Nothing { without } => {
                write!(f, "there is no body behind the sheet to fold a net for")?;
                without.iter().try_for_each(|w| write!(f, "\n  {w}"))
            }
            MockupError::NoPaper => write!(f, "a mock-up kit is printed on a4, a3, letter or tabloid"),
        }
    }
}

impl std::error::Error for MockupError {}

/// What the kit holds beside its pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Kit {
    /// The pages: list first, then the pieces.
    pub drawing: Drawing,
    /// Bodies with a net.
    pub bodies: usize,
    /// Pieces to cut out.
    pub pieces: usize,
    /// What has no net, with the reason.
    pub without: Vec<String>,
}

/// The kit of a panel on paper of a size.
///
/// # Errors
/// There is nothing to fold, or no paper was named.
pub fn mockup(panel: &Panel, paper: Paper) -> Result<Kit, MockupError> {
    let size = paper.size().ok_or(MockupError::NoPaper)?;
    // lying paper: strips are long
    let size = (size.1, size.0);
    let (cases, without) = body::cases(panel);
    if cases.is_empty() {
        return Err(MockupError::Nothing { without });
    }
    let room = tiles::room(size);
    let pieces: Vec<piece::Piece> =
        cases.iter().enumerate().flat_map(|(k, c)| net::pieces(c, k + 1, room)).collect();
    let count = pieces.len();
    let placed = tiles::pages(panel, size, &pieces);
    let mut pages = list::pages(panel, size, paper, &cases, &placed, &without);
    pages.extend(placed.pages);
    let meta = vec![
        ("panel".to_owned(), panel.name.clone()),
        ("kind".to_owned(), "mock-up kit, 1:1, for paper and card".to_owned()),
        ("revision".to_owned(), panel.title.get("revision").unwrap_or("not given").to_owned()),
        ("inputs".to_owned(), panel.hash.clone()),
    ];
    let units = if panel.unit.is_inch() { Units::Inch } else { Units::Millimetre };
    let drawing = Drawing { title: format!("{}, mock-up kit", panel.name), pages, meta, units };
    Ok(Kit { drawing, bodies: cases.len(), pieces: count, without })
}
