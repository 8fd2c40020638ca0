//! The image files that a survey names: there, an image, and as large as stated.

use crate::cli::reading;
use crate::define::survey::Survey;
use crate::diag::{Problem, Problems};
use std::io::Cursor;
use std::path::Path;

/// Looks at each; what is wrong goes to `problems` with the place in the survey file.
pub(super) fn check(file: &str, survey: &Survey, problems: &mut Problems) {
    for photo in &survey.photographs {
        let Some(image) = &photo.image else { continue };
        let path = Path::new(file).parent().unwrap_or(Path::new("")).join(image.value.as_ref());
        let path = path.to_string_lossy();
        let mut tell = |code, message: String, help: &str| {
            problems.push(Problem::new(code, &image.place, message).help(help.to_owned()));
        };
        let Ok(bytes) = reading::bytes(&path) else {
            tell(
                "no-image",
                format!("{path} cannot be read"),
                "name the picture's file, beside the survey file",
            );
            continue;
        };
        match png::Decoder::new(Cursor::new(&bytes[..])).read_info() {
            Err(_) => {
                tell(
                    "no-image",
                    format!("{path} is no PNG image"),
                    "save the picture as PNG, uncropped and at its full size",
                );
            }
            Ok(reader) => {
                let (w, h) = (reader.info().width, reader.info().height);
                if [f64::from(w), f64::from(h)] != photo.size {
                    let [x, y] = photo.size;
                    tell(
                        "image-size",
                        format!("{path} has {w} by {h} pixels, and {x} by {y} are stated"),
                        "picks count in the picture's own pixels: state its size, and pick in this picture",
                    );
                }
            }
        }
    }
}
