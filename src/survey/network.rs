//! From the file to a network: points, unknowns and observations, in an order that does not depend on the file's.

use super::observation::{Observation, Origin, State};
use super::picked::{Picked, Picture};
use super::tools::{handling, note};
use crate::define::Text;
use crate::define::survey::{Side, Survey, What};
use crate::diag::{Problem, Problems, Where, Written, did_you_mean};
use crate::geom::Point;

/// Standard deviation of a condition where the file states none, mm: common practice, no source.
pub const CONDITION: f64 = 0.2;
/// Most unknowns: above, the normal equations would fill the memory.
const MOST_UNKNOWNS: usize = 2400;

/// A point or circle.
#[derive(Clone, Debug)]
pub struct Mark {
    /// Its id.
    pub id: Text,
    /// Whether it is a circle.
    pub round: bool,
    /// Coordinates that hold.
    pub known: Option<Point>,
    /// Ahead of the datum plane, mm.
    pub depth: f64,
    /// On which side of other points it lies.
    pub sides: Vec<(Side, usize)>,
    /// Where it stands.
    pub place: Where,
    x: Option<usize>,
    y: Option<usize>,
    r: Option<usize>,
}

/// A tool whose zero error is sought.
#[derive(Clone, Debug)]
pub struct Zero {
    /// The tool's name.
    pub tool: Text,
    unknown: usize,
}

/// Where x and y begin and run.
#[derive(Clone, Debug, Default)]
pub struct Datum {
    /// The origin; none where points are known.
    pub origin: Option<usize>,
    /// The point towards which x runs.
    pub along: Option<usize>,
    /// The file states none: the first two points were taken.
    pub assumed: bool,
}

/// A network of points and observations.
#[derive(Clone, Debug)]
pub struct Network {
    /// Points and circles, by id.
    pub points: Vec<Mark>,
    /// Zero errors that are sought, by tool.
    pub zeros: Vec<Zero>,
    /// Observations.
    pub observations: Vec<Observation>,
    /// Photographs and scans, by id.
    pub pictures: Vec<Picture>,
    /// Places picked in them.
    pub picks: Vec<Picked>,
    /// Left and right partners.
    pub pairs: Vec<(usize, usize)>,
    /// Origin and axes.
    pub datum: Datum,
    /// Number of unknowns.
    pub unknowns: usize,
    /// What was assumed where the file says nothing, in words.
    pub assumed: Vec<String>,
}

impl Network {
    /// Indices of a point's unknown coordinates.
    pub fn unknowns(&self, p: usize) -> (Option<usize>, Option<usize>) {
        (self.points[p].x, self.points[p].y)
    }

    /// Index of a circle's unknown radius.
    pub fn radius_unknown(&self, p: usize) -> Option<usize> {
        self.points[p].r
    }

    /// Index of a zero error among the unknowns.
    pub fn zero_unknown(&self, z: usize) -> usize {
        self.zeros[z].unknown
    }

    /// The point of an id.
    pub fn find(&self, id: &str) -> Option<usize> {
        self.points.binary_search_by(|p| p.id.as_ref().cmp(id)).ok()
    }

    /// A state moved by a step of all unknowns.
    pub fn moved(&self, s: &State, step: &[f64]) -> State {
        let by = |u: Option<usize>| u.map_or(0.0, |u| step[u]);
        let mut next = s.clone();
        for (i, p) in self.points.iter().enumerate() {
            next.at[i] += crate::geom::Vec2::new(by(p.x), by(p.y));
            next.radius[i] += by(p.r);
        }
        for (z, zero) in self.zeros.iter().enumerate() {
            next.zero[z] += step[zero.unknown];
        }
        for (camera, picture) in next.cameras.iter_mut().zip(&self.pictures) {
            for u in 0..picture.unknowns() {
                *camera = camera.changed(u, step[picture.unknown + u]);
            }
        }
        next
    }

