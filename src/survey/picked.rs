//! Pictures in the network: which points were picked where, and what a pick is as an observation.
//!
//! Picks enter the same adjustment as the readings, each camera with unknowns of its own: so that the ellipses of what
//! was picked hold what is uncertain in the control points, a wrong pick is found like a wrong reading, and tape and
//! picture check each other.

use super::camera::{Camera, MOST_UNKNOWNS};
use super::control::{check, in_line};
use super::network::{Names, Network};
use super::observation::{Observation, Origin, Relation, Row, State};
use super::resect::resect;
use super::tools::note;
use crate::define::Text;
use crate::define::survey::{Photograph, PictureKind, Survey};
use crate::diag::{Problem, Problems, Where};
use crate::geom::{Point, Vec2, angle};

/// Standard deviation of what a lens does at the picture's corner, as a share of half the diagonal: common practice, no
/// source.
const LENS: f64 = 0.03;
/// Standard deviation of the angle between a scanner's axes, rad: common practice, no source.
const SQUARE: f64 = 1e-3;

/// A photograph or scan.
#[derive(Clone, Debug)]
pub struct Picture {
    /// Its id.
    pub id: Text,
    /// How it came about.
    pub kind: PictureKind,
    /// Before anything is known.
    pub camera: Camera,
    /// Whether the lens is sought.
    pub lens: bool,
    /// Width and height, pixels.
    pub size: [f64; 2],
    pub(super) unknown: usize,
}

impl Picture {
    /// How many unknowns it has.
    pub fn unknowns(&self) -> usize {
        match self.kind {
            PictureKind::Photograph => 8 + usize::from(self.lens),
            PictureKind::Scan => 6,
        }
    }

    /// Index of the lens among the unknowns.
    pub fn lens_unknown(&self) -> Option<usize> {
        self.lens.then_some(self.unknown + 8)
    }
}

/// A place picked in a picture.
#[derive(Clone, Debug)]
pub struct Picked {
    /// The picture.
    pub picture: usize,
    /// The point or circle.
    pub point: usize,
    /// On the circle's edge.
    pub edge: bool,
    /// Pixels from the left and the top.
    pub at: Vec2,
    /// Its pick's number in the file, from 1.
    pub number: usize,
    /// Its own standard deviation, pixels.
    pub deviation: Option<f64>,
    /// How far it may stand off the plane, mm.
    pub may_stand_off: Option<f64>,
    /// Where it stands.
    pub place: Where,
}

/// Value and derivatives of one coordinate of a picked point, pixels.
pub(super) fn coordinate(row: &mut Row, network: &Network, s: &State, pick: usize, down: bool) -> f64 {
    let p = &network.picks[pick];
    let shown = s.cameras[p.picture].shows(s.at[p.point], network.points[p.point].depth);
    let part = |v: Vec2| if down { v.y } else { v.x };
    let (x, y) = network.unknowns(p.point);
    row.add(x, part(shown.by_point[0]));
    row.add(y, part(shown.by_point[1]));
    cameras(row, network, p.picture, &shown.by_camera, part);
    part(shown.at)
}

fn cameras(
    row: &mut Row,
    network: &Network,
    picture: usize,
    by: &[Vec2; MOST_UNKNOWNS],
    part: impl Fn(Vec2) -> f64,
) {
    let of = &network.pictures[picture];
    for (u, d) in by.iter().enumerate().take(of.unknowns()) {
        row.add(Some(of.unknown + u), part(*d));
    }
}

/// How far a circle's edge lies outside a pick, square to the edge in the picture, pixels.
///
/// At the foot of the perpendicular the foot's own way along the edge does not change the distance: the derivatives are
/// those of the foot as a fixed point of the circle.
pub(super) fn edge(row: &mut Row, network: &Network, s: &State, pick: usize) -> f64 {
    let p = &network.picks[pick];
    let (camera, depth) = (&s.cameras[p.picture], network.points[p.point].depth);
    let (centre, radius) = (s.at[p.point], s.radius[p.point]);
    let mut turn = camera.lies(p.at).map_or(0.0, |at| angle::direction(at - centre));
    let mut shown = camera.shows(centre, depth);
    let (middle, mut out, mut along) = (shown.at, angle::unit(turn), Vec2::new(1.0, 0.0));
    for _ in 0..12 {
        out = angle::unit(turn);
        shown = camera.shows(centre + out * radius, depth);
        along = (shown.by_point[1] * out.x - shown.by_point[0] * out.y) * radius;
        let long = along.hypot2();
        if long < 1e-12 {
            break;
        }
        let step = ((p.at - shown.at).dot(along) / long).clamp(-0.5, 0.5);
        if step.abs() < 1e-13 {
            break;
        }
        turn += step;
    }
    let long = along.hypot2().sqrt().max(1e-9);
    let mut normal = Vec2::new(-along.y, along.x) / long;
    if normal.dot(shown.at - middle) < 0.0 {
        normal = -normal;
    }
    let part = |v: Vec2| normal.dot(v);
    let (x, y) = network.unknowns(p.point);
    let [by_x, by_y] = shown.by_point;
    row.add(x, part(by_x));
    row.add(y, part(by_y));
    row.add(network.radius_unknown(p.point), part(by_x * out.x + by_y * out.y));
    cameras(row, network, p.picture, &shown.by_camera, part);
    part(shown.at - p.at)
}

