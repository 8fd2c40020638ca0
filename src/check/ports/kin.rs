//! What a line carries, as far as keeping apart goes.

use crate::panel::{Class, Detail, LineKind, Panel, Part, PartRef};

/// What must keep apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kin {
    /// Wires and coaxial cables.
    Wires,
    /// Fuel, oil, hydraulic fluid, alcohol, oxygen: what burns or feeds a fire.
    Fluid,
    /// Cables of the controls.
    ControlCable,
}

/// Whether a word names a fluid that burns or feeds a fire.
pub fn is_fluid(carries: &str) -> bool {
    const WORDS: [&str; 6] = ["fuel", "oil", "hydraulic", "brake", "alcohol", "oxygen"];
    has_any(carries, &WORDS)
}

/// Whether a word names current or signals.
pub fn is_electric(carries: &str) -> bool {
    const WORDS: [&str; 7] = ["power", "signal", "audio", "aerial", "ignition", "several", "data"];
    has_any(carries, &WORDS)
}

fn has_any(carries: &str, words: &[&str]) -> bool {
    let mut said = carries.split(|c: char| !c.is_alphanumeric());
    said.any(|w| words.iter().any(|word| w.eq_ignore_ascii_case(word)))
}

/// What a part is to this question; `None`: it is asked nothing.
pub fn kin(panel: &Panel, r: PartRef, part: &Part) -> Option<Kin> {
    let by_word = |carries: &Option<String>| {
        let word = carries.as_deref()?;
        match (is_fluid(word), is_electric(word)) {
            (true, _) => Some(Kin::Fluid),
            (_, true) => Some(Kin::Wires),
            _ => None,
        }
    };
    match &part.detail {
        Detail::Port { carries, .. } => by_word(carries),
        Detail::Obstacle { carries, kind, .. } => {
            by_word(carries).or_else(|| by_word(&Some(kind.clone())).filter(|k| *k == Kin::Fluid))
        }
        Detail::Moving { kind, .. } => has_any(kind, &["cable", "chain"]).then_some(Kin::ControlCable),
        Detail::Line { carries, .. } if part.class == Class::Line => {
            let line = panel.space.lines.iter().find(|l| l.subject == r.subject);
            match line.map(|l| l.kind) {
                Some(LineKind::Wires | LineKind::Coax) => Some(Kin::Wires),
                Some(LineKind::ControlCable) => Some(Kin::ControlCable),
                _ => by_word(carries).filter(|k| *k == Kin::Fluid),
            }
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read_whole() {
        assert!(is_fluid("fuel") && is_fluid("Engine oil") && is_fluid("hydraulic fluid"));
        assert!(!is_fluid("foil") && !is_fluid("static") && !is_fluid("vacuum"));
        assert!(is_electric("power") && is_electric("several") && !is_electric("mechanical"));
    }
}