    /// Builds it from a file; every problem of the file goes to `problems`.
    pub fn build(survey: &Survey, problems: &mut Problems) -> Option<Network> {
        let mut marks: Vec<&crate::define::survey::Mark> = survey.points.iter().collect();
        marks.sort_by(|a, b| a.id.value.cmp(&b.id.value));
        let mut points: Vec<Mark> = marks
            .iter()
            .map(|m| Mark {
                id: m.id.value.clone(),
                round: m.round,
                known: m.at.as_ref().map(|at| Point::new(at.x.mm(), at.y.mm())),
                depth: m.depth.as_ref().map_or(0.0, |d| d.mm()),
                sides: Vec::new(),
                place: m.id.place.clone(),
                x: None,
                y: None,
                r: None,
            })
            .collect();
        let ids: Vec<Text> = points.iter().map(|p| p.id.clone()).collect();
        let names = Names { ids: &ids };
        for (point, m) in points.iter_mut().zip(&marks) {
            let sides = m.sides.iter();
            point.sides = sides.filter_map(|(s, of)| Some((*s, names.find(of, problems)?))).collect();
        }
        let pairs = survey.pairs.iter().filter_map(|two| names.all(two, problems));
        let pairs = pairs.filter_map(|two| Some((*two.first()?, *two.get(1)?))).collect();
        let mut assumed = Vec::new();
        let datum = datum(survey, &names, &mut points, &mut assumed, problems);
        let mut network = Network {
            points,
            zeros: Vec::new(),
            observations: Vec::new(),
            pictures: Vec::new(),
            picks: Vec::new(),
            pairs,
            datum,
            unknowns: 0,
            assumed,
        };
        network.observe(survey, &ids, problems);
        network.number();
        if network.observations.is_empty() && problems.is_empty() {
            let message = "there is no reading and no condition: nothing can be said";
            problems.push(Problem::new("no-readings", &survey.span, message).help("add \"readings\""));
        }
        if network.unknowns > MOST_UNKNOWNS {
            let message = format!("{} unknowns: at most {MOST_UNKNOWNS}", network.unknowns);
            problems.push(
                Problem::new("too-many-points", &survey.span, message).help("split the survey into parts"),
            );
        }
        problems.is_empty().then_some(network)
    }

    /// Gives every unknown its number.
    fn number(&mut self) {
        let mut n = 0;
        let mut next = || {
            n += 1;
            Some(n - 1)
        };
        let along = self.datum.along;
        for (i, p) in self.points.iter_mut().enumerate() {
            if p.known.is_none() {
                p.x = next();
                p.y = if along == Some(i) { None } else { next() };
            }
            p.r = if p.round { next() } else { None };
        }
        for z in &mut self.zeros {
            z.unknown = next().unwrap_or(0);
        }
        for picture in &mut self.pictures {
            picture.unknown = n;
            n += picture.unknowns();
        }
        self.unknowns = n;
    }

    fn observe(&mut self, survey: &Survey, ids: &[Text], problems: &mut Problems) {
        let names = Names { ids };
        let mut zeros: Vec<&Text> = survey.tools.iter().filter(|t| t.find_zero).map(|t| &t.name).collect();
        zeros.sort();
        self.zeros = zeros.into_iter().map(|t| Zero { tool: t.clone(), unknown: 0 }).collect();
        for (i, r) in survey.readings.iter().enumerate() {
            let Some(of) = names.all(&r.of, problems) else { continue };
            let tool = r.tool.as_ref().map_or("tape", |t| t.value.as_ref());
            let Some(how) = handling(survey, tool, &r.tool, &mut self.assumed, problems) else { continue };
            let Some(relation) = self.relation(r.what, &of, &r.of, problems) else { continue };
            let value = r.reads.mm() - how.off;
            let signed = matches!(r.what, What::Offset | What::Along | What::Up | What::Right);
            if value < 0.0 && !signed || value == 0.0 && matches!(r.what, What::Diameter) {
                let reduced = if how.off == 0.0 {
                    String::new()
                } else {
                    format!(
                        ", less {} for the tool's zero, is {}",
                        crate::units::fmt_mm(how.off),
                        crate::units::fmt_mm(value)
                    )
                };
                let message =
                    format!("reading {} is {}{reduced}: this cannot be zero or less", i + 1, r.reads.value);
                problems.push(Problem::new("negative-reading", &r.reads.place, message).help(
                    "a distance, gap, diameter or radius has no sign; offsets are positive to the left of their line",
                ));
                continue;
            }
            let zero = if how.zero { self.zeros.iter().position(|z| z.tool.as_ref() == tool) } else { None };
            self.observations.push(Observation {
                relation,
                value,
                sigma: r.deviation.as_ref().map_or(how.sigma, |d| d.mm()),
                zero,
                origin: Origin::Reading(i + 1),
                what: Some(r.what),
                written: r.reads.to_string().into(),
                reduced: how.off,
                place: r.place.clone(),
            });
        }
        for (i, c) in survey.conditions.iter().enumerate() {
            let Some(of) = names.all(&c.of, problems) else { continue };
            let sigma = c.deviation.as_ref().map_or(CONDITION, |d| d.mm());
            if c.deviation.is_none() {
                note(
                    &mut self.assumed,
                    "conditions hold with a standard deviation of 0.2 mm (common practice, no source)",
                );
            }
            for relation in self.condition(c.holds, &of, &c.of, problems) {
                self.observations.push(Observation {
                    relation,
                    value: 0.0,
                    sigma,
                    zero: None,
                    origin: Origin::Condition(i + 1),
                    what: None,
                    written: "0".into(),
                    reduced: 0.0,
                    place: c.place.clone(),
                });
            }
        }
        self.pictures(survey, &names, problems);
        // sums run in this order, whatever the order in the file
        self.observations.sort_by(|a, b| {
            let by = |o: &Observation| (o.relation, o.zero);
            by(a).cmp(&by(b)).then(a.value.total_cmp(&b.value)).then(a.sigma.total_cmp(&b.sigma))
        });
    }
}

