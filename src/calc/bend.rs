//! Least bend radius of hoses, wires and cables, by kind and size, and the room that a quarter turn takes.
//!
//! A bend radius is to the inside of the bend: the room that it takes is the radius plus the outside diameter. Millimetres.
//!
//! Sources:
//! - Pressure hose, single wire braid (MIL-H-8794): AC 43.13-1B, table 9-3, p. 9-22; read. It holds for that hose alone.
//! - Wires: 10 outside diameters, 3 where the bundle is supported at a terminal block: AC 43.13-1B, chapter 11; from memory.
//! - Low-pressure hose, duct hose, coaxial cable, drive cables, push-pull cables: no table that agrees with another was
//!   found (coaxial cable: 6 or 10 outside diameters, by whom you ask). Nothing is answered for them: ask the maker.

use super::fastener::Seen;

const INCH: f64 = 25.4;

/// A size of single wire braid pressure hose, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hose {
    /// Dash number: sixteenths of an inch of the tube that it replaces.
    pub dash: u32,
    /// Outside diameter of that tube.
    pub tube: f64,
    /// Bore.
    pub bore: f64,
    /// Outside diameter.
    pub outside: f64,
    /// Least bend radius, to the inside.
    pub radius: f64,
}

const fn hose(dash: u32, tube: f64, bore: f64, outside: f64, radius: f64) -> Hose {
    Hose { dash, tube: tube * INCH, bore: bore * INCH, outside: outside * INCH, radius: radius * INCH }
}

/// The sizes of the table, smallest first.
pub const PRESSURE_HOSES: [Hose; 8] = [
    hose(3, 0.1875, 0.125, 0.45, 3.00),
    hose(4, 0.25, 0.1875, 0.52, 3.00),
    hose(5, 0.3125, 0.25, 0.58, 3.38),
    hose(6, 0.375, 0.3125, 0.67, 4.00),
    hose(8, 0.5, 0.40625, 0.77, 4.63),
    hose(10, 0.625, 0.5, 0.92, 5.50),
    hose(12, 0.75, 0.625, 1.08, 6.50),
    hose(16, 1.0, 0.875, 1.23, 7.38),
];

/// Two outside diameters are of one size of hose when they differ by no more: the table prints hundredths of an inch, and
/// its nearest two sizes lie 0.06 in apart.
const SAME_SIZE: f64 = 0.02 * INCH;

/// What is bent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bends {
    /// Hose under pressure (fuel, oil, hydraulic fluid).
    PressureHose,
    /// Hose for air, vacuum, pitot and static pressure.
    LowPressureHose,
    /// Wires, alone or in a bundle.
    Wires,
    /// Coaxial cable.
    Coax,
    /// Turning drive cable.
    Drive,
    /// Push-pull cable.
    PushPull,
    /// Wide air duct.
    Duct,
}

impl Bends {
    /// Words for people.
    pub fn words(self) -> &'static str {
        match self {
            Bends::PressureHose => "pressure hose",
            Bends::LowPressureHose => "low-pressure hose",
            Bends::Wires => "wires",
            Bends::Coax => "coaxial cable",
            Bends::Drive => "drive cable",
            Bends::PushPull => "push-pull cable",
            Bends::Duct => "air duct",
        }
    }
}

/// A least bend radius with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Least {
    /// To the inside of the bend, mm.
    pub radius: f64,
    /// Document and clause, and what it holds for.
    pub source: &'static str,
    /// Standing.
    pub seen: Seen,
}

/// Bend radius of wires in outside diameters; supported at a terminal block, `SUPPORTED` will do.
pub const WIRES: f64 = 10.0;
/// Bend radius of wires in outside diameters where a terminal block or clamp supports the bend.
pub const SUPPORTED: f64 = 3.0;

/// Least bend radius of what is bent at its outside diameter, mm. `None`: no source gives it for that kind and size.
pub fn least(what: Bends, outside: f64) -> Option<Least> {
    match what {
        Bends::PressureHose => {
            let of_size = |h: &&Hose| (h.outside - outside).abs() <= SAME_SIZE;
            PRESSURE_HOSES.iter().find(of_size).map(|h| Least {
                radius: h.radius,
                source: "AC 43.13-1B table 9-3, single wire braid hose alone",
                seen: Seen::Read,
            })
        }
        Bends::Wires => (outside > 0.0).then_some(Least {
            radius: WIRES * outside,
            source: "AC 43.13-1B ch. 11, 10 outside diameters, from memory",
            seen: Seen::Memory,
        }),
        Bends::LowPressureHose | Bends::Coax | Bends::Drive | Bends::PushPull | Bends::Duct => None,
    }
}

/// Room that a quarter turn takes beyond the straight: the radius to the inside and the outside diameter.
pub fn room(radius: f64, outside: f64) -> f64 {
    radius + outside
}

/// Radius of the centre line.
pub fn centre_line(radius: f64, outside: f64) -> f64 {
    radius + outside / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dash_six_hose_takes_its_radius_and_its_diameter() {
        // AC 43.13-1B table 9-3: -6 is .67 in outside and 4.00 in to the inside: 4.67 in of room
        let least = least(Bends::PressureHose, 0.67 * 25.4).unwrap();
        assert!((room(least.radius, 0.67 * 25.4) - 4.67 * 25.4).abs() < 1e-9);
        assert!((centre_line(least.radius, 0.67 * 25.4) - 4.335 * 25.4).abs() < 1e-9);
    }

    #[test]
    fn a_hose_of_another_size_and_other_kinds_have_no_answer() {
        assert_eq!(least(Bends::PressureHose, 0.63 * 25.4), None);
        assert_eq!(least(Bends::PressureHose, 1.40 * 25.4), None);
        for what in [Bends::LowPressureHose, Bends::Coax, Bends::Drive, Bends::PushPull, Bends::Duct] {
            assert_eq!(least(what, 12.0), None, "{}", what.words());
        }
    }

    #[test]
    fn sizes_grow_and_lie_apart() {
        for w in PRESSURE_HOSES.windows(2) {
            assert!(w[1].outside - w[0].outside > 2.0 * SAME_SIZE, "{}", w[1].dash);
            assert!(w[1].radius >= w[0].radius && w[1].bore > w[0].bore && w[0].bore < w[0].outside);
        }
    }

    #[test]
    fn wires_bend_to_ten_of_their_own_diameters() {
        assert_eq!(least(Bends::Wires, 12.0).map(|l| (l.radius, l.seen)), Some((120.0, Seen::Memory)));
        assert_eq!(least(Bends::Wires, 0.0), None);
    }
}
