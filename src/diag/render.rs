//! Problems as text with the line of the file and a caret, and as JSON.

use super::{Problem, Problems, Where};
use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError, MietteSpanContents,
    SourceCode, SourceSpan, SpanContents,
};
use serde_json::{Value, json};
use std::fmt;

/// Width of the rendered text; fixed, so that the same problem gives the same bytes everywhere.
const WIDTH: usize = 100;
/// Most bytes of a line that are shown on either side of the place.
const AROUND: usize = 120;

impl Problems {
    /// All problems as pages of text with the line of the file and a caret under the value.
    pub fn render(&self, colour: bool) -> String {
        let theme = if colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
        let handler = GraphicalReportHandler::new_themed(theme)
            .with_width(WIDTH)
            .with_links(false)
            .without_primary_span_start();
        let mut out = String::new();
        for problem in self.sorted() {
            let excerpt = problem
                .place
                .as_ref()
                .and_then(|place| self.texts.get(&place.file).map(|text| Excerpt::new(text, place)));
            let page = Page { problem, excerpt };
            // Writing to a String fails only if the handler cannot read the excerpt; the plain
            // sentence is then still worth having.
            if handler.render_report(&mut out, &page).is_err() {
                out.push_str(&format!("{problem}\n"));
            }
            out.push('\n');
        }
        out
    }

    /// All problems as a JSON array.
    pub fn to_json(&self) -> Value {
        Value::Array(self.sorted().into_iter().map(Problem::to_json).collect())
    }
}

impl Problem {
    /// One problem as a JSON object; what is unknown is null.
    pub fn to_json(&self) -> Value {
        let place = self.place.as_ref();
        json!({
            "code": self.code,
            "message": self.message,
            "help": self.help,
            "file": place.map(|p| p.file.as_ref()),
            "line": place.map(|p| p.line),
            "column": place.map(|p| p.column),
            "start": place.map(|p| p.start),
            "end": place.map(|p| p.end),
        })
    }
}

/// The line of the file around a place, cut if it is very long.
struct Excerpt {
    name: String,
    text: String,
    /// Where the excerpt begins in the file.
    start: usize,
    place: Where,
}

impl Excerpt {
    fn new(text: &str, place: &Where) -> Self {
        let at = floor(text, place.start);
        let line_start = text.get(..at).and_then(|t| t.rfind('\n')).map_or(0, |i| i + 1);
        let line_end = text.get(at..).and_then(|t| t.find('\n')).map_or(text.len(), |i| at + i);
        let start = floor(text, line_start.max(at.saturating_sub(AROUND)));
        let end = floor(text, line_end.min(at + AROUND)).max(at);
        let shown = text.get(start..end).unwrap_or("").trim_end_matches('\r');
        Excerpt {
            name: place.to_string(),
            // Control characters would move the caret or the terminal's cursor.
            text: shown.chars().map(|c| if c.is_control() && c != '\t' { '\u{fffd}' } else { c }).collect(),
            start,
            place: place.clone(),
        }
    }

    /// The place within the excerpt's own text, in bytes.
    fn span(&self) -> SourceSpan {
        let from = floor(&self.text, self.place.start.saturating_sub(self.start));
        let to = floor(&self.text, self.place.end.saturating_sub(self.start));
        (from, to.saturating_sub(from)).into()
    }
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        _: &SourceSpan,
        _: usize,
        _: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let whole = (0, self.text.len()).into();
        let line = (self.place.line as usize).saturating_sub(1);
        let contents =
            MietteSpanContents::new_named(self.name.clone(), self.text.as_bytes(), whole, line, 0, 1);
        Ok(Box::new(contents))
    }
}

/// The largest character boundary that is not after `at`.
fn floor(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// One problem in the form the renderer takes.
struct Page<'a> {
    problem: &'a Problem,
    excerpt: Option<Excerpt>,
}

impl fmt::Debug for Page<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?}", self.problem)
    }
}

impl fmt::Display for Page<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.problem.place, &self.excerpt) {
            // The place stands in the excerpt's own head line.
            (Some(place), None) => write!(f, "{place}: {}", self.problem.message),
            _ => f.write_str(&self.problem.message),
        }
    }
}

impl std::error::Error for Page<'_> {}

impl Diagnostic for Page<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.problem.code))
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.problem.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.excerpt.as_ref().map(|e| e as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let span = self.excerpt.as_ref()?.span();
        Some(Box::new(std::iter::once(LabeledSpan::new_with_span(None, span))))
    }
}
