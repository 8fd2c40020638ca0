//! Clearance holes for screws: ASME B18.2.8 for inch screws, ISO 273 for metric ones.
//!
//! Values are compared with the printed tables in `tests/reference/clearance-holes.csv`. The largest
//! hole of an inch screw is the upper limit of the loose fit where that was read, else its drill; of a
//! metric one the coarse size itself, since the limits of its H14 were not read: on the strict side.

use super::drill;

/// Clearance holes of one screw, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Screw, nominal.
    pub screw: f64,
    /// Close (fine) hole.
    pub close: f64,
    /// Normal (medium) hole.
    pub normal: f64,
    /// Largest hole of the loose (coarse) fit.
    pub largest: f64,
    /// The standard.
    pub standard: &'static str,
}

/// Inch screws: diameter in 1/1000 in, close and normal drill, largest hole (a drill, or 1/1000 in).
const INCH: [(f64, &str, &str, Largest); 10] = [
    (86.0, "3/32", "#38", Largest::Drill("#32")),
    (112.0, "#31", "#30", Largest::Mils(156.0)),
    (125.0, "9/64", "5/32", Largest::Mils(184.0)),
    (138.0, "#23", "#18", Largest::Mils(197.0)),
    (164.0, "#15", "#9", Largest::Mils(225.0)),
    (190.0, "#5", "#2", Largest::Mils(250.0)),
    (250.0, "17/64", "9/32", Largest::Mils(311.0)),
    (312.5, "21/64", "11/32", Largest::Drill("23/64")),
    (375.0, "25/64", "13/32", Largest::Drill("27/64")),
    (500.0, "17/32", "9/16", Largest::Drill("39/64")),
];

enum Largest {
    Drill(&'static str),
    Mils(f64),
}

/// Metric screws: diameter, fine, medium, coarse, mm.
const METRIC: [[f64; 4]; 9] = [
    [2.0, 2.2, 2.4, 2.6],
    [2.5, 2.7, 2.9, 3.1],
    [3.0, 3.2, 3.4, 3.6],
    [3.5, 3.7, 3.9, 4.2],
    [4.0, 4.3, 4.5, 4.8],
    [5.0, 5.3, 5.5, 5.8],
    [6.0, 6.4, 6.6, 7.0],
    [8.0, 8.4, 9.0, 10.0],
    [10.0, 10.5, 11.0, 12.0],
];

/// How near a screw's diameter must be to the table's, mm: #6 and M3.5 differ by 0.005 mm only.
const SAME: f64 = 0.002;

/// The holes for a screw of this nominal diameter, mm; `None` if no table knows it.
pub fn of_screw(diameter: f64) -> Option<Clearance> {
    let same = |d: &f64| (d - diameter).abs() <= SAME;
    if let Some([screw, close, normal, largest]) = METRIC.iter().find(|r| same(&r[0])).copied() {
        return Some(Clearance { screw, close, normal, largest, standard: "ISO 273" });
    }
    let (mils, close, normal, largest) = INCH.iter().find(|r| same(&(r.0 * 0.0254)))?;
    let size = |name: &str| fraction(name).or_else(|| drill::named(name).map(|d| d.diameter));
    let largest = match largest {
        Largest::Drill(name) => size(name)?,
        Largest::Mils(m) => m * 0.0254,
    };
    Some(Clearance {
        screw: mils * 0.0254,
        close: size(close)?,
        normal: size(normal)?,
        largest,
        standard: "ASME B18.2.8",
    })
}

/// A fraction of an inch, mm: some holes are larger than the largest drill of the table.
fn fraction(name: &str) -> Option<f64> {
    let (over, under) = name.split_once('/')?;
    let (over, under): (f64, f64) = (over.parse().ok()?, under.parse().ok()?);
    (under > 0.0).then(|| over * 25.4 / under)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_found_and_grows() {
        let mils = INCH.iter().map(|r| r.0 * 0.0254);
        for d in METRIC.iter().map(|r| r[0]).chain(mils) {
            let c = of_screw(d).unwrap_or_else(|| panic!("no holes for {d} mm"));
            assert!(c.screw < c.close && c.close < c.normal && c.normal < c.largest, "{c:?}");
        }
    }

    #[test]
    fn what_no_table_knows_is_not_guessed() {
        assert_eq!(of_screw(4.2), None);
        assert_eq!(of_screw(0.0), None);
        assert_eq!(of_screw(f64::NAN), None);
    }
}
