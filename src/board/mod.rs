//! The board: a panel laid out by hand in a browser, the rules answering as it moves. A local server that owns the text,
//! undo and the journal; the page asks over one socket.

mod answer;
mod arranging;
mod aside;
mod behind;
mod drag;
mod gate;
mod journal;
mod layouts;
mod listen;
mod made;
mod numbers;
mod page;
mod photograph;
mod place;
mod say;
mod server;
mod session;
mod several;
mod shelf;
mod stood;
mod taken;
mod told;
mod turned;
mod what_if;

pub use drag::Drag;
pub use gate::Gate;
pub use journal::{Journal, Left};
pub use layouts::{Kept, Layouts};
pub use numbers::ask_numbers;
pub use server::{Board, Options};
pub use session::{Saved, Session, is_item};
pub use told::{Differences, Told};
