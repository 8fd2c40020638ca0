//! A sheet as a plate with its openings: what is cut and what is open already, joined so that no two outlines cross.

use super::{Form, Group, Kind, Named};
use crate::draw::template::plan::{Fate, Plan};
use crate::geom::distance::{self, Relation};
use crate::geom::{Contour, contains};
use crate::panel::Panel;

/// A flat piece of metal of one thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Its outline, counter-clockwise.
    pub outline: Contour,
    /// Its openings, counter-clockwise, each inside the outline, none crossing or inside another.
    pub openings: Vec<Contour>,
    /// Depth of its front face, mm.
    pub from: f64,
    /// Depth of its back.
    pub to: f64,
}

/// The plates of one sheet; none where its thickness is not known.
pub(super) fn group(panel: &Panel, sheet: usize, left_out: &mut Vec<String>) -> Option<Group> {
    let s = panel.sheets.get(sheet)?;
    let Some(thick) = s.thickness.filter(|t| *t > 0.0) else {
        left_out.push(format!("{}: its thickness is missing", s.id));
        return None;
    };
    let plan = Plan::of(panel, sheet)?;
    let open = |f: Fate| matches!(f, Fate::Cut | Fate::Existing | Fate::FromPart);
    let openings = plan.openings.iter().filter(|o| open(o.fate)).map(|o| (o.name.as_str(), &o.contour));
    let (plates, not_cut) = plates(&plan.outline, openings, s.front, s.front + thick);
    left_out.extend(not_cut.into_iter().map(|name| {
        format!("the opening {name} in {}: where it crosses another outline it could not be worked out", s.id)
    }));
    let many = plates.len() > 1;
    let named = plates.into_iter().enumerate().map(|(k, plate)| Named {
        id: if many { format!("{}.piece-{}", s.id, k + 1) } else { s.id.clone() },
        kind: Kind::Sheet,
        form: Form::Plate(plate),
        link: None,
    });
    let material = s.material.as_deref().unwrap_or("material not given");
    let title = format!("{}, {material}", s.id);
    Some(Group { id: s.id.clone(), title, instrument: false, parts: named.collect() })
}

/// Cuts openings out of an outline; openings that cross become one, one over the edge becomes a notch. Gives the
/// plates and the names of the openings that could not be cut.
fn plates<'a>(
    outline: &Contour,
    openings: impl Iterator<Item = (&'a str, &'a Contour)>,
    from: f64,
    to: f64,
) -> (Vec<Plate>, Vec<String>) {
    let mut not_cut = Vec::new();
    let mut joined: Vec<(&str, Contour)> = Vec::new();
    for (name, contour) in openings {
        let mut new = contour.ccw();
        while let Some(k) = joined.iter().position(|(_, c)| relation(c, &new) == Some(Relation::Crossing)) {
            let (other, c) = joined.remove(k);
            match c.union(&new).filter(|u| u.len() == 1).and_then(|mut u| u.pop()) {
                Some(one) => new = one.ccw(),
                None => not_cut.push(other.to_owned()),
            }
        }
        let within = |a: &Contour, b: &Contour| {
            matches!(relation(a, b), Some(Relation::Inside | Relation::Coincident))
        };
        if !joined.iter().any(|(_, c)| within(&new, c)) {
            joined.retain(|(_, c)| !within(c, &new));
            joined.push((name, new));
        }
    }
    let mut outlines = vec![outline.ccw()];
    let mut inside = Vec::new();
    for (name, c) in joined {
        if !outlines.iter().any(|o| relation(&c, o) == Some(Relation::Crossing)) {
            inside.push(c);
            continue;
        }
        let cut: Option<Vec<Vec<Contour>>> = outlines
            .iter()
            .map(|o| match relation(&c, o) {
                Some(Relation::Crossing) => o.without(&c),
                _ => Some(vec![o.clone()]),
            })
            .collect();
        match cut {
            Some(pieces) => outlines = pieces.into_iter().flatten().map(|o| o.ccw()).collect(),
            None => not_cut.push(name.to_owned()),
        }
    }
    let plate = |outline: Contour| {
        let openings = inside.iter().filter(|c| contains(&outline, c)).cloned().collect();
        Plate { outline, openings, from, to }
    };
    (outlines.into_iter().map(plate).collect(), not_cut)
}

/// How two outlines lie to each other; none where they are apart.
fn relation(a: &Contour, b: &Contour) -> Option<Relation> {
    distance::within(a, b, 0.0).map(|g| g.relation)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point;

    fn square(x: f64, y: f64, size: f64) -> Contour {
        Contour::rect(Point::new(x, y), size, size, 0.0)
    }

    fn area(p: &Plate) -> f64 {
        p.outline.area() - p.openings.iter().map(Contour::area).sum::<f64>()
    }

    #[test]
    fn openings_join_notch_and_divide() {
        let sheet = square(0.0, 0.0, 100.0);
        let cut = |list: &[Contour]| {
            let (plates, not_cut) = plates(&sheet, list.iter().map(|c| ("o", c)), 0.0, 2.0);
            assert!(not_cut.is_empty());
            (plates.len(), plates[0].openings.len(), plates.iter().map(area).sum::<f64>())
        };
        // one within another counts once; two that cross are one opening of 2 x 400 - 10 x 10
        let within = cut(&[square(0.0, 0.0, 20.0), square(1.0, 0.0, 5.0), square(0.0, 0.0, 20.0)]);
        assert_eq!((within.0, within.1), (1, 1));
        assert!((within.2 - 9600.0).abs() < 1e-3);
        let (n, holes, left) = cut(&[square(0.0, 0.0, 20.0), square(10.0, 10.0, 20.0)]);
        assert!((n, holes) == (1, 1) && (left - (10_000.0 - 700.0)).abs() < 1e-2, "{left}");
        // half of it over the edge
        let (n, holes, left) = cut(&[square(50.0, 0.0, 20.0)]);
        assert!((n, holes) == (1, 0) && (left - 9800.0).abs() < 1e-2, "{left}");
        // a slot right across: two pieces
        let slot = Contour::rect(Point::ORIGIN, 10.0, 120.0, 0.0);
        let (n, _, left) = cut(&[slot]);
        assert!(n == 2 && (left - 9000.0).abs() < 1e-2, "{left}");
    }
}
