//! Whether a solid of the airframe runs through the metal of a sheet: then one of the two was measured wrongly.

use crate::diag::{Problem, Where};
use crate::geom::contains;
use crate::panel::{Class, Sheet};
use crate::resolve::scene::Scene;
use crate::solid::{Lie, Pose, Shape, Solid, within};
use crate::units::fmt_mm;

/// What is nearer to a face than this lies against it, mm: bends and bows of solids are held by pieces that much
/// larger.
const SKIN: f64 = 0.05;

impl Scene<'_, '_> {
    /// Tells a solid that goes through the metal of a sheet beside all of its openings.
    pub(super) fn pierces(&mut self, id: &str, kind: &str, solid: &Solid, place: &Where) {
        let through = self.sheets.iter().enumerate().find(|(k, sheet)| self.crosses(*k, sheet, solid));
        let Some((_, sheet)) = through else { return };
        let b = solid.bounds();
        let message = format!(
            "`{id}` ({kind}) goes through the metal of {}: it reaches from {} to {} deep, the metal from {} to {}",
            sheet.id,
            fmt_mm(b.low.d),
            fmt_mm(b.high.d),
            fmt_mm(sheet.front),
            fmt_mm(sheet.front + sheet.thickness.unwrap_or(0.0)),
        );
        let help = "depth counts from the sheet's front face, forward; what really passes through needs an opening that holds it";
        self.problems.push(Problem::new("pierces", place, message).help(help));
    }

    fn crosses(&self, k: usize, sheet: &Sheet, solid: &Solid) -> bool {
        let Some(thickness) = sheet.thickness.filter(|t| *t > 2.0 * SKIN) else { return false };
        let (from, to) = (sheet.front + SKIN, sheet.front + thickness - SKIN);
        let b = solid.bounds();
        if b.high.d <= from || b.low.d >= to {
            return false;
        }
        let plate = Shape::Prism { section: sheet.outline.clone(), from, to };
        let Ok(plate) = Solid::new(plate, Pose::IDENTITY) else { return false };
        let meets = within(&plate, solid, 0.0).is_some_and(|c| c.relation == Lie::Overlap);
        if !meets {
            return false;
        }
        let outline = solid.silhouette();
        let openings = self.subjects.iter().flat_map(|s| &s.parts).filter(|p| {
            p.sheet as usize == k && matches!(p.class, Class::Cutout | Class::Hole | Class::OldOpening)
        });
        !openings.into_iter().any(|p| contains(&p.contour, &outline))
    }
}
