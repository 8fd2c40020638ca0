//! Drills that a shop has, and those that make a hole of a given size within its tolerance.
//!
//! Sources. Number and letter drills: sizes in 1/10,000 in, as in the tap-drill chart of Machinery's
//! Handbook and in the drill table of a public part library; `tests/reference/drills.csv` holds what
//! each of them prints, and a test compares. Fractions are exact (64ths of 25.4 mm). Metric drills:
//! steps of 0.1 mm to 10 mm and of 0.5 mm above, common practice, no source.

use std::fmt;

/// How a drill's size is named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Series {
    /// 64ths of an inch, reduced (`9/32 in`).
    Fraction,
    /// Numbers (`#18`).
    Number,
    /// Letters (`F`).
    Letter,
    /// Millimetres (`4.5 mm`).
    Metric,
}

/// One drill; its `Display` is the name that a shop knows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drill {
    /// Naming series.
    pub series: Series,
    /// Diameter, mm.
    pub diameter: f64,
    /// The number, the letter's place from 1, the count of 64ths or of tenths of a millimetre.
    code: u32,
}

/// Number drills 1 to 60, 1/10,000 in.
const NUMBERS: [u32; 60] = [
    2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, // 1-10
    1910, 1890, 1850, 1820, 1800, 1770, 1730, 1695, 1660, 1610, // 11-20
    1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, // 21-30
    1200, 1160, 1130, 1110, 1100, 1065, 1040, 1015, 995, 980, // 31-40
    960, 935, 890, 860, 820, 810, 785, 760, 730, 700, // 41-50
    670, 635, 595, 550, 520, 465, 430, 420, 410, 400, // 51-60
];

/// Letter drills A to Z, 1/10,000 in.
const LETTERS: [u32; 26] = [
    2340, 2380, 2420, 2460, 2500, 2570, 2610, 2660, 2720, 2770, 2810, 2900, 2950, // A-M
    3020, 3160, 3230, 3320, 3390, 3480, 3580, 3680, 3770, 3860, 3970, 4040, 4130, // N-Z
];

/// Largest fraction drill in 64ths of an inch (1/2 in): larger holes in sheet are sawn, punched or cut.
const LARGEST_64THS: u32 = 32;

/// Largest metric drill, tenths of a millimetre.
const LARGEST_TENTHS: u32 = 130;

/// A size that went through other units and back is still the same size, mm: rounding, not workmanship.
const ROUNDING: f64 = 1e-6;

/// 1/10,000 in to mm; one rounding.
fn from_inches(ten_thousandths: u32) -> f64 {
    f64::from(ten_thousandths) * 25.4 / 10_000.0
}

/// All drills, series by series, each series in the order of its names.
pub fn all() -> impl Iterator<Item = Drill> {
    let fractions = (2..=LARGEST_64THS).map(|k| Drill {
        series: Series::Fraction,
        diameter: f64::from(k) * 25.4 / 64.0,
        code: k,
    });
    let numbers = (1..).zip(NUMBERS).map(|(code, size)| Drill {
        series: Series::Number,
        diameter: from_inches(size),
        code,
    });
    let letters = (1..).zip(LETTERS).map(|(code, size)| Drill {
        series: Series::Letter,
        diameter: from_inches(size),
        code,
    });
    let metric = (10..=LARGEST_TENTHS).filter(|t| *t <= 100 || t % 5 == 0).map(|t| Drill {
        series: Series::Metric,
        diameter: f64::from(t) / 10.0,
        code: t,
    });
    fractions.chain(numbers).chain(letters).chain(metric)
}

/// The smallest drill of any series that is not below `mm` (a drill of that very size counts).
/// Of two alike, the series named first in [`Series`]. `None` above the largest drill (13 mm), for
/// zero, below zero, and for what is not a number.
pub fn nearest_at_or_above(mm: f64) -> Option<Drill> {
    nearest_of(mm, &[Series::Fraction, Series::Number, Series::Letter, Series::Metric])
}

/// The same among some series: a metric shop has no number drills.
pub fn nearest_of(mm: f64, series: &[Series]) -> Option<Drill> {
    if mm.is_nan() || mm <= 0.0 {
        return None;
    }
    all()
        .filter(|d| series.contains(&d.series) && d.diameter >= mm - ROUNDING)
        .min_by(|a, b| a.diameter.total_cmp(&b.diameter).then(a.series.cmp(&b.series)))
}

/// What a hole may become: plus and minus of its diameter, mm, none negative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Largest growth of the diameter.
    pub plus: f64,
    /// Largest loss of the diameter.
    pub minus: f64,
}

impl Limits {
    /// What both allow.
    pub fn narrower(self, other: Limits) -> Limits {
        Limits { plus: self.plus.min(other.plus), minus: self.minus.min(other.minus) }
    }
}

/// The drills that are named for one hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choice {
    /// Of a metric shop.
    pub metric: Option<Drill>,
    /// Fraction, number or letter.
    pub inches: Option<Drill>,
}

