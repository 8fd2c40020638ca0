//! The report as one HTML file: no script, no request to anywhere, nothing but this text needed to read or print it.

mod block;
mod escape;

use crate::export::ExportError;
use crate::report::document::{Document, Section};
use escape::{style, text};

/// The style sheet: screen, narrow screen, paper.
const STYLE: &str = include_str!("style.css");

/// Writes a document.
///
/// # Errors
/// What the picture's writer refuses (a character that the bundled font lacks, a size beyond its bounds).
pub fn write(doc: &Document) -> Result<String, ExportError> {
    let mut out = String::with_capacity(1 << 18);
    out.push_str("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    // whatever a text might hold: nothing is fetched, nothing runs
    out.push_str(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:; \
         base-uri 'none'; form-action 'none'\">\n",
    );
    out.push_str("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    out.push_str(concat!(
        "<meta name=\"generator\" content=\"panelwright ",
        env!("CARGO_PKG_VERSION"),
        "\">\n"
    ));
    for (name, value) in &doc.meta {
        out.push_str(&format!("<meta name=\"panelwright-{}\" content=\"{}\">\n", text(name), text(value)));
    }
    out.push_str("<link rel=\"icon\" href=\"data:,\">\n");
    out.push_str(&format!("<title>{}</title>\n<style>\n{STYLE}", text(&doc.title)));
    let top = doc.notice.as_deref().map(|n| format!("@top-left {{ content: {}; }} ", style(n)));
    out.push_str(&format!(
        "@page {{ {}@bottom-left {{ content: {}; }} }}\n</style>\n</head>\n<body>\n",
        top.unwrap_or_default(),
        style(&doc.running)
    ));
    out.push_str("<a class=\"skip\" href=\"#content\">Skip to the report</a>\n");
    out.push_str(&format!(
        "<header>\n<h1>{}</h1>\n<p>{}</p>\n</header>\n",
        text(&doc.title),
        text(&doc.running)
    ));
    out.push_str("<nav aria-label=\"Contents\">\n<ol>\n");
    for s in &doc.sections {
        out.push_str(&format!("<li><a href=\"#{}\">{}</a></li>\n", s.id, text(&s.title)));
    }
    out.push_str("</ol>\n</nav>\n<main id=\"content\" tabindex=\"-1\">\n");
    let mut entries = 0;
    for s in &doc.sections {
        section(&mut out, s, &mut entries)?;
    }
    out.push_str("</main>\n</body>\n</html>\n");
    Ok(out)
}

fn section(out: &mut String, s: &Section, entries: &mut usize) -> Result<(), ExportError> {
    out.push_str(&format!(
        "<section aria-labelledby=\"{0}\">\n<h2 id=\"{0}\">{1}</h2>\n",
        s.id,
        text(&s.title)
    ));
    if s.folds {
        // open as it comes, so that every way of printing prints it
        out.push_str("<details open>\n<summary>Show or hide the list</summary>\n");
    }
    for b in &s.blocks {
        block::write(out, b, entries)?;
    }
    if s.folds {
        out.push_str("</details>\n");
    }
    out.push_str("</section>\n");
    Ok(())
}
