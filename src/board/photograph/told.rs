//! What the adjustment says of the survey that is being made, as the page shows it: of every point, circle and reading its
//! residual and its doubt, and which of them disagrees.

use crate::define::survey::Survey;
use crate::diag::Problems;
use crate::geom::{Point, Segment, Vec2, angle};
use crate::survey::observation::{Origin, Relation};
use crate::survey::statistics::{LINE_95, critical};
use crate::survey::{Network, Solved, found, pictures, said, say, solve};
use crate::units::{Unit, print_length};
use serde_json::{Value, json};

/// Places of a circle's edge that are told.
const ROUND: usize = 72;

/// Adjusts a survey; what is missing for it, in words.
///
/// # Errors
/// Problems of the survey: too few points, points on one line, distances that no triangle has.
pub fn solved(survey: &Survey) -> Result<Solved, Vec<String>> {
    let mut problems = Problems::new();
    let network = Network::build(survey, &mut problems);
    let words = |all: &Problems| {
        let each = all.sorted().into_iter().map(|p| match &p.help {
            Some(help) => format!("{}: {help}", p.message),
            None => p.message.clone(),
        });
        each.collect::<Vec<_>>()
    };
    let Some(network) = network else { return Err(words(&problems)) };
    solve(network).map_err(|p| words(&p))
}

/// The picture of an id among those of the network.
pub fn picture(s: &Solved, id: &str) -> Option<usize> {
    s.network.pictures.iter().position(|p| p.id.as_ref() == id)
}

/// What is told of a solution; `picture` is the one that is looked at.
pub fn told(survey: &Survey, s: &Solved, picture: usize, unit: Unit) -> Value {
    let count = s.used.iter().filter(|u| **u).count();
    let limit = critical(count);
    let length = |mm: f64| print_length((mm * 100.0).round() / 100.0, unit);
    let mut points = Vec::new();
    let mut circles = Vec::new();
    for p in 0..s.network.points.len() {
        let of = One::of(s, picture, p);
        if of.spots == 0 && !s.holds(p) {
            continue;
        }
        let m = &s.network.points[p];
        let at = s.adjusted.state.at[p];
        let known = m.known.is_some();
        let held = s.holds(p);
        let doubt = if known { None } else { held.then(|| s.ellipse(p).major) };
        let camera = &s.adjusted.state.cameras[picture];
        let shows = camera.sees(at, m.depth);
        let verdict = if of.aside {
            "set aside"
        } else if of.test > limit {
            "disagrees"
        } else if of.spots > 0 && of.redundancy < 0.02 {
            "not checked"
        } else {
            "fits"
        };
        let mut one = json!({
            "id": &*m.id, "picked": of.spots > 0, "at": [at.x, at.y], "x": length(at.x), "y": length(at.y), "known": known,
            "shows": [shows.x, shows.y], "px": of.px, "mm": of.mm, "mm-words": of.mm.map(&length),
            "doubt": doubt, "doubt-words": doubt.map(&length), "test": of.test, "verdict": verdict,
            "doubtful": s.doubtful(p),
        });
        if m.round {
            let r = s.adjusted.state.radius[p];
            let sized = s.sized(p);
            let wide = 2.0 * LINE_95 * s.radius_deviation(p);
            let edge = (0..=ROUND).map(|k| {
                let out = angle::unit(std::f64::consts::TAU * k as f64 / ROUND as f64);
                let q = camera.sees(at + out * r, m.depth);
                [q.x, q.y]
            });
            one["diameter"] = json!(sized.then_some(2.0 * r));
            one["diameter-doubt"] = json!(sized.then_some(wide));
            one["diameter-words"] = json!(sized.then(|| format!("{} ± {}", length(2.0 * r), length(wide))));
            one["round"] = json!(edge.collect::<Vec<_>>());
            one["spots"] = json!(of.spots);
            circles.push(one);
        } else {
            points.push(one);
        }
    }
    let summary = pictures::summaries(s).into_iter().find(|x| x.picture == picture);
    json!({
        "points": points, "circles": circles, "readings": readings(s, limit), "suspects": suspects(s, unit),
        "rms": summary.as_ref().map(|x| x.rms), "covers": summary.as_ref().map(|x| [x.covers.0, x.covers.1]),
        "lens": summary.as_ref().and_then(|x| x.lens), "deviation": survey.photographs.iter().find(|f| f.id.value == s.network.pictures[picture].id)
            .map(|f| f.deviation.unwrap_or(f.kind.deviation())),
        "freedom": s.freedom, "ratio": s.ratio, "scale": s.scale,
        "outline": curve(s, picture, &found::outline(survey, s)),
        "openings": found::openings(survey, s).iter().map(|o| curve(s, picture, o)).collect::<Vec<_>>(),
        "limit": limit, "says": general(s), "assumed": s.network.assumed,
    })
}

