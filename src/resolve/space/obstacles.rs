//! Fixed things of the airframe as subjects.

use super::solids;
use super::spoken;
use crate::define::panel::ObstacleKind;
use crate::define::{Size, Word};
use crate::panel::{Airframe, Class, Detail, SubjectKind};
use crate::resolve::merge::Merged;
use crate::resolve::scene::Scene;
use std::sync::Arc;

impl Scene<'_, '_> {
    /// Makes the subjects of all obstacles.
    pub(super) fn obstacles(&mut self, airframe: Option<Airframe>) {
        let m: &Merged<'_> = self.merged;
        for from in &m.space.obstacles {
            let def = from.def;
            let id = def.id.value.as_ref();
            let Some(axes) = self.axes(def.frame, airframe, id, &def.id.place) else { continue };
            let title = spoken(def.kind.word());
            let mut s = self.space_subject(id, SubjectKind::Obstacle, title, &def.place);
            let index = self.subjects.len();
            let off = def.tolerance.as_ref().map(Size::mm);
            for (k, said) in def.solids.iter().enumerate() {
                let Some(solid) = solids::solid(said, &axes, m.unit(from.file), self.problems) else {
                    continue;
                };
                // what lies round the sheet's edge, and what is no metal, may pass through its plane
                let free = matches!(
                    def.kind,
                    ObstacleKind::Glareshield
                        | ObstacleKind::Knees
                        | ObstacleKind::CanopyFrame
                        | ObstacleKind::Tube
                );
                if !free {
                    self.pierces(id, def.kind.word(), &solid, &said.place);
                }
                let name = said.id.as_ref().map_or_else(|| (k + 1).to_string(), |i| i.value.to_string());
                let solid = Arc::new(solid);
                let detail = Detail::Obstacle {
                    solid: solid.clone(),
                    kind: def.kind.word().to_string(),
                    carries: def.carries.as_ref().map(|c| c.value.to_string()),
                };
                let part = self.solid_part(name, Class::Obstacle, &solid, detail, off, index, &said.place);
                s.parts.push(part);
            }
            self.push_space(s);
        }
    }
}
