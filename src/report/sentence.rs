//! Numbers and limits as the reader of the panel file writes them.

use crate::check::{Finding, Limit, Note};
use crate::panel::{Panel, UserLimit};
use crate::units::{Unit, print_length};

/// Width at which text for people is wrapped.
const WIDTH: usize = 96;

/// The unit in which a rule measures.
pub(crate) fn rule_unit(limit: Limit) -> &'static str {
    match limit {
        Limit::DegreesAtMost(_) => "deg",
        Limit::Plain => "",
        Limit::AtLeast(_)
        | Limit::AtMost(_)
        | Limit::Diameters(_)
        | Limit::Thicknesses(_)
        | Limit::Worked
        | Limit::WorkedAtMost => "mm",
    }
}

/// A measured value of a rule, in the panel's unit.
pub(crate) fn value(limit: Limit, v: f64, unit: Unit) -> String {
    match rule_unit(limit) {
        "deg" => format!("{} deg", trim(v, 2)),
        "" => trim(v, 3),
        _ if unit.is_inch() => format!("{} in ({} mm)", trim(v / 25.4, 3), trim(v, 2)),
        _ => format!("{} mm", trim(v, 2)),
    }
}

/// Two values of a rule side by side, with as many more decimals as it takes to tell them apart: never
/// "6 mm, asked at least 6 mm: short by 0 mm".
pub(crate) fn apart(limit: Limit, a: f64, b: f64, unit: Unit) -> [String; 2] {
    let mut words = [value(limit, a, unit), value(limit, b, unit)];
    for digits in 3..=6 {
        if words[0] != words[1] {
            break;
        }
        words = [a, b].map(|v| match rule_unit(limit) {
            "" => trim(v, digits),
            quantity => format!("{} {quantity}", trim(v, digits)),
        });
    }
    words
}

/// A point on the panel, in the panel's unit.
pub(crate) fn point(x: f64, y: f64, unit: Unit) -> String {
    if unit.is_inch() {
        format!("x {} y {} in", trim(x / 25.4, 2), trim(y / 25.4, 2))
    } else {
        format!("x {} y {} mm", trim(x, 1), trim(y, 1))
    }
}

/// A number with at most `digits` decimals, without trailing zeros; never "-0".
pub(crate) fn trim(v: f64, digits: usize) -> String {
    let s = format!("{v:.digits$}");
    let s = if s.contains('.') { s.trim_end_matches('0').trim_end_matches('.') } else { &s };
    if s == "-0" { "0".into() } else { s.into() }
}

/// A default limit in words.
pub(crate) fn limit_words(limit: Limit) -> String {
    match limit {
        Limit::AtLeast(v) => format!("at least {} mm ({})", trim(v, 3), print_length(v, Unit::Inch)),
        Limit::AtMost(v) => format!("at most {} mm ({})", trim(v, 3), print_length(v, Unit::Inch)),
        Limit::Diameters(k) => format!("at least {} fastener diameters", trim(k, 2)),
        Limit::DegreesAtMost(d) => format!("at most {} degrees", trim(d, 2)),
        Limit::Thicknesses(k) => format!("at least {} sheet thicknesses", trim(k, 2)),
        Limit::Worked | Limit::WorkedAtMost => "worked out from the parts".into(),
        Limit::Plain => "none: it is so or it is not".into(),
    }
}

/// A limit of the panel's own as it was written; a bare number says its unit.
pub(crate) fn own_limit(panel: &Panel, limit: Limit, own: &UserLimit) -> String {
    if !own.written.trim().ends_with(|c: char| c.is_ascii_digit() || c == '.') {
        return own.written.clone();
    }
    let unit = match limit {
        Limit::Diameters(_) => "fastener diameters",
        Limit::Thicknesses(_) => "sheet thicknesses",
        Limit::DegreesAtMost(_) => "degrees",
        Limit::Plain => "",
        Limit::AtLeast(_) | Limit::AtMost(_) | Limit::Worked | Limit::WorkedAtMost => panel.unit.name(),
    };
    format!("{} {unit}", own.written.trim()).trim_end().to_string()
}

/// "measured ..., asked at least ...: short by ...".
pub(crate) fn measured_words(panel: &Panel, f: &Finding) -> String {
    let limit = f.rule.limit;
    let Some(m) = f.measured else { return String::new() };
    let low = if limit.at_most() { m.upper } else { m.lower };
    let mut s = format!("measured {}", value(limit, low, panel.unit));
    if let Some(asked) = f.asked {
        let word = if limit.at_most() { "at most" } else { "at least" };
        let [measured, asked_words] = apart(limit, low, asked, panel.unit);
        s = format!("measured {measured}, asked {word} {asked_words}");
        if let Some(margin) = f.margin() {
            let [amount, _] = apart(limit, margin.abs(), 0.0, panel.unit);
            if margin < 0.0 {
                s.push_str(&format!(": short by {amount}"));
            } else if f.note != Note::Contact {
                // what touches has nothing to spare, even where 0 is asked
                s.push_str(&format!(": {amount} to spare"));
            }
        }
    }
    if f.loss > 0.0 {
        s.push_str(&format!("; the worst tolerances take {}", value(limit, f.loss, panel.unit)));
    }
    s
}

/// Wraps text at word ends with an indent.
pub(crate) fn wrap(text: &str, indent: usize) -> String {
    let mut out = String::new();
    let mut column = 0;
    for word in text.split_whitespace() {
        let n = word.chars().count();
        if column > 0 && indent + column + 1 + n > WIDTH {
            out.push('\n');
            column = 0;
        }
        if column == 0 {
            out.push_str(&" ".repeat(indent));
        } else {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += n;
    }
    out
}
