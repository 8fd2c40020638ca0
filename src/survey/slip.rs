//! What was perhaps meant: the usual slips of reading and writing, tried on a reading that disagrees.

use crate::units::{Length, Unit, print_length};

/// What a reading should perhaps have been.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// As it would have been written.
    pub written: String,
    /// In mm.
    pub mm: f64,
    /// Which slip it would be; none when only the other readings say so.
    pub why: Option<&'static str>,
}

/// Amounts by which tapes are misread or not reduced, mm.
const SHIFTS: [(f64, &str); 7] = [
    (10.0, "one centimetre misread"),
    (100.0, "read from the 100 mm mark and not reduced, or reduced twice"),
    (25.4, "one inch misread"),
    (1.0, "one millimetre misread"),
    (5.0, "the half-centimetre mark taken for another"),
    (50.0, "50 mm misread"),
    (20.0, "two centimetres misread"),
];

/// The likeliest value near what the other readings expect, mm; `give` is how far it may be from there.
pub fn slip(written: &str, reads: f64, expected: f64, give: f64) -> Slip {
    let mut tries: Vec<(f64, &'static str)> = Vec::new();
    for (by, why) in SHIFTS {
        tries.extend([(reads + by, why), (reads - by, why)]);
    }
    let (number, unit) = split(written);
    for (mm, why) in digits(&number, unit) {
        tries.push((mm, why));
    }
    tries.push((reads * 25.4, "inches written as millimetres"));
    tries.push((reads / 25.4, "millimetres written as inches"));
    tries.push((reads * 2.0, "a radius for a diameter"));
    tries.push((reads / 2.0, "a diameter for a radius"));
    tries.push((-reads, "the other side of the line"));
    let near = |t: &&(f64, &'static str)| (t.0 - expected).abs() <= give && (t.0 - reads).abs() > give;
    // several fit: the one nearest to what is expected
    let best =
        tries.iter().filter(near).min_by(|a, b| (a.0 - expected).abs().total_cmp(&(b.0 - expected).abs()));
    let (mm, why) = best.map_or((expected, None), |(mm, why)| (*mm, Some(*why)));
    Slip { written: spelled(mm, &number, unit), mm, why }
}

/// The number of a spelling, and its unit (mm where it is none of one word).
fn split(written: &str) -> (String, Unit) {
    let number: String = written
        .trim()
        .chars()
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '/' | ' '))
        .collect();
    let unit = written.trim().get(number.len()..).unwrap_or("").trim();
    (number.trim().to_string(), Unit::named(unit).unwrap_or(Unit::Millimetre))
}

/// Two digits exchanged, in mm.
fn digits(number: &str, unit: Unit) -> Vec<(f64, &'static str)> {
    if number.contains(['/', ' ']) {
        return Vec::new();
    }
    let chars: Vec<char> = number.chars().collect();
    let at: Vec<usize> = (0..chars.len()).filter(|i| chars[*i].is_ascii_digit()).collect();
    let swapped = at.windows(2).filter_map(|pair| {
        let mut other = chars.clone();
        other.swap(pair[0], pair[1]);
        let text: String = other.into_iter().collect();
        let length = Length::parse(&text, Some(unit)).ok()?;
        (text != number).then(|| (length.mm(), "two digits exchanged"))
    });
    swapped.collect()
}

/// A value as finely written as the number was.
fn spelled(mm: f64, number: &str, unit: Unit) -> String {
    if number.contains('/') {
        // to the sixteenth, as such tapes read
        return print_length((mm / 25.4 * 16.0).round() / 16.0 * 25.4, unit);
    }
    let places = number.split_once('.').map_or(0, |(_, d)| d.len()).min(6);
    let value = mm * 1e6 / unit.nanometres() as f64;
    format!("{value:.places$} {}", unit.name())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(written: &str, expected: f64) -> (String, Option<&'static str>) {
        let reads = Length::parse(written, None).unwrap().mm();
        let s = slip(written, reads, expected, 1.5);
        (s.written, s.why)
    }

    #[test]
    fn usual_slips_are_recognised() {
        assert_eq!(asked("312.0 mm", 301.9), ("302.0 mm".into(), Some("one centimetre misread")));
        assert_eq!(asked("321 mm", 312.4), ("312 mm".into(), Some("two digits exchanged")));
        assert_eq!(asked("10.00 in", 279.2), ("11.00 in".into(), Some("one inch misread")));
        let hundred = Some("read from the 100 mm mark and not reduced, or reduced twice");
        assert_eq!(asked("412.5 mm", 312.1), ("312.5 mm".into(), hundred));
        assert_eq!(asked("3 1/8 in", 104.6), ("4 1/8 in".into(), Some("one inch misread")));
    }

    #[test]
    fn without_a_usual_slip_the_expected_value_is_given_as_finely_as_it_was_written() {
        assert_eq!(asked("312.0 mm", 345.26), ("345.3 mm".into(), None));
    }
}
