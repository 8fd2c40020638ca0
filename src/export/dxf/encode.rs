//! Words in a DXF of these versions: ASCII, everything else as `\U+XXXX`.

/// Encodes a line of text. A literal `\U+`, `%%` or `^` comes out as such; a control character becomes a
/// space. `\U+` holds four digits: characters beyond become a question mark.
pub fn text(s: &str) -> String {
    let mut out = String::with_capacity(s.len());
    let mut chars = s.chars().peekable();
    let mut before = ' ';
    while let Some(c) = chars.next() {
        match c {
            c if c.is_control() => out.push(' '),
            '\\' => out += "\\U+005C",
            '%' if chars.peek() == Some(&'%') || before == '%' => out += "\\U+0025",
            '^' => out += "\\U+005E",
            ' '..='~' => out.push(c),
            c if u32::from(c) <= 0xFFFF => out += &format!("\\U+{:04X}", u32::from(c)),
            _ => out.push('?'),
        }
        before = c;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::text;

    #[test]
    fn every_kind_of_character() {
        assert_eq!(text("Ø79.4 ±0.1 µ ° é"), "\\U+00D879.4 \\U+00B10.1 \\U+00B5 \\U+00B0 \\U+00E9");
        assert_eq!(text("100% a\nb\u{7f}"), "100% a b ");
        assert_eq!(text("%%d"), "\\U+0025\\U+0025d");
        assert_eq!(text("\\U+00B0 ^J"), "\\U+005CU+00B0 \\U+005EJ");
        assert_eq!(text("\u{1F600}"), "?");
    }
}