/// Lines and arcs of the panel as they show in the picture.
fn curve(s: &Solved, picture: usize, pieces: &[Segment]) -> Vec<[f64; 2]> {
    let camera = &s.adjusted.state.cameras[picture];
    let fine = |p: &Segment| if matches!(p, Segment::Arc(_)) { 24 } else { 4 };
    let all = pieces.iter().flat_map(|p| (0..=fine(p)).map(move |k| p.at(f64::from(k) / f64::from(fine(p)))));
    all.map(|p| camera.sees(p, 0.0)).map(|q| [q.x, q.y]).collect()
}

/// What the picture says of one point.
struct One {
    /// Places picked.
    spots: usize,
    /// How far the pick is from where the solution shows it; of an edge, the root of the mean square, pixels.
    px: Option<f64>,
    /// The same on the panel, mm.
    mm: Option<f64>,
    /// Largest test.
    test: f64,
    /// Largest redundancy.
    redundancy: f64,
    /// Whether one of its observations was set aside.
    aside: bool,
}

impl One {
    fn of(s: &Solved, picture: usize, p: usize) -> One {
        let mut one = One { spots: 0, px: None, mm: None, test: 0.0, redundancy: 0.0, aside: false };
        let (camera, here) = (&s.adjusted.state.cameras[picture], s.adjusted.state.at[p]);
        let (mut squares, mut wide) = (0.0, 0.0);
        for (i, o) in s.network.observations.iter().enumerate() {
            let (pick, edge) = match o.relation {
                Relation::Picked { p: q, pick, .. } if q == p => (pick, false),
                Relation::Edge { p: q, pick } if q == p => (pick, true),
                _ => continue,
            };
            if s.network.picks[pick].picture != picture {
                continue;
            }
            one.aside |= s.suspects.iter().any(|x| x.observation == i);
            if let Some(t) = &s.tests[i] {
                one.test = one.test.max(t.test.abs());
                one.redundancy = one.redundancy.max(t.redundancy);
            }
            let at = s.network.picks[pick].at;
            if edge {
                one.spots += 1;
                let (value, _) = o.row(&s.network, &s.adjusted.state);
                squares += value * value;
                let seen = camera
                    .lies(at)
                    .map_or(0.0, |q| ((q - here).hypot2().sqrt() - s.adjusted.state.radius[p]).abs());
                wide += seen * seen;
            } else if let Relation::Picked { down: false, .. } = o.relation {
                one.spots += 1;
                let away: Vec2 = camera.sees(here, s.network.points[p].depth) - at;
                one.px = Some(away.hypot2().sqrt());
                one.mm = camera.lies(at).map(|q: Point| (q - here).hypot2().sqrt());
            }
        }
        if one.px.is_none() && one.spots > 0 {
            one.px = Some((squares / one.spots as f64).sqrt());
            one.mm = Some((wide / one.spots as f64).sqrt());
        }
        one
    }
}

