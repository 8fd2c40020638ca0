//! Files that a command has made: whole or not at all, and none left beside them that contradicts them.

use crate::cli::common::{self, Failure};
use crate::export::Made;
use std::path::Path;

/// What stands before the name of a sheet that may not be cut.
pub const BARRED: &str = "NOT-FOR-CUTTING-";

/// The name that a file has when the verdicts are otherwise.
fn counterpart(name: &str) -> String {
    name.strip_prefix(BARRED).map_or_else(|| format!("{BARRED}{name}"), str::to_owned)
}

/// Writes all files into a folder, which is made if it is not there.
pub fn write_all(folder: &Path, made: &[Made]) -> Result<(), Failure> {
    common::make_folder(folder)?;
    for file in made {
        common::write(&folder.join(&file.name), &file.bytes)?;
    }
    // the sheet of an earlier run with the other standing would lie beside this one and could be cut
    let older = made.iter().map(|f| counterpart(&f.name)).filter(|n| folder.join(n).is_file());
    for name in older {
        common::remove(&folder.join(&name))?;
        anstream::eprintln!(
            "removed {}: an earlier run's, the verdicts differ now",
            folder.join(&name).display()
        );
    }
    Ok(())
}
