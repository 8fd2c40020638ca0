//! The shadows of the airframe between the depths of a part, worked out once: of what stands still piece by piece, of what
//! moves in convex sets over its travel, cut finer where they come into what the subject may take.

use super::barred::{GRID, largest};
use super::convex::{CHORD, Convex};
use super::shadow::Rounded;
use crate::check::bans::Body;
use crate::geom::Rect;
use crate::solid::travel::Cover;
use crate::solid::{Piece, Vec3};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;

/// How much larger than the truth the travel of what turns is taken, mm, as far as [`MOST`] allows.
const FINE: f64 = 0.5;

/// Convex sets that stand for the travel of one solid between two depths, at the most.
const MOST: usize = 320;

/// How far polygons of what moves may lie off, mm.
pub const COARSE: f64 = 0.1;

/// Solid, depths and growth.
type Key = (usize, [u64; 3]);

/// Shadows that are known, within a realm.
pub struct Shadows {
    known: RefCell<BTreeMap<Key, Rc<Vec<Convex>>>>,
    realm: Rect,
    excess: Cell<f64>,
}

impl Default for Shadows {
    fn default() -> Shadows {
        Shadows::within(Rect::ZERO, Rect::ZERO, 0.0)
    }
}

impl Shadows {
    /// None is known yet. What no shift within a window brings near does not matter: `own` is a box around all that is
    /// shifted where it stands, `play` how far that moves besides.
    pub fn within(window: Rect, own: Rect, play: f64) -> Shadows {
        let (w, play) = (window, play + GRID);
        let realm = Rect::new(w.x0 + own.x0, w.y0 + own.y0, w.x1 + own.x1, w.y1 + own.y1);
        Shadows { known: RefCell::default(), realm: realm.inflate(play, play), excess: Cell::new(0.0) }
    }

    /// How much larger than the truth what moves was taken, mm.
    pub fn excess(&self) -> f64 {
        self.excess.get()
    }

    /// The shadows of a solid grown by a number not below zero.
    pub fn of(&self, body: &Body<'_>, depths: (f64, f64), by: f64) -> Rc<Vec<Convex>> {
        if depths.0 >= depths.1 {
            return Rc::default();
        }
        let place = match body {
            Body::Still(solid) => std::ptr::from_ref(*solid) as usize,
            Body::Moves(travel) => Rc::as_ptr(travel) as usize,
        };
        let key = (place, [depths.0, depths.1, by].map(f64::to_bits));
        if let Some(known) = self.known.borrow().get(&key) {
            return known.clone();
        }
        let found = Rc::new(match body {
            Body::Still(solid) => {
                let shadow = |p: &Piece| {
                    let rounded = Rounded { support: |v: Vec3| p.core.support(v), radius: p.radius + by };
                    let near = rounded.meets(depths) && rounded.around(depths).overlaps(self.realm);
                    if near { rounded.shadow(depths, CHORD) } else { None }
                };
                largest(solid.pieces().iter().filter_map(shadow).collect())
            }
            Body::Moves(travel) => self.travelled(travel.cover(), depths, by),
        });
        self.known.borrow_mut().insert(key, found.clone());
        found
    }

    /// The same over a travel. Cells that are too large the most are cut first, those that come nowhere near left out.
    fn travelled(&self, cover: &Cover<'_>, depths: (f64, f64), by: f64) -> Vec<Convex> {
        let mut open = cover.cells();
        let mut kept = Vec::new();
        while let Some(k) =
            (0..open.len()).max_by(|a, b| open[*a].excess.total_cmp(&open[*b].excess).then(b.cmp(a)))
        {
            let cell = open.swap_remove(k);
            let Some(hull) = cover.hull(&cell) else { continue };
            let rounded = Rounded { support: |v: Vec3| hull.support(v), radius: hull.radius + by };
            if !rounded.meets(depths) || !rounded.around(depths).overlaps(self.realm) {
                continue;
            }
            let cut = cell.excess > FINE && open.len() + kept.len() < MOST;
            if let Some(halves) = if cut { cover.halves(&cell) } else { None } {
                open.extend(halves);
                continue;
            }
            self.excess.set(self.excess.get().max(cell.excess + 2.0 * COARSE));
            kept.extend(rounded.shadow(depths, COARSE));
        }
        largest(kept)
    }
}
