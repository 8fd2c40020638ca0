//! Units of a DXF: the header's code, and words in a comment.

/// Name and millimetres of a `$INSUNITS` code; None for "no unit" and for units that no sheet is drawn in.
pub fn of_code(code: i64) -> Option<(&'static str, f64)> {
    Some(match code {
        1 => ("in", 25.4),
        2 => ("ft", 304.8),
        4 => ("mm", 1.0),
        5 => ("cm", 10.0),
        6 => ("m", 1000.0),
        8 => ("microinch", 25.4e-6),
        9 => ("mil", 0.0254),
        10 => ("yd", 914.4),
        13 => ("um", 1e-3),
        14 => ("dm", 100.0),
        _ => return None,
    })
}

/// Name and millimetres of a unit's word.
pub fn of_word(word: &str) -> Option<(&'static str, f64)> {
    Some(match word.trim().trim_end_matches('.').to_ascii_lowercase().as_str() {
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => ("mm", 1.0),
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => ("cm", 10.0),
        "in" | "inch" | "inches" => ("in", 25.4),
        "m" | "metre" | "metres" | "meter" | "meters" => ("m", 1000.0),
        _ => return None,
    })
}

/// Name of a version code.
pub fn version(code: &str) -> String {
    let name = match code {
        "AC1006" => "R10",
        "AC1009" => "R12",
        "AC1012" => "R13",
        "AC1014" => "R14",
        "AC1015" => "2000",
        "AC1018" => "2004",
        "AC1021" => "2007",
        "AC1024" => "2010",
        "AC1027" => "2013",
        "AC1032" => "2018",
        "" => return "version not stated".into(),
        other => return format!("version {}", other.chars().take(20).collect::<String>()),
    };
    format!("{name} ({code})")
}
