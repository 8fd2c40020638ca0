//! Standard fasteners by name: nominal diameter, heads, nuts and washers.
//!
//! Sources, read unless marked [`Seen::Memory`]:
//! - Pan heads ISO 14583 / ISO 7045 and ASME B18.6.3, countersunk heads ISO 14581 (theoretical sharp
//!   diameter, the larger one), nuts ISO 4032, washers ISO 7089: tables of a public part library.
//! - Numbered screw diameter: 0.060 + 0.013 N in (ASME B1.1 series, public chart).
//! - 82 degree inch countersunk heads and inch machine-screw nuts (ASME B18.6.3): memory.
//!
//! Across the corners of a hexagon is worked out as across flats x 2 / sqrt 3 (sharp corners, never less
//! than the real nut).

/// Whether a number was read in a source or written from memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// Read in the source that the file's head names.
    Read,
    /// From memory: to be looked up before anything rests on it.
    Memory,
}

/// Round room and height of a head, nut or washer, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Diameter of the round room it needs.
    pub across: f64,
    /// Height it stands proud (depth of a countersunk head).
    pub height: f64,
    /// Standing.
    pub seen: Seen,
}

/// A fastener size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Name without its thread (`#6`, `1/4`, `M4`, `rivet 1/8`).
    pub name: &'static str,
    /// Nominal diameter, mm.
    pub diameter: f64,
    /// Pan head.
    pub pan: Option<Room>,
    /// Countersunk head.
    pub countersunk: Option<Room>,
    /// Hexagon nut.
    pub nut: Option<Room>,
    /// Plain washer.
    pub washer: Option<Room>,
}

const INCH: f64 = 25.4;
/// 2 / sqrt 3.
const CORNERS: f64 = 1.154_700_538_379_251_5;

const fn read(across: f64, height: f64) -> Option<Room> {
    Some(Room { across, height, seen: Seen::Read })
}

const fn nut(flats: f64, height: f64, seen: Seen) -> Option<Room> {
    Some(Room { across: flats * CORNERS, height, seen })
}

/// A metric screw: pan, countersunk, nut flats, washer.
const fn metric(
    name: &'static str,
    diameter: f64,
    pan: [f64; 2],
    sunk: [f64; 2],
    flats: [f64; 2],
    washer: [f64; 2],
) -> Size {
    Size {
        name,
        diameter,
        pan: read(pan[0], pan[1]),
        countersunk: read(sunk[0], sunk[1]),
        nut: nut(flats[0], flats[1], Seen::Read),
        washer: read(washer[0], washer[1]),
    }
}

/// An inch screw, all in inches: diameter, pan, countersunk
/// (sharp diameter and depth of the 82 degree head), nut flats.
const fn inch(name: &'static str, diameter: f64, pan: [f64; 2], sunk: [f64; 2], flats: [f64; 2]) -> Size {
    Size {
        name,
        diameter: diameter * INCH,
        pan: read(pan[0] * INCH, pan[1] * INCH),
        countersunk: Some(Room { across: sunk[0] * INCH, height: sunk[1] * INCH, seen: Seen::Memory }),
        nut: nut(flats[0] * INCH, flats[1] * INCH, Seen::Memory),
        washer: None,
    }
}

/// The sizes, smallest first within each system.
#[rustfmt::skip]
pub const SIZES: [Size; 15] = [
    inch("#4", 0.112, [0.219, 0.086], [0.225, 0.067], [0.250, 0.098]),
    inch("#5", 0.125, [0.245, 0.095], [0.252, 0.075], [0.3125, 0.114]),
    inch("#6", 0.138, [0.270, 0.103], [0.279, 0.083], [0.3125, 0.114]),
    inch("#8", 0.164, [0.322, 0.120], [0.332, 0.100], [0.34375, 0.130]),
    inch("#10", 0.190, [0.373, 0.137], [0.385, 0.116], [0.375, 0.130]),
    inch("1/4", 0.250, [0.492, 0.175], [0.507, 0.153], [0.4375, 0.193]),
    metric("M2.5", 2.5, [5.0, 2.1], [5.5, 1.5], [5.0, 2.0], [6.0, 0.55]),
    metric("M3", 3.0, [5.6, 2.4], [6.3, 1.65], [5.5, 2.4], [7.0, 0.55]),
    metric("M3.5", 3.5, [7.0, 2.6], [8.2, 2.35], [6.0, 2.8], [8.0, 0.55]),
    metric("M4", 4.0, [8.0, 3.1], [9.4, 2.7], [7.0, 3.2], [9.0, 0.9]),
    metric("M5", 5.0, [9.5, 3.7], [10.4, 2.7], [8.0, 4.7], [10.0, 1.1]),
    metric("M6", 6.0, [12.0, 4.6], [12.6, 3.3], [10.0, 5.2], [12.0, 1.8]),
    metric("M8", 8.0, [16.0, 6.0], [17.3, 4.65], [13.0, 6.8], [16.0, 1.8]),
    rivet("rivet 3/32", 3.0 / 32.0 * INCH),
    rivet("rivet 1/8", INCH / 8.0),
];

