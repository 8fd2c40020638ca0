//! The pairs of code and value that a DXF is made of, with the line of each.

use crate::diag::{Lines, Problem, Problems, Where};
use std::ops::Range;

/// One pair.
#[derive(Clone, Copy, Debug)]
pub struct Tag<'a> {
    /// Group code.
    pub code: i32,
    /// Value without blanks around it.
    pub value: &'a str,
    /// First byte of the value.
    pub start: usize,
}

impl Tag<'_> {
    /// Where the value stands.
    pub fn place(&self, lines: &Lines) -> Where {
        lines.place(self.start, self.start + self.value.len())
    }
}

/// All pairs of a text; comments (999) go to `comments`. A line that is no code ends the reading and is a
/// problem: from there on code and value could be exchanged.
pub fn pairs<'a>(
    lines: &Lines,
    text: &'a str,
    comments: &mut Vec<&'a str>,
    problems: &mut Problems,
) -> Vec<Tag<'a>> {
    let mut out = Vec::with_capacity(text.len() / 8);
    let mut rows = Rows { text, at: 0 };
    while let Some(code_row) = rows.next() {
        let written = text.get(code_row.clone()).unwrap_or("");
        let code_text = written.trim();
        if code_text.is_empty() && rows.rest_is_blank() {
            break;
        }
        let place = || lines.place(code_row.start, code_row.end);
        let Ok(code) = code_text.parse::<i32>() else {
            let shown: String = code_text.chars().take(40).collect();
            problems.push(
                Problem::new("bad-code", &place(), format!("a group code is expected here, found `{shown}`"))
                    .help(
                        "every value of a DXF stands under its code on a line of its own: is a line missing?",
                    ),
            );
            return out;
        };
        let Some(row) = rows.next() else {
            problems.push(
                Problem::new("cut-short", &place(), format!("the file ends after the group code {code}"))
                    .help("it was cut short: get a whole copy"),
            );
            return out;
        };
        let value = text.get(row.clone()).unwrap_or("");
        let blank = value.len() - value.trim_start().len();
        let value = value.trim();
        if code == 999 {
            comments.push(value);
        } else {
            out.push(Tag { code, value, start: row.start + blank });
        }
    }
    out
}

/// Lines that end with LF, CR LF or CR alone.
struct Rows<'a> {
    text: &'a str,
    at: usize,
}

impl Rows<'_> {
    fn next(&mut self) -> Option<Range<usize>> {
        let rest = self.text.get(self.at..).filter(|r| !r.is_empty())?;
        let start = self.at;
        let end =
            rest.bytes().position(|b| matches!(b, b'\n' | b'\r')).map_or(self.text.len(), |i| start + i);
        let after = self.text.get(end..).unwrap_or("");
        self.at = end + if after.starts_with("\r\n") { 2 } else { usize::from(!after.is_empty()) };
        Some(start..end)
    }

    fn rest_is_blank(&self) -> bool {
        self.text.get(self.at..).is_none_or(|r| r.trim().is_empty())
    }
}