/// What a scanner's axes have to do with each other: the cosine between them times half the diagonal, pixels.
pub(super) fn square(row: &mut Row, network: &Network, s: &State, picture: usize) -> f64 {
    let c = &s.cameras[picture];
    let (a, b) = (Vec2::new(c.h[0], c.h[1]), Vec2::new(c.h[3], c.h[4]));
    let (la, lb) = (a.hypot2().sqrt().max(1e-9), b.hypot2().sqrt().max(1e-9));
    let (ea, eb) = (a / la, b / lb);
    let cosine = ea.dot(eb);
    let (da, db) = ((eb - ea * cosine) * (c.half / la), (ea - eb * cosine) * (c.half / lb));
    let u = network.pictures[picture].unknown;
    for (k, d) in [(0, da.x), (1, da.y), (3, db.x), (4, db.y)] {
        row.add(Some(u + k), d);
    }
    cosine * c.half
}

impl Network {
    /// Adds pictures and picks.
    pub(super) fn pictures(&mut self, survey: &Survey, names: &Names<'_>, problems: &mut Problems) {
        let mut order: Vec<(usize, &Photograph)> = survey.photographs.iter().enumerate().collect();
        order.sort_by(|a, b| a.1.id.value.cmp(&b.1.id.value));
        let held: Vec<bool> = (0..self.points.len())
            .map(|p| {
                self.points[p].known.is_some()
                    || self.datum.origin == Some(p)
                    || self.observations.iter().any(|o| o.points().contains(&p))
            })
            .collect();
        let seen_in = |id: &Text| {
            survey.photographs.iter().filter(|f| f.picks.iter().any(|k| k.of.value == *id)).count()
        };
        for (number, photo) in order {
            let mut bad = Problems::new();
            let mut picks = self.picks(photo, names, &mut bad);
            picks.sort_by(|a, b| {
                a.point.cmp(&b.point).then(a.at.x.total_cmp(&b.at.x)).then(a.at.y.total_cmp(&b.at.y))
            });
            let control: Vec<&Picked> = picks
                .iter()
                .filter(|k| !k.edge && self.points[k.point].depth == 0.0)
                .filter(|k| held[k.point] || seen_in(&self.points[k.point].id) > 1)
                .collect();
            let sigma = photo.deviation.unwrap_or(photo.kind.deviation());
            // a pick that is refused already is not counted as missing
            if bad.is_empty() {
                check(photo, &control, sigma, self, &mut bad);
            }
            problems.append(bad);
            let picture = self.pictures.len();
            let lens =
                photo.kind == PictureKind::Photograph && control.len() > 4 && photo.lens.unwrap_or(true);
            self.assume(photo, control.len(), lens);
            let camera = Camera::new(photo.size);
            let half = camera.half;
            self.pictures.push(Picture {
                id: photo.id.value.clone(),
                kind: photo.kind,
                camera,
                lens,
                size: photo.size,
                unknown: 0,
            });
            let observe = |relation, value: f64, sigma, origin, written: String, place: &Where| Observation {
                relation,
                value,
                sigma,
                zero: None,
                origin,
                what: None,
                written: written.into(),
                reduced: 0.0,
                place: place.clone(),
            };
            for mut k in picks {
                let (pick, p) = (self.picks.len(), k.point);
                k.picture = picture;
                let sigma = k.deviation.unwrap_or(sigma);
                let origin = Origin::Pick(number + 1, k.number);
                if k.edge {
                    let written = format!("{}, {} px", k.at.x, k.at.y);
                    let relation = Relation::Edge { p, pick };
                    self.observations.push(observe(relation, 0.0, sigma, origin, written, &k.place));
                } else {
                    for (down, value) in [(false, k.at.x), (true, k.at.y)] {
                        let relation = Relation::Picked { p, pick, down };
                        let written = format!("{value} px");
                        self.observations.push(observe(
                            relation,
                            value,
                            sigma,
                            origin.clone(),
                            written,
                            &k.place,
                        ));
                    }
                }
                self.picks.push(k);
            }
            let origin = Origin::Picture(number + 1);
            if lens {
                let relation = Relation::Lens { picture };
                self.observations.push(observe(
                    relation,
                    0.0,
                    LENS * half,
                    origin,
                    "0 px".into(),
                    &photo.place,
                ));
            } else if photo.kind == PictureKind::Scan {
                let relation = Relation::Axes { picture };
                self.observations.push(observe(
                    relation,
                    0.0,
                    SQUARE * half,
                    origin,
                    "0 px".into(),
                    &photo.place,
                ));
            }
        }
    }

