//! Bad input: files of the project, each with one change by lot. Every one of them is refused with a code,
//! a line and a column at the change, or gives the findings of the file that was not changed, or, where the
//! change makes another valid file of it, a difference that stays where the change was made.
//!
//! `MUTATIONS=3000 cargo test --test mutated` runs the long mode; what follows from a seed never changes.

#[path = "support/panels.rs"]
mod panels;

mod mutated {
    mod change;
    mod json;
    mod judge;
    mod program;
    mod tally;
}
