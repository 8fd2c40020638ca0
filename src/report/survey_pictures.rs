//! Photographs and scans in the report of a survey: text and JSON.

use crate::define::survey::PictureKind;
use crate::report::sentence::wrap;
use crate::survey::Solved;
use crate::survey::pictures::{Summary, summaries};
use serde_json::{Value, json};
use std::fmt::Write;

fn word(s: &Solved, one: &Summary) -> &'static str {
    match s.network.pictures[one.picture].kind {
        PictureKind::Photograph => "photograph",
        PictureKind::Scan => "scan",
    }
}

/// A paragraph for each.
pub(super) fn text(t: &mut String, s: &Solved) {
    for one in summaries(s) {
        let _ = writeln!(t);
        let id = |p: usize| s.network.points[p].id.as_ref();
        let name = &s.network.pictures[one.picture].id;
        let mut line = format!(
            "The {} {name}: {} places picked, off by {:.2} px in the mean; a pixel covers {:.2} to {:.2} mm.",
            word(s, &one),
            one.picks,
            one.rms,
            one.covers.0,
            one.covers.1
        );
        if let Some((lens, deviation)) = one.lens {
            let _ =
                write!(line, " The lens moves the picture's corner by {lens:+.1} px (dev. {deviation:.1}).");
        }
        if let Some(by) = one.parallax {
            let _ = write!(
                line,
                " What stands off the panel's plane seems to lie up to {by:.2} mm aside for each mm (square pixels, the lens looks at the picture's middle)."
            );
        } else if one.lens.is_some() || word(s, &one) == "photograph" {
            line.push_str(" It is taken too square to the panel to tell where the camera was.");
        }
        let _ = writeln!(t, "{}", wrap(&line, 0));
        for (p, by, shift) in &one.off_plane {
            let what = match shift {
                Some(shift) => format!("it then lies up to {shift:.1} mm elsewhere"),
                None => "by how much it then lies elsewhere cannot be told".to_owned(),
            };
            let line = format!(
                "{} may stand off the plane by {by:.1} mm: {what}. Its ellipse does not hold that, and no panel is made of it.",
                id(*p)
            );
            let _ = writeln!(t, "{}", wrap(&format!("- {line}"), 2));
        }
        for p in &one.not_put_right {
            let line = format!(
                "the depth of {} is not put right in it: its place is withheld from the panel. Take it with a tape.",
                id(*p)
            );
            let _ = writeln!(t, "{}", wrap(&format!("- {line}"), 2));
        }
    }
}

/// The same, unrounded.
pub(super) fn json(s: &Solved) -> Vec<Value> {
    let id = |p: usize| s.network.points[p].id.as_ref();
    let one = |one: Summary| {
        json!({
            "id": &*s.network.pictures[one.picture].id,
            "kind": word(s, &one),
            "picks": one.picks,
            "rms-px": one.rms,
            "mm-per-px": [one.covers.0, one.covers.1],
            "lens-px": one.lens.map(|l| l.0),
            "lens-deviation-px": one.lens.map(|l| l.1),
            "parallax-per-mm": one.parallax,
            "may-stand-off": one.off_plane.iter()
                .map(|(p, by, shift)| json!({ "point": id(*p), "by": by, "then-off": shift })).collect::<Vec<_>>(),
            "depth-not-put-right": one.not_put_right.iter().map(|p| id(*p)).collect::<Vec<_>>(),
        })
    };
    summaries(s).into_iter().map(one).collect()
}
