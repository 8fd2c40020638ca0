//! Whether the known points that were picked hold a picture's camera: enough of them, and not on one line.

use super::network::Network;
use super::picked::Picked;
use super::resect::least;
use crate::define::survey::{Photograph, PictureKind};
use crate::diag::{Problem, Problems};
use crate::geom::Vec2;

/// The largest number of places on one line, within `give` pixels; none for fewer than two.
pub(super) fn in_line(spots: &[Vec2], give: f64) -> Option<usize> {
    let mut most = None;
    for (i, a) in spots.iter().enumerate() {
        for b in spots.iter().skip(i + 1) {
            let along = *b - *a;
            let long = along.hypot2().sqrt();
            // two places that fall together give no line
            let on = |c: &&Vec2| {
                let to = **c - *a;
                if long < give { to.hypot2() < give * give } else { along.cross(to).abs() <= give * long }
            };
            most = most.max(Some(spots.iter().filter(on).count()));
        }
    }
    most
}

/// Whether the known points hold the camera.
pub(super) fn check(
    photo: &Photograph,
    control: &[&Picked],
    sigma: f64,
    network: &Network,
    problems: &mut Problems,
) {
    let id = &photo.id.value;
    let (least, kind) = (least(photo.kind), photo.kind);
    if control.len() < least {
        let word = if kind == PictureKind::Scan { "scan" } else { "photograph" };
        let message = format!(
            "the {word} `{id}` has {} picks of known points: at least {least} are needed",
            control.len()
        );
        problems.push(Problem::new("few-picks", &photo.place, message).help(
            "pick points in the panel's plane that have coordinates or readings, such as the corners of a square taped on the panel",
        ));
        return;
    }
    let spots: Vec<Vec2> = control.iter().map(|k| k.at).collect();
    if kind == PictureKind::Scan || in_line(&spots, 3.0 * sigma).is_none_or(|most| most + 1 < spots.len()) {
        return;
    }
    // the line with the most
    let mut worst: Vec<usize> = Vec::new();
    for i in 0..spots.len() {
        for j in i + 1..spots.len() {
            let along = spots[j] - spots[i];
            let on =
                |c: &usize| along.cross(spots[*c] - spots[i]).abs() <= 3.0 * sigma * along.hypot2().sqrt();
            let these: Vec<usize> = (0..spots.len()).filter(on).collect();
            if these.len() > worst.len() {
                worst = these;
            }
        }
    }
    let names: Vec<&str> = worst.iter().map(|k| network.points[control[*k].point].id.as_ref()).collect();
    let message = format!(
        "the photograph `{id}`: the known points {} lie on one line in it, and at most one other does not",
        names.join(", ")
    );
    let place = worst.last().map_or(&photo.place, |k| &control[*k].place);
    problems.push(
        Problem::new("picks-in-line", place, message)
            .help("pick four known points of which no three lie on a line"),
    );
}
