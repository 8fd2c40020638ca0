//! Fixed things from the probes that met their near side.

use super::{Behind, Maker, Probed, SPACE_95};
use crate::define::Text;
use crate::define::panel::ObstacleKind;
use crate::define::survey::{Form, Obstacle};
use crate::diag::Written;
use crate::solid::Vec3;

/// The form of a solid, worked out; mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Solid {
    /// A round tube between two points: its diameter.
    Tube(f64, [Vec3; 2]),
    /// A ball: its diameter, its middle.
    Ball(f64, Vec3),
    /// The smallest solid without hollows around these.
    Hull(Vec<Vec3>),
}

/// A fixed thing, worked out.
#[derive(Clone, Debug)]
pub struct Met {
    /// Its id.
    pub id: Text,
    /// What it is.
    pub kind: ObstacleKind,
    /// Its solids with their names.
    pub solids: Vec<(String, Solid)>,
    /// What it carries.
    pub carries: Option<Text>,
    /// How far off it may stand at 95 %, any direction, mm.
    pub doubt: f64,
}

impl Maker<'_> {
    pub(super) fn obstacles(&mut self, out: &mut Behind) {
        for said in &self.survey.behind.obstacles {
            if let Some(met) = self.met(said, out) {
                out.obstacles.push(met);
            }
        }
    }

    fn met(&mut self, said: &Obstacle, out: &Behind) -> Option<Met> {
        let mut solids = Vec::new();
        let mut doubt = 0.0f64;
        for (k, (name, form)) in said.solids.iter().enumerate() {
            let name = name.as_ref().map_or_else(|| format!("part-{}", k + 1), |n| n.value.to_string());
            let ids: Vec<&Written<Text>> = match form {
                Form::Tube(_, path) => path.iter().collect(),
                Form::Ball(_, met) => vec![met],
                Form::Face(corners, _) => corners.iter().collect(),
                Form::Plate(_, edge, _) => edge.iter().collect(),
            };
            let mut places = Vec::new();
            for id in ids {
                let p = self.probe(out, id)?;
                let probe = &out.probes[p];
                if probe.free {
                    let message = format!(
                        "the probe `{}` met nothing, and `{}` is drawn through it",
                        id.value, said.id.value
                    );
                    self.tell(
                        "free-probe",
                        &id.place,
                        message,
                        "name a probe that met it, or leave \"free\" out",
                    );
                    return None;
                }
                doubt = doubt.max(SPACE_95 * probe.deviation.max(probe.across));
                places.push(met_at(probe));
            }
            match form {
                Form::Tube(of, _) => {
                    let ahead = Vec3::FORWARD * (of.mm() / 2.0);
                    for (n, two) in places.windows(2).enumerate() {
                        let &[a, b] = two else { continue };
                        if (b - a).length() < 1.0 {
                            let message = format!("two probes of `{}` are at one place", said.id.value);
                            let help = "a tube needs probes that are apart";
                            self.tell("same-place", &said.place, message, help);
                            return None;
                        }
                        let name = if places.len() == 2 { name.clone() } else { format!("{name}-{}", n + 1) };
                        solids.push((name, Solid::Tube(of.mm(), [a + ahead, b + ahead])));
                    }
                }
                Form::Ball(of, _) => {
                    let middle = places[0] + Vec3::FORWARD * (of.mm() / 2.0);
                    solids.push((name, Solid::Ball(of.mm(), middle)));
                }
                Form::Plate(of, _, thick) => {
                    let ahead = Vec3::FORWARD * thick.mm();
                    for (n, two) in places.windows(2).enumerate() {
                        let &[a, b] = two else { continue };
                        let flat = Vec3::new(b.x - a.x, b.y - a.y, 0.0);
                        let Some(e) = flat.unit().filter(|_| flat.length() > 1.0) else {
                            let message =
                                format!("two probes along an edge of `{}` are at one place", said.id.value);
                            self.tell(
                                "same-place",
                                &said.place,
                                message,
                                "an edge needs probes that are apart",
                            );
                            return None;
                        };
                        let aside = Vec3::new(-e.y, e.x, 0.0) * (of.mm() / 2.0);
                        let edge = [a + aside, a - aside, b + aside, b - aside];
                        let name = if places.len() == 2 { name.clone() } else { format!("{name}-{}", n + 1) };
                        solids.push((
                            name,
                            Solid::Hull(edge.into_iter().chain(edge.map(|p| p + ahead)).collect()),
                        ));
                    }
                }
                Form::Face(_, thick) => {
                    if flat(&places) {
                        let message = format!(
                            "the probes at the corners of a face of `{}` lie on one line",
                            said.id.value
                        );
                        let help = "probe a corner off that line, or call it a tube";
                        self.tell("face-in-line", &said.place, message, help);
                        return None;
                    }
                    let ahead = Vec3::FORWARD * thick.mm();
                    let back = places.iter().map(|p| *p + ahead);
                    solids.push((name, Solid::Hull(places.iter().copied().chain(back).collect())));
                }
            }
        }
        let carries = said.carries.as_ref().map(|c| c.value.clone());
        Some(Met { id: said.id.value.clone(), kind: said.kind, solids, carries, doubt })
    }
}

fn met_at(p: &Probed) -> Vec3 {
    Vec3::new(p.at.x, p.at.y, p.depth)
}

/// Whether places lie on one line, seen along the depth, within a millimetre.
fn flat(places: &[Vec3]) -> bool {
    let Some(a) = places.first() else { return true };
    let on = |p: &Vec3| Vec3::new(p.x - a.x, p.y - a.y, 0.0);
    let far = places.iter().map(on).max_by(|p, q| p.length().total_cmp(&q.length()));
    let Some(e) = far.and_then(Vec3::unit) else { return true };
    places.iter().all(|p| e.cross(on(p)).length() < 1.0)
}
