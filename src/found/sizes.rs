//! Diameters near a size of the trade: those of the catalogue's round openings. Never taken, only proposed.

use super::proposal::{Kind, Proposal};
use super::{Pattern, Piece};
use crate::cut::mm;
use crate::geom::{Contour, Point};
use crate::units::fmt_mm;

/// From this diameter on an opening is for a body, mm; smaller ones are holes, whose sizes lie too close to tell.
const LEAST: f64 = 30.0;
/// How far a diameter may be from the size that is proposed, mm: 80 mm and 3 1/8 in differ by 0.625.
const REACH: f64 = 0.7;
/// A diameter this near is that size, mm.
const EQUAL: f64 = 1e-3;

/// A proposal for every diameter and every size in reach, the nearest first.
pub fn proposals(openings: &[Piece], fits: &[Proposal], patterns: &[Pattern]) -> Vec<Proposal> {
    let mut sizes: Vec<f64> = patterns
        .iter()
        .filter_map(|p| p.middle.as_circle())
        .map(|(_, r)| 2.0 * r)
        .filter(|d| *d >= LEAST)
        .collect();
    sizes.sort_by(f64::total_cmp);
    sizes.dedup_by(|a, b| (*a - *b).abs() <= EQUAL);
    let mut circles: Vec<(f64, Point, usize)> = openings
        .iter()
        .enumerate()
        .filter_map(|(k, o)| {
            let fitted = || {
                let of = |p: &Proposal| {
                    p.replace.iter().find(|(t, _)| *t == Some(k)).and_then(|(_, c)| c.as_circle())
                };
                fits.iter().find_map(of)
            };
            let (c, r) = o.contour.as_circle().or_else(fitted)?;
            (2.0 * r >= LEAST).then_some((2.0 * r, c, k))
        })
        .collect();
    circles.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.2.cmp(&b.2)));
    let mut out = Vec::new();
    for group in circles.chunk_by(|a, b| b.0 - a.0 <= 0.005) {
        let Some(&(d, ..)) = group.first() else { continue };
        let most = group.last().map_or(d, |g| g.0);
        if sizes.iter().any(|s| (s - d).abs() <= EQUAL && (s - most).abs() <= EQUAL) {
            continue;
        }
        let mut near: Vec<f64> = sizes.iter().copied().filter(|s| (s - d).abs() <= REACH).collect();
        near.sort_by(|a, b| (a - d).abs().total_cmp(&(b - d).abs()));
        for s in near.into_iter().take(2) {
            let names: Vec<&str> =
                group.iter().filter_map(|g| openings.get(g.2)).map(|o| o.id.as_str()).collect();
            let shown: Vec<&str> = names.iter().take(6).copied().collect();
            let more = names.len().saturating_sub(6);
            let more = if more > 0 { format!(" and {more} more") } else { String::new() };
            let way = if s > d { "larger" } else { "smaller" };
            let says = format!(
                "diameter {} to {}, {} {way}: {}{more}",
                mm(d),
                name(s),
                mm((s - d).abs()),
                shown.join(", ")
            );
            let replace = group.iter().map(|(_, c, k)| (Some(*k), Contour::circle(*c, s / 2.0))).collect();
            let off = group.iter().map(|g| (s - g.0).abs() / 2.0).fold(0.0, f64::max);
            out.push(Proposal { id: String::new(), kind: Kind::Size, says, off, replace, accepted: false });
        }
    }
    out
}

/// A size in mm, and in inches where it is whole 64ths.
pub fn name(mm: f64) -> String {
    match inches(mm) {
        Some(i) => format!("{} ({i})", fmt_mm(mm)),
        None => fmt_mm(mm),
    }
}

/// "3 1/8 in" where a length is whole 64ths of an inch and no whole or half millimetre.
pub fn inches(mm: f64) -> Option<String> {
    let parts = mm / 25.4 * 64.0;
    let whole = parts.round();
    let metric = (mm * 2.0 - (mm * 2.0).round()).abs() < 2.0 * EQUAL;
    if (parts - whole).abs() * 25.4 / 64.0 > EQUAL || metric || !(1.0..1e6).contains(&whole) {
        return None;
    }
    let n = whole as u64;
    let (i, mut top, mut under) = (n / 64, n % 64, 64u64);
    while top > 0 && top.is_multiple_of(2) {
        (top, under) = (top / 2, under / 2);
    }
    Some(match (i, top) {
        (i, 0) => format!("{i} in"),
        (0, t) => format!("{t}/{under} in"),
        (i, t) => format!("{i} {t}/{under} in"),
    })
}

/// A gap rounded up to a number that is easily typed.
pub fn up(gap: f64) -> String {
    let v = (gap * 100.0 + 1e-9).ceil() / 100.0;
    fmt_mm(v.max(0.01)).trim_end_matches(" mm").to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_sizes() {
        assert_eq!(name(79.375), "79.375 mm (3 1/8 in)");
        assert_eq!(name(57.15), "57.15 mm (2 1/4 in)");
        assert_eq!(name(80.0), "80 mm");
        assert_eq!(name(50.8), "50.8 mm (2 in)");
        assert_eq!(up(0.08), "0.09");
    }
}