/// Every reading and its residual, by its number in the file.
fn readings(s: &Solved, limit: f64) -> Vec<Value> {
    let all = s.network.observations.iter().enumerate();
    let of = all.filter_map(|(i, o)| {
        let Origin::Reading(n) = o.origin else { return None };
        let test = s.tests[i].as_ref();
        let aside = s.suspects.iter().find(|x| x.observation == i);
        let off = aside.map_or_else(|| test.map(|t| -t.residual), |x| Some(x.off));
        let verdict = match (aside, test) {
            (Some(_), _) => "set aside",
            (_, Some(t)) if t.test.abs() > limit => "disagrees",
            (_, Some(t)) if t.redundancy < 0.02 => "not checked",
            _ => "fits",
        };
        Some(json!({
            "n": n - 1, "words": say::observation(&s.network, o), "reads": &*o.written, "off": off,
            "test": test.map_or(limit, |t| t.test.abs()), "verdict": verdict,
        }))
    });
    of.collect()
}

/// What an observation is about, as the page calls it.
fn name(s: &Solved, i: usize) -> String {
    let o = &s.network.observations[i];
    match o.relation {
        Relation::Picked { p, .. } => format!("the pick of {}", s.network.points[p].id),
        Relation::Edge { p, .. } => format!("a place on the edge of {}", s.network.points[p].id),
        _ => format!("{} ({})", said(&o.origin), say::observation(&s.network, o)),
    }
}

/// Which picks and readings disagree with all others, in words.
fn suspects(s: &Solved, unit: Unit) -> Vec<Value> {
    let mut told: Vec<String> = Vec::new();
    let mut out = Vec::new();
    for x in &s.suspects {
        let o = &s.network.observations[x.observation];
        let who = name(s, x.observation);
        if told.contains(&who) {
            continue;
        }
        told.push(who.clone());
        let (off, cure, point) = match o.relation {
            Relation::Picked { p, .. } => {
                let one = (0..s.network.pictures.len()).map(|k| One::of(s, k, p)).find(|one| one.aside);
                let (px, mm) = one.map_or((x.off.abs(), None), |one| (one.px.unwrap_or(0.0), one.mm));
                let mm = mm.map_or(String::new(), |mm| {
                    format!(", {} on the panel", print_length((mm * 10.0).round() / 10.0, unit))
                });
                let known = s.network.points[p].known.is_some();
                let cure = if known {
                    "pick it again, or put its known place right"
                } else {
                    "pick it again, or look at the readings about it"
                };
                (format!("{px:.1} pixels{mm}"), cure, Some(p))
            }
            Relation::Edge { p, .. } => {
                (format!("{:.1} pixels", x.off.abs()), "find or pick its edge again", Some(p))
            }
            _ => (print_length((x.off.abs() * 10.0).round() / 10.0, unit), "measure it again", None),
        };
        let mut rivals: Vec<String> = x.rivals.iter().map(|r| name(s, *r)).filter(|r| *r != who).collect();
        rivals.dedup();
        let or = match rivals.as_slice() {
            [] => String::new(),
            all => format!(" It may be {} instead: the others cannot tell.", all.join(" or ")),
        };
        out.push(json!({
            "id": point.map(|p| &*s.network.points[p].id),
            "words": format!("{who} disagrees with all others by {off} and is set aside: {cure}.{or}"),
        }));
    }
    out
}

/// What holds for the whole.
fn general(s: &Solved) -> Vec<String> {
    let mut out = Vec::new();
    if s.freedom == 0 {
        out.push(
            "Nothing checks these picks: every residual is nought by itself. One more known point would."
                .into(),
        );
    }
    if s.scale > 1.0 {
        out.push(format!(
            "The residuals are {:.1} times as large as the stated deviations say: every doubt is made as many times larger.",
            s.scale
        ));
    }
    for u in &s.undetermined {
        let what = if u.radius_only { "the diameter" } else { "the place" };
        out.push(format!("{what} of {} is not determined.", s.network.points[u.point].id));
    }
    for a in &s.ambiguous {
        out.push(format!("{} may lie on either side: say on which.", s.network.points[a.point].id));
    }
    out
}
