//! The photograph straightened, to lie under the drawing on the desk.

use super::{Photograph, told};
use crate::export::png;
use crate::geom::{Rect, Segment};
use crate::survey::found;
use crate::survey::straight::{Raw, resolution, straighten};
use serde_json::{Value, json};
use std::sync::{Arc, Mutex, PoisonError};

/// Room around the sheet, mm.
const AROUND: f64 = 15.0;
/// Most pixels of the longer side: four windows across.
const MOST: f64 = 4000.0;

/// A straightened picture: where it lies on the panel, and its file.
#[derive(Clone, Debug)]
pub(super) struct Under {
    /// For the page.
    pub place: Value,
    /// PNG.
    pub bytes: Vec<u8>,
}

/// Where it is put when it is ready.
pub(super) type Slot = Arc<Mutex<Option<Under>>>;

/// The placement that is there; null where there is none.
pub(super) fn place(slot: &Slot) -> Value {
    let held = slot.lock().unwrap_or_else(PoisonError::into_inner);
    json!({ "kind": "photograph-under", "place": held.as_ref().map(|u| u.place.clone()) })
}

impl Photograph {
    /// What straightens the picture over the sheet's window: it takes its time and holds nothing that is shared.
    ///
    /// # Errors
    /// The picture is not held yet.
    pub(super) fn straighten(&self, sheet: Rect) -> Result<Box<dyn FnOnce() -> Value + Send>, String> {
        let (survey, s) = self.both()?;
        let id = self
            .draft
            .as_ref()
            .map(|d| d.photograph()["id"].as_str().unwrap_or("").to_owned())
            .unwrap_or_default();
        let k = told::picture(s, &id).ok_or("the picture is not in the survey")?;
        let shown = self.shown.as_ref().ok_or("choose a picture first")?;
        let (camera, picture) = (s.adjusted.state.cameras[k].clone(), shown.picture.clone());
        let traced = found::outline(survey, s).iter().map(Segment::bounds).reduce(|a, b| a.union(b));
        let window = traced.map_or(sheet, |t| t.union(sheet)).inflate(AROUND, AROUND);
        let (slot, name, revision) = (self.under.clone(), shown.name.clone(), self.revision);
        Ok(Box::new(move || {
            let refused = |words: String| json!({ "kind": "photograph-words", "words": words });
            let [x, y] = camera.shows(window.center(), 0.0).by_point;
            let finest = 1.0 / x.hypot2().max(y.hypot2()).sqrt().max(1e-6);
            let per_mm = resolution(finest, window).min(MOST / window.width().max(window.height()));
            let raw = Raw { width: picture.width, height: picture.height, pixels: &picture.pixels };
            let Some(s) = straighten(&camera, raw, window, per_mm) else {
                return refused(format!("{name} shows too large a panel to be straightened"));
            };
            let words = format!("{name} straightened, {:.3} pixels to the mm", s.per_mm);
            let bytes = match png::coloured((s.width, s.height), &s.pixels, s.per_mm, &words) {
                Ok(bytes) => bytes,
                Err(e) => return refused(format!("{name} cannot be packed: {e}")),
            };
            let place = json!({
                "box": [s.shows.x0, s.shows.y0, s.shows.x1, s.shows.y1], "per-mm": s.per_mm, "width": s.width, "height": s.height,
                "words": words, "revision": revision,
            });
            *slot.lock().unwrap_or_else(PoisonError::into_inner) = Some(Under { place, bytes });
            self::place(&slot)
        }))
    }
}
