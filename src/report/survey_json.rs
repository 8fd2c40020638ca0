//! The report of a survey, for programs: every number unrounded, versioned.

use super::survey_text::{SURVEY_CAUTIONS, datum, in_order};
use crate::survey::behind::Behind;
use crate::survey::observation::Origin;
use crate::survey::{Solved, next, pairs, say};
use serde_json::{Value, json};

/// Version of this JSON.
pub const SURVEY_FORMAT: u32 = 1;

/// The whole report. Lengths in mm; ellipses hold the truth in 95 of 100 surveys.
pub fn survey_json(file: &str, title: &str, s: &Solved, behind: &Behind) -> Value {
    let n = &s.network;
    let id = |p: usize| n.points[p].id.as_ref();
    let points: Vec<Value> = (0..n.points.len()).map(|i| point(s, i)).collect();
    let further =
        |f: &next::Further| json!({ "what": say::further(n, f), "of": ids(s, f.relation.points()) });
    let suspects: Vec<Value> = s
        .suspects
        .iter()
        .map(|x| {
            let slip = x.slip.as_ref().map(|p| json!({ "reads": p.written, "mm": p.mm, "because": p.why }));
            json!({
                "reading": naming(s, x.observation),
                "expected": x.expected,
                "deviation": x.sigma,
                "off": x.off,
                "test": x.test,
                "perhaps": slip,
                "or": x.rivals.iter().map(|r| naming(s, *r)).collect::<Vec<_>>(),
            })
        })
        .collect();
    let zeros: Vec<Value> = n
        .zeros
        .iter()
        .enumerate()
        .map(|(z, zero)| {
            let u = n.zero_unknown(z);
            let held = !s.loose_zeros.contains(&z);
            let deviation = s.cofactor.at(u, u).max(0.0).sqrt() * s.scale;
            json!({
                "tool": &*zero.tool,
                "zero-error": held.then(|| s.adjusted.state.zero[z]),
                "deviation": held.then_some(deviation),
            })
        })
        .collect();
    let ambiguous: Vec<Value> = s
        .ambiguous
        .iter()
        .map(|a| json!({ "point": id(a.point), "also": [a.also.x, a.also.y], "moved": ids(s, a.moved.clone()) }))
        .collect();
    let weakest = s.weakest.as_ref().map(|w| {
        json!({ "point": id(w.point), "now": w.now * s.scale, "further": further(&w.further), "then": w.then * s.scale })
    });
    json!({
        "format": SURVEY_FORMAT,
        "file": file,
        "survey": title,
        "datum": datum(s),
        "redundancy": s.freedom,
        "ratio": s.ratio,
        "scale": s.scale,
        "set-aside": suspects,
        "not-determined": s.undetermined.iter()
            .map(|u| json!({ "point": id(u.point), "radius-only": u.radius_only })).collect::<Vec<_>>(),
        "would-determine": s.to_determine.iter().map(further).collect::<Vec<_>>(),
        "elsewhere": ambiguous,
        "points": points,
        "zero-errors": zeros,
        "photographs": super::survey_pictures::json(s),
        "behind": super::survey_behind::json(behind),
        "pairs": left_and_right(s),
        "readings": in_order(s).into_iter().map(|i| reading(s, i)).collect::<Vec<_>>(),
        "weakest": weakest,
        "not-checkable": s.not_checkable.iter()
            .map(|(i, f)| json!({ "reading": naming(s, *i), "with": f.as_ref().map(further) })).collect::<Vec<_>>(),
        "assumed": n.assumed,
        "cautions": SURVEY_CAUTIONS,
    })
}

fn left_and_right(s: &Solved) -> Value {
    let Some((middle, all)) = pairs::pairs(s) else { return Value::Null };
    let id = |p: usize| s.network.points[p].id.as_ref();
    let one = |p: &pairs::Partners| {
        json!({
            "left": id(p.left),
            "right": id(p.right),
            "across": p.across,
            "up": p.up,
            "deviation-across": p.deviations.0,
            "deviation-up": p.deviations.1,
        })
    };
    json!({ "middle": middle, "of": all.iter().map(one).collect::<Vec<_>>() })
}

fn ids(s: &Solved, of: Vec<usize>) -> Vec<&str> {
    of.into_iter().map(|p| s.network.points[p].id.as_ref()).collect()
}

fn naming(s: &Solved, i: usize) -> Value {
    let o = &s.network.observations[i];
    let (kind, number) = match o.origin {
        Origin::Reading(k) => ("reading", k),
        Origin::Condition(k) => ("condition", k),
        Origin::Pick(_, k) => ("pick", k),
        Origin::Picture(k) => ("taken", k),
    };
    if let Origin::Pick(k, _) | Origin::Picture(k) = o.origin {
        let what = say::observation(&s.network, o);
        return json!({ "kind": kind, "photograph": k, "number": number, "line": o.place.line, "what": what, "unit": "px" });
    }
    json!({ "kind": kind, "number": number, "line": o.place.line, "what": say::observation(&s.network, o) })
}

fn point(s: &Solved, i: usize) -> Value {
    let p = &s.network.points[i];
    if !s.holds(i) {
        return json!({ "id": &*p.id, "held": false });
    }
    let at = s.adjusted.state.at[i];
    if s.doubtful(i) {
        // the deviations hold for one of two figures only
        let others: Vec<Value> = s
            .either
            .iter()
            .filter(|e| e.point == i)
            .map(|e| json!({ "if-wrong": naming(s, e.rival), "x": e.at.x, "y": e.at.y, "radius": p.round.then_some(e.radius) }))
            .collect();
        let radius = (p.round && s.sized(i)).then(|| s.adjusted.state.radius[i]);
        return json!({ "id": &*p.id, "held": true, "x": at.x, "y": at.y, "radius": radius, "ellipse": null, "or": others });
    }
    let (e, d) = (s.ellipse(i), s.deviations(i));
    let (_, xy, _) = next::covariance(&s.network, &s.cofactor, i);
    let mut out = json!({
        "id": &*p.id,
        "held": true,
        "x": at.x,
        "y": at.y,
        "deviation-x": d.0,
        "deviation-y": d.1,
        "covariance": xy * s.scale * s.scale,
        "ellipse": { "major": e.major, "minor": e.minor, "angle": e.angle },
    });
    if p.round && s.sized(i) {
        out["radius"] = json!(s.adjusted.state.radius[i]);
        out["deviation-radius"] = json!(s.radius_deviation(i));
    }
    out
}

fn reading(s: &Solved, i: usize) -> Value {
    let o = &s.network.observations[i];
    let mut out = naming(s, i);
    out["reads"] = json!(&*o.written);
    out["value"] = json!(o.value);
    out["deviation"] = json!(o.sigma);
    out["used"] = json!(s.used[i]);
    if let Some(t) = &s.tests[i] {
        out["residual"] = json!(t.residual);
        out["redundancy"] = json!(t.redundancy);
        out["test"] = json!(t.test);
        out["misclosure"] = json!(t.misclosure());
        out["checkable"] = json!(t.checkable());
    }
    out
}