/// The drills for a hole of `mm`: of each shop the nearest within the limits, above before below where both
/// are as near; without limits the nearest at or above. None where no drill makes the hole as it is stated.
pub fn choose(mm: f64, limits: Option<Limits>) -> Choice {
    let of = |series: &[Series]| {
        let Some(Limits { plus, minus }) = limits else { return nearest_of(mm, series) };
        let off = |d: &Drill| d.diameter - mm;
        all()
            .filter(|d| {
                series.contains(&d.series) && off(d) <= plus + ROUNDING && off(d) >= -minus - ROUNDING
            })
            .min_by(|a, b| {
                let near = off(a).abs().total_cmp(&off(b).abs());
                near.then(b.diameter.total_cmp(&a.diameter)).then(a.series.cmp(&b.series))
            })
    };
    Choice { metric: of(&[Series::Metric]), inches: of(&[Series::Fraction, Series::Number, Series::Letter]) }
}

/// The drill of a name (`#18`, `F`, `9/32`, `9/32 in`, `4.5 mm`); `None` if there is none.
pub fn named(name: &str) -> Option<Drill> {
    let wanted = name.trim();
    all().find(|d| {
        let own = d.to_string();
        own.eq_ignore_ascii_case(wanted) || own.strip_suffix(" in").is_some_and(|short| short == wanted)
    })
}

impl fmt::Display for Drill {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.series {
            Series::Number => write!(f, "#{}", self.code),
            Series::Letter => {
                let letter = u8::try_from(self.code).map_or('?', |k| char::from(b'A' - 1 + k));
                write!(f, "{letter}")
            }
            Series::Fraction => {
                let halvings = self.code.trailing_zeros().min(6);
                write!(f, "{}/{} in", self.code >> halvings, 64 >> halvings)
            }
            Series::Metric => write!(f, "{}.{} mm", self.code / 10, self.code % 10),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_smallest_drill_that_is_not_below() {
        let name = |mm: f64| nearest_at_or_above(mm).map(|d| d.to_string());
        assert_eq!(name(0.170 * 25.4).as_deref(), Some("11/64 in"));
        assert_eq!(name(0.1695 * 25.4).as_deref(), Some("#18"));
        assert_eq!(name(4.5).as_deref(), Some("4.5 mm"));
        assert_eq!(name(6.35).as_deref(), Some("1/4 in"), "1/4 in and letter E are alike");
        assert_eq!(name(13.0).as_deref(), Some("13.0 mm"));
        assert_eq!(name(13.01), None);
        assert_eq!(name(0.0), None);
        assert_eq!(name(-1.0), None);
        assert_eq!(name(f64::NAN), None);
        assert_eq!(name(f64::INFINITY), None);
    }

    #[test]
    fn only_drills_within_the_limits_are_named() {
        let names = |mm: f64, plus: f64, minus: f64| {
            let c = choose(mm, Some(Limits { plus, minus }));
            [c.metric, c.inches].map(|d| d.map_or("none".to_string(), |d| d.to_string()))
        };
        // sizes by arithmetic: 1/2 in is 12.7 mm, 15/32 in 11.906 mm, 31/64 in 12.303 mm
        assert_eq!(names(12.7, 0.2, 0.2), ["12.5 mm", "1/2 in"], "a drill at the very limit is within");
        assert_eq!(names(11.91, 0.2, 0.2), ["12.0 mm", "15/32 in"]);
        assert_eq!(names(0.469 * 25.4, 0.1524, 0.1524), ["12.0 mm", "15/32 in"]);
        assert_eq!(names(0.5 * 25.4, 0.1524, 0.1524), ["none", "1/2 in"]);
        assert_eq!(names(12.25, 0.2, 0.1), ["none", "31/64 in"]);
        assert_eq!(names(12.25, 0.2, 0.0), ["none", "31/64 in"]);
        assert_eq!(names(11.25, 0.1, 0.1), ["none", "none"]);
        // 12.5 and 13.0 mm are as near: the larger
        assert_eq!(names(12.75, 0.25, 0.25)[0], "13.0 mm");
        for tenth in 20..140 {
            let mm = f64::from(tenth) / 10.0 + 0.037;
            let c = choose(mm, Some(Limits { plus: 0.1, minus: 0.05 }));
            for d in [c.metric, c.inches].into_iter().flatten() {
                assert!(d.diameter <= mm + 0.1 + 1e-5 && d.diameter >= mm - 0.05 - 1e-5, "{mm}: {d}");
            }
        }
        assert_eq!(choose(12.8, None).metric.map(|d| d.to_string()).as_deref(), Some("13.0 mm"));
    }

    #[test]
    fn among_some_series() {
        let metric = nearest_of(0.1695 * 25.4, &[Series::Metric]).map(|d| d.to_string());
        assert_eq!(metric.as_deref(), Some("4.4 mm"));
        assert_eq!(nearest_of(3.0, &[]), None);
    }

    #[test]
    fn names_are_found_again_and_sizes_fall_with_the_number() {
        for d in all() {
            assert_eq!(named(&d.to_string()), Some(d));
        }
        assert_eq!(named("9/32").map(|d| d.diameter), Some(7.14375));
        assert_eq!(named("#0"), None);
        let numbers: Vec<f64> = all().filter(|d| d.series == Series::Number).map(|d| d.diameter).collect();
        assert!(numbers.windows(2).all(|w| w[0] > w[1]));
        let letters: Vec<f64> = all().filter(|d| d.series == Series::Letter).map(|d| d.diameter).collect();
        assert!(letters.windows(2).all(|w| w[0] < w[1]));
    }
}