/// Ids to indices.
pub(super) struct Names<'a> {
    ids: &'a [Text],
}

impl Names<'_> {
    pub(super) fn find(&self, id: &Written<Text>, problems: &mut Problems) -> Option<usize> {
        let found = self.ids.iter().position(|i| *i == id.value);
        if found.is_none() {
            let help = match did_you_mean(&id.value, self.ids.iter().map(AsRef::as_ref)) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => "list it in `points` or `circles`".to_string(),
            };
            let message = format!("there is no point or circle `{}`", id.value);
            problems.push(Problem::new("unknown-point", &id.place, message).help(help));
        }
        found
    }

    /// All of them, each once.
    fn all(&self, of: &[Written<Text>], problems: &mut Problems) -> Option<Vec<usize>> {
        let found: Vec<Option<usize>> = of.iter().map(|id| self.find(id, problems)).collect();
        let found: Vec<usize> = found.into_iter().collect::<Option<_>>()?;
        for (i, p) in found.iter().enumerate() {
            if found.iter().take(i).any(|q| q == p) {
                let at = of.get(i)?;
                let message = format!("`{}` stands here twice", at.value);
                problems
                    .push(Problem::new("same-point", &at.place, message).help("name two different points"));
                return None;
            }
        }
        Some(found)
    }
}

fn datum(
    survey: &Survey,
    names: &Names<'_>,
    points: &mut [Mark],
    assumed: &mut Vec<String>,
    problems: &mut Problems,
) -> Datum {
    let known = points.iter().filter(|p| p.known.is_some()).count();
    let mut datum = Datum::default();
    if let Some(said) = &survey.datum {
        if known > 0 {
            let message = "coordinates are given for points, and a datum too";
            problems.push(
                Problem::new("two-datums", &said.origin.place, message)
                    .help("keep one: `datum`, or `at` of the points"),
            );
            return datum;
        }
        datum.origin = names.find(&said.origin, problems);
        datum.along = said.along.as_ref().and_then(|a| names.find(a, problems));
        if let (Some(along), true) = (&said.along, datum.origin.is_some() && datum.origin == datum.along) {
            let message = "the base line ends where it begins";
            problems
                .push(Problem::new("same-point", &along.place, message).help("name two different points"));
            datum.along = None;
        }
    } else if known == 0 {
        let mut first = survey.points.iter().filter_map(|m| names.ids.iter().position(|i| *i == m.id.value));
        (datum.origin, datum.along) = (first.next(), first.next());
        datum.assumed = true;
        if let (Some(a), Some(b)) = (datum.origin, datum.along) {
            let (a, b) = (&names.ids[a], &names.ids[b]);
            assumed.push(format!("no datum is stated: {a} is taken as origin, the base line to {b} as x"));
        }
    }
    if let Some(o) = datum.origin {
        let at = survey.datum.as_ref().and_then(|d| d.at.as_ref());
        points[o].known = Some(at.map_or(Point::ORIGIN, |at| Point::new(at.x.mm(), at.y.mm())));
    }
    datum
}
