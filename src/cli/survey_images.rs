//! The image files that a survey names: there, a picture to its last row, and as large as stated.

use crate::define::survey::Survey;
use crate::diag::{Problem, Problems};
use crate::files::{Disk, beside};
use crate::import::{Picture, picture};
use std::sync::Arc;

/// Reads each; what is wrong goes to `problems` with the place in the survey file. One entry for every photograph of the
/// file, in its order: its picture, where it names one that holds.
pub(super) fn read(file: &str, survey: &Survey, problems: &mut Problems) -> Vec<Option<Arc<Picture>>> {
    survey
        .photographs
        .iter()
        .map(|photo| {
            let image = photo.image.as_ref()?;
            let path = beside(file, &image.value);
            let mut tell = |code, message: String, help: &str| {
                problems.push(Problem::new(code, &image.place, message).help(help.to_owned()));
            };
            let bytes = match Disk::new("").picture(&path) {
                Ok(bytes) => bytes,
                Err(why) if why.code == "no-file" => {
                    tell(
                        "no-image",
                        format!("there is no picture {path}"),
                        "a picture is named from the survey file's own folder; is its ending right?",
                    );
                    return None;
                }
                Err(why) => {
                    let help = why.help.clone().unwrap_or_else(|| "name the picture's file".into());
                    tell("image-unreadable", why.message.to_string(), &help);
                    return None;
                }
            };
            let read = match picture(&bytes) {
                Ok(read) => read,
                Err(fault) => {
                    tell(fault.code(), format!("{path} {}", fault.says()), fault.help());
                    return None;
                }
            };
            if [read.width as f64, read.height as f64] != photo.size {
                let ([x, y], w, h) = (photo.size, read.width, read.height);
                tell(
                    "image-size",
                    format!("{path} has {w} by {h} pixels, and {x} by {y} are stated"),
                    "picks count in the picture's own pixels: state its size, and pick in this picture",
                );
                return None;
            }
            Some(Arc::new(read))
        })
        .collect()
}
