//! A round hole on the photograph: a click near its rim, and the edge that is recognised there.

use super::draft::{Draft, pixel};
use super::{Photograph, told};
use crate::geom::Vec2;
use crate::import::Picture;
use crate::survey::Solved;
use crate::survey::hole::{Hole, hole};
use crate::survey::straight::Raw;
use serde_json::Value;

/// Finds the hole at a place of the picture.
///
/// # Errors
/// Why there is none, in words.
fn find(s: &Solved, camera: usize, picture: &Picture, near: [f64; 2], within: f64) -> Result<Hole, String> {
    let raw = Raw { width: picture.width, height: picture.height, pixels: &picture.pixels };
    let camera = &s.adjusted.state.cameras[camera];
    hole(&raw, camera, Vec2::new(near[0], near[1]), within).map_err(|why| why.says())
}

/// The round hole of the draft that this one is: their centres nearer than a quarter of the smaller radius.
fn same(s: &Solved, found: &Hole) -> Option<String> {
    let n = &s.network;
    let like = |p: &usize| {
        let (at, r) = (s.adjusted.state.at[*p], s.adjusted.state.radius[*p]);
        let near = (at - found.centre).hypot2().sqrt() < 0.25 * r.min(found.radius);
        n.points[*p].round && near && (r - found.radius).abs() < 0.25 * r.min(found.radius)
    };
    (0..n.points.len()).find(like).map(|p| n.points[p].id.to_string())
}

/// Puts it into the draft, as a new hole or in place of the one that was found before.
///
/// # Errors
/// The draft is no survey.
fn put(draft: &mut Draft, found: &Hole, id: Option<String>) -> Result<String, String> {
    let id = id.unwrap_or_else(|| draft.free("hole-"));
    let edge: Vec<[f64; 2]> = found.edge.iter().map(|p| [p.x, p.y]).collect();
    draft.round(&id, &edge, found.deviation)?;
    Ok(id)
}

impl Photograph {
    /// The round hole at a place.
    pub(super) fn hole(&mut self, m: &Value) -> Result<(), String> {
        let at = pixel(&m["at"]).ok_or("a place in the picture is two numbers")?;
        let within = m["near"].as_f64().unwrap_or(12.0);
        let (_, s) = self.both()?;
        let (Some(shown), Some(draft)) = (&self.shown, &self.draft) else {
            return Err("choose a picture first".into());
        };
        let k = told::picture(s, draft.photograph()["id"].as_str().unwrap_or(""))
            .ok_or("the picture is not in the survey")?;
        let found = find(s, k, &shown.picture, at, within)?;
        let before = same(s, &found);
        let mut draft = draft.clone();
        let again = before.is_some();
        let id = put(&mut draft, &found, before)?;
        self.reach(draft)?;
        let again = if again { ", found again" } else { "" };
        self.news = Some(format!(
            "{id}{again}: its edge is seen on {:.0} degrees of the round, by {} places, each give or take {:.2} pixels. A chamfer, a shadow or a bezel \
             shifts an edge as a whole: hold one hole against the calipers.",
            found.seen,
            found.edge.len(),
            found.deviation
        ));
        Ok(())
    }
}
