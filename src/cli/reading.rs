//! What a command reads: files on disk, the standard input under the name `-`, and a list of all that was
//! asked for, so that `--watch` knows what to look at.

use crate::cli::common::{self, Failure};
use crate::diag::{Problem, Problems};
use crate::files::{Disk, Files, MOST_BYTES};
use crate::panel::Panel;
use crate::resolve;
use clap::ArgMatches;
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::io::Read;
use std::sync::Arc;

/// The name of the standard input.
pub const INPUT: &str = "-";

struct Reading {
    disk: Disk,
    input: Option<Arc<[u8]>>,
    asked: RefCell<BTreeSet<String>>,
}

impl Files for Reading {
    fn bytes(&self, name: &str) -> Result<Arc<[u8]>, Problem> {
        if let (INPUT, Some(input)) = (name, &self.input) {
            return Ok(input.clone());
        }
        self.asked.borrow_mut().insert(name.to_string());
        self.disk.bytes(name)
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, Problem> {
        self.disk.list(folder)
    }
}

/// Reads and resolves a panel; beside it the names of all files that were asked for, there or not.
pub fn panel(path: &str, m: &ArgMatches) -> (Result<Panel, Failure>, BTreeSet<String>) {
    let input = if path == INPUT {
        match input() {
            Ok(bytes) => Some(bytes),
            Err(failure) => return (Err(failure), BTreeSet::new()),
        }
    } else {
        None
    };
    let files = Reading { disk: Disk::new(""), input, asked: RefCell::new(BTreeSet::new()) };
    let panel = resolve::resolve(path, &files as &dyn Files, &common::catalogue(m)).map_err(Failure::from);
    (panel, files.asked.into_inner())
}

/// The bytes of any file, or of the standard input under its name.
pub fn bytes(path: &str) -> Result<Arc<[u8]>, Failure> {
    if path == INPUT { input() } else { Ok(Disk::new("").bytes(path).map_err(Problems::from)?) }
}

fn input() -> Result<Arc<[u8]>, Failure> {
    let mut bytes = Vec::new();
    std::io::stdin()
        .lock()
        .take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|e| Failure::Sentence(format!("cannot read the standard input: {e}")))?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(Failure::Sentence(format!(
            "the standard input is larger than {} MiB: is this the right file?",
            MOST_BYTES >> 20
        )));
    }
    Ok(bytes.into())
}