/// What a screw may be said to be made of: near a compass it is brass, and its holes are the same.
const MATERIALS: [&str; 5] = ["brass", "nylon", "steel", "stainless", "titanium"];

/// A rivet: its diameter alone.
const fn rivet(name: &'static str, diameter: f64) -> Size {
    Size { name, diameter, pan: None, countersunk: None, nut: None, washer: None }
}

/// The size that a name means: `#6-32`, `#6`, `6-32 UNC`, `No. 6`, `1/4-28`, `M4`, `M4x0.7`, `rivet 1/8`;
/// capitals and spaces do not matter, nor does what it is made of (`M4 brass`). `None` for a name that is not in the table.
pub fn find(name: &str) -> Option<&'static Size> {
    let mut key: String = name.to_lowercase().replace("no.", "#");
    for made_of in MATERIALS {
        if let Some(size) = key.strip_suffix(made_of).filter(|size| size.ends_with(char::is_whitespace)) {
            key.truncate(size.trim_end().len());
        }
    }
    key.retain(|c| !c.is_whitespace());
    if let Some(size) = key.strip_prefix("rivet") {
        let size = size.trim_end_matches("in").trim_end_matches('"');
        return SIZES.iter().find(|s| s.name.strip_prefix("rivet ") == Some(size));
    }
    if key.starts_with('m') {
        let size = key.split(['x', '-']).next().unwrap_or("").to_uppercase();
        return SIZES.iter().find(|s| s.name == size);
    }
    let (size, thread) = match key.split_once('-') {
        Some((size, thread)) => (size, Some(thread)),
        None => (key.as_str(), None),
    };
    // the bare number of a screw is only a screw's when a thread follows ("6-32"): "6" may be 6 mm
    let numbered = match (size.strip_prefix('#'), thread) {
        (Some(n), _) => n,
        (None, Some(t)) if t.starts_with(|c: char| c.is_ascii_digit()) => size,
        _ if size == "1/4" => size,
        _ => return None,
    };
    SIZES.iter().find(|s| s.name == numbered || s.name.strip_prefix('#') == Some(numbered))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_with_and_without_their_thread() {
        let cases = [
            ("#6-32", Some("#6")),
            ("# 6 - 32", Some("#6")),
            ("No. 6", Some("#6")),
            ("6-32", Some("#6")),
            ("8-32 UNC", Some("#8")),
            ("#10", Some("#10")),
            ("1/4-28", Some("1/4")),
            ("1/4", Some("1/4")),
            ("M4", Some("M4")),
            ("m4x0.7", Some("M4")),
            ("M3.5", Some("M3.5")),
            ("M4 brass", Some("M4")),
            ("M3 stainless steel", Some("M3")),
            ("#6-32 Brass", Some("#6")),
            ("M4brass", None),
            ("brass", None),
            ("rivet 1/8 in", Some("rivet 1/8")),
            ("6", None),
            ("M", None),
            ("", None),
            ("-", None),
            ("#", None),
            ("4 mm", None),
            ("#6 x", None),
        ];
        for (name, want) in cases {
            assert_eq!(find(name).map(|s| s.name), want, "{name}");
        }
    }

    #[test]
    fn numbered_screws_follow_their_formula() {
        // numbered screw diameter = 0.060 + 0.013 N in (public chart of the ASME B1.1 series)
        for size in &SIZES {
            let Some(n) = size.name.strip_prefix('#').and_then(|n| n.parse::<f64>().ok()) else { continue };
            assert!((size.diameter - (0.060 + 0.013 * n) * INCH).abs() < 1e-9, "{}", size.name);
        }
    }

    #[test]
    fn heads_and_nuts_are_wider_than_their_screw() {
        for s in &SIZES {
            for r in [s.pan, s.countersunk, s.nut].into_iter().flatten() {
                assert!(r.across > 1.4 * s.diameter && r.height > 0.0, "{}", s.name);
            }
        }
    }

    #[test]
    fn an_m4_nut_is_seven_across_flats() {
        // ISO 4032: M4, s = 7 mm, m = 3.2 mm; corners of a sharp hexagon 7 x 2 / sqrt 3
        let nut = find("M4").and_then(|s| s.nut).unwrap();
        assert!((nut.across - 8.0829).abs() < 1e-4 && nut.height == 3.2);
    }
}
