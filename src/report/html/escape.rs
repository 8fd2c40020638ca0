//! Texts of files made harmless: no name can leave the place that it is printed in.

/// A text for the content of an element or for an attribute in double quotes. What HTML cannot hold becomes a space or
/// the replacement character.
pub(super) fn text(s: &str) -> String {
    let mut out = String::with_capacity(s.len() + 8);
    for c in s.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(' '),
            c if c.is_control() => out.push(' '),
            '\u{fdd0}'..='\u{fdef}' => out.push('\u{fffd}'),
            // the last two of every plane are no characters
            c if u32::from(c) & 0xfffe == 0xfffe => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

/// A text as a quoted string of a style sheet: everything but letters, digits and spaces as its number.
pub(super) fn style(s: &str) -> String {
    let mut out = String::from("\"");
    for c in s.chars() {
        match c {
            c if c.is_ascii_alphanumeric() || c == ' ' => out.push(c),
            '\0' => out.push(' '),
            c => out.push_str(&format!("\\{:06x} ", u32::from(c))),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_leaves_its_place() {
        assert_eq!(
            text("</td><script>'\"&\u{0}\u{ffff}"),
            "&lt;/td&gt;&lt;script&gt;&#39;&quot;&amp; \u{fffd}"
        );
        assert_eq!(style("a\"}</style>1"), "\"a\\000022 \\00007d \\00003c \\00002f style\\00003e 1\"");
    }
}
