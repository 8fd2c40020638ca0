//! The image files that a survey names: there, a picture to its last row, and as large as stated.

use crate::cli::common::{self, Failure};
use crate::define::survey::Survey;
use crate::diag::{Problem, Problems};
use crate::export::{mark, png};
use crate::files::{Disk, beside};
use crate::geom::{Rect, Segment};
use crate::import::{Picture, picture};
use crate::survey::Solved;
use crate::survey::straight::{Raw, Straight, resolution, straighten};
use clap::{Arg, ArgMatches};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Room around the panel in a straightened photograph, mm.
const AROUND: f64 = 15.0;
/// Pixels of a photograph under a drawing, along its longer side: 200 to the inch of an A4 page.
const UNDER: f64 = 2200.0;

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

/// The arguments on photographs.
pub(super) fn args() -> [Arg; 2] {
    [
        Arg::new("straightened")
            .long("straightened")
            .value_name("FILE")
            .value_parser(clap::value_parser!(PathBuf))
            .help("Write the photograph straightened, as if seen square to the panel, at a stated scale: FILE ends in .png"),
        Arg::new("photograph")
            .long("photograph")
            .value_name("ID")
            .help("Lay this photograph, straightened and pale, under the drawing; or which one --straightened means"),
    ]
}

/// Which photograph is meant; None where none is asked for.
fn meant(survey: &Survey, images: &[Option<Arc<Picture>>], m: &ArgMatches) -> Result<Option<usize>, Failure> {
    let with: Vec<usize> =
        (0..images.len()).filter(|k| images.get(*k).is_some_and(Option::is_some)).collect();
    let ids = || {
        let of = |k: &usize| survey.photographs.get(*k).map_or("", |p| p.id.value.as_ref());
        with.iter().map(of).collect::<Vec<_>>().join(", ")
    };
    match (m.get_one::<String>("photograph"), with.as_slice()) {
        (Some(id), _) => {
            let found =
                with.iter().find(|k| survey.photographs.get(**k).is_some_and(|p| *p.id.value == **id));
            let why = if with.is_empty() {
                "no photograph of this survey names an `image`".into()
            } else {
                format!("those with an image are {}", ids())
            };
            let say = || Failure::Sentence(format!("there is no photograph {id} to straighten: {why}"));
            found.copied().map(Some).ok_or_else(say)
        }
        (None, _) if m.get_one::<PathBuf>("straightened").is_none() => Ok(None),
        (None, [one]) => Ok(Some(*one)),
        (None, []) => Err(Failure::Sentence(
            "there is nothing to straighten: no photograph of this survey names an `image`".into(),
        )),
        (None, _) => Err(Failure::Sentence(format!("say which with --photograph: {}", ids()))),
    }
}

/// What a photograph shows of the panel, straightened; writes it where it is asked for. What comes back is for the drawing.
pub(super) fn straight(
    survey: &Survey,
    solved: &Solved,
    outline: &[Segment],
    images: &[Option<Arc<Picture>>],
    m: &ArgMatches,
) -> Result<Option<Straight>, Failure> {
    let Some(k) = meant(survey, images, m)? else { return Ok(None) };
    let (Some(photo), Some(Some(image))) = (survey.photographs.get(k), images.get(k)) else {
        return Ok(None);
    };
    let id = &photo.id.value;
    let Some(number) = solved.network.pictures.iter().position(|p| p.id == *id) else { return Ok(None) };
    let camera = &solved.adjusted.state.cameras[number];
    let state = &solved.adjusted.state;
    let points = (0..state.at.len()).filter(|p| solved.holds(*p)).map(|p| {
        let r = if solved.sized(p) { state.radius[p].max(0.0) } else { 0.0 };
        Rect::from_center_size(state.at[p], (2.0 * r, 2.0 * r))
    });
    let all = points.chain(outline.iter().map(Segment::bounds)).reduce(|a, b| a.union(b));
    let Some(window) = all.map(|b| b.inflate(AROUND, AROUND)) else { return Ok(None) };
    let raw = Raw { width: image.width, height: image.height, pixels: &image.pixels };
    let large = || Failure::Sentence(format!("{id} shows too large a panel to be straightened"));
    if m.get_one::<PathBuf>("straightened").is_some() {
        let name = common::path(m, "straightened")?;
        let path = Path::new(&name);
        if !path.extension().is_some_and(|e| e.eq_ignore_ascii_case("png")) {
            return Err(Failure::Sentence(format!(
                "{name} does not end in .png: a straightened photograph is a PNG"
            )));
        }
        if std::fs::read(path).is_ok_and(|there| !mark::is_own(&there)) {
            return Err(Failure::Sentence(format!(
                "{name} exists and this program did not make it: choose another name, it is not overwritten"
            )));
        }
        let [x, y] = camera.shows(window.center(), 0.0).by_point;
        let finest = 1.0 / x.hypot2().max(y.hypot2()).sqrt().max(1e-6);
        let s = straighten(camera, raw, window, resolution(finest, window)).ok_or_else(large)?;
        let scale = format!(
            "{} pixels to the mm in both directions; its lower left corner is ({:.2}, {:.2}) of the survey, in mm; what stands off the panel's plane is shifted in it",
            s.per_mm, s.shows.x0, s.shows.y0
        );
        let words = format!("{id} straightened: {scale}");
        let bytes = png::coloured((s.width, s.height), &s.pixels, s.per_mm, &words)
            .map_err(|e| Failure::Sentence(format!("{name} cannot be packed: {e}")))?;
        common::write(path, &bytes)?;
        anstream::eprintln!("wrote {name}: {scale}");
    }
    if m.get_one::<String>("photograph").is_none() {
        return Ok(None);
    }
    let per_mm = UNDER / window.width().max(window.height());
    straighten(camera, raw, window, per_mm).map(Some).ok_or_else(large)
}