    fn assume(&mut self, photo: &Photograph, control: usize, lens: bool) {
        let id = &photo.id.value;
        if photo.deviation.is_none() {
            note(
                &mut self.assumed,
                "one pick in a picture has a standard deviation of 1 pixel each way (common practice, no source)",
            );
        }
        let words = match (photo.kind, lens) {
            (PictureKind::Scan, _) => format!(
                "the axes of the scan {id} are square to each other with a standard deviation of 0.001 rad (common practice, no source); each has its own scale"
            ),
            (_, true) => format!(
                "the lens of the photograph {id} looks at the picture's middle and bends by its first radial term alone; at the corner 0 with a standard deviation of 3 % of half the diagonal (common practice, no source)"
            ),
            (_, false) if control > 4 => format!("the photograph {id} is free of the lens's bend, as stated"),
            (_, false) => format!(
                "the photograph {id} is free of the lens's bend: four known points cannot tell, pick a fifth"
            ),
        };
        note(&mut self.assumed, &words);
    }

    fn picks(&self, photo: &Photograph, names: &Names<'_>, problems: &mut Problems) -> Vec<Picked> {
        let mut all: Vec<Picked> = Vec::new();
        let id = &photo.id.value;
        for (i, pick) in photo.picks.iter().enumerate() {
            let Some(point) = names.find(&pick.of, problems) else { continue };
            let twice = all.iter().find(|k| k.point == point && k.edge == pick.edge);
            if let Some(before) = twice {
                let message = format!(
                    "pick {} of `{id}`: `{}` is picked already on line {}",
                    i + 1,
                    pick.of.value,
                    before.place.line
                );
                problems.push(
                    Problem::new("picked-twice", &pick.of.place, message)
                        .help("keep one, or name the other point"),
                );
                continue;
            }
            if pick.edge && !self.is_round(point, &pick.of, problems) {
                continue;
            }
            for spot in &pick.spots {
                let [x, y] = spot.value;
                if !(0.0..=photo.size[0]).contains(&x) || !(0.0..=photo.size[1]).contains(&y) {
                    let message = format!(
                        "pick {} of `{id}`, `{}`: {x}, {y} is outside the picture of {} by {} pixels",
                        i + 1,
                        pick.of.value,
                        photo.size[0],
                        photo.size[1]
                    );
                    problems.push(Problem::new("outside-picture", &spot.place, message).help(
                        "pixels count from the left and from the top edge; was the picture cropped or made smaller?",
                    ));
                    continue;
                }
                all.push(Picked {
                    picture: 0,
                    point,
                    edge: pick.edge,
                    at: Vec2::new(x, y),
                    number: i + 1,
                    deviation: pick.deviation,
                    may_stand_off: pick.may_stand_off.as_ref().map(|l| l.mm()),
                    place: spot.place.clone(),
                });
            }
            let spots: Vec<Vec2> = pick.spots.iter().map(|s| Vec2::new(s.value[0], s.value[1])).collect();
            if pick.edge && in_line(&spots, 0.5).is_some_and(|l| l == spots.len()) {
                let message = format!(
                    "pick {} of `{id}`: the places on the edge of `{}` lie on one line",
                    i + 1,
                    pick.of.value
                );
                problems.push(
                    Problem::new("picks-in-line", &pick.place, message)
                        .help("spread them around the whole edge"),
                );
            }
        }
        all
    }
}

/// The camera of a picture from its points that are placed; those off the plane say nothing yet.
pub(super) fn view(
    network: &Network,
    picture: usize,
    s: &State,
    placed: impl Fn(usize) -> bool,
) -> Option<Camera> {
    let of = network.picks.iter().filter(|k| k.picture == picture && !k.edge);
    let of = of.filter(|k| placed(k.point) && network.points[k.point].depth == 0.0);
    let points: Vec<(Point, Vec2)> = of.map(|k| (s.at[k.point], k.at)).collect();
    let own = &network.pictures[picture];
    resect(&own.camera, own.kind, &points)
}
