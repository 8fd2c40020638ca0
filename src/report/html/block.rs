//! One block of the document as HTML.

use super::escape::text;
use crate::export::{ExportError, svg};
use crate::report::document::{Block, Column, Entry, Figure, Sign, Table};

/// Ids of a figure's drawing start with this; a document has one figure.
const FIGURE: &str = "figure-";

/// Where a finding of this number in the document can be linked to.
fn anchor(number: usize) -> String {
    format!("finding-{number}")
}

/// Writes one block. `entries` counts the findings written so far.
pub(super) fn write(out: &mut String, block: &Block, entries: &mut usize) -> Result<(), ExportError> {
    match block {
        Block::Words(s) => out.push_str(&format!("<p>{}</p>\n", text(s))),
        Block::Strong(s) => out.push_str(&format!("<p class=\"strong\">{}</p>\n", text(s))),
        Block::Head(s) => out.push_str(&format!("<h3>{}</h3>\n", text(s))),
        Block::List(lines) => {
            out.push_str("<ul>\n");
            for l in lines {
                out.push_str(&format!("<li>{}</li>\n", text(l)));
            }
            out.push_str("</ul>\n");
        }
        Block::Facts(list) => facts(out, list),
        Block::Table(t) => table(out, t),
        Block::Entry(e) => {
            *entries += 1;
            entry(out, e, *entries);
        }
        Block::Figure(f) => figure(out, f)?,
        Block::Sign(list) => sign(out, list),
    }
    Ok(())
}

fn facts(out: &mut String, list: &[(String, String)]) {
    out.push_str("<dl>\n");
    for (name, value) in list {
        out.push_str(&format!("<div><dt>{}</dt><dd>{}</dd></div>\n", text(name), text(value)));
    }
    out.push_str("</dl>\n");
}

fn entry(out: &mut String, e: &Entry, number: usize) {
    let id = anchor(number);
    out.push_str(&format!(
        "<article class=\"finding {0}\" aria-labelledby=\"{id}\">\n<h3 id=\"{id}\"><span class=\"verdict\">{0}</span> <span class=\"name\">{1}</span></h3>\n<p>{2}</p>\n",
        text(e.verdict),
        text(&e.name),
        text(&e.asks)
    ));
    facts(out, &e.facts);
    out.push_str("</article>\n");
}

fn table(out: &mut String, t: &Table) {
    let all: f64 = t.columns.iter().map(|c| c.share).sum();
    // a table may be wider than a small screen: then it scrolls by itself, and by keyboard
    out.push_str(&format!(
        "<div class=\"scroll\" role=\"group\" tabindex=\"0\" aria-label=\"{0}\"><table>\n<caption>{0}</caption>\n<colgroup>",
        text(&t.caption)
    ));
    for c in &t.columns {
        out.push_str(&format!("<col style=\"width:{:.1}%\">", 100.0 * c.share / all));
    }
    out.push_str("</colgroup>\n<thead><tr>");
    let class = |c: &Column| if c.number { " class=\"n\"" } else { "" };
    for c in &t.columns {
        out.push_str(&format!("<th scope=\"col\"{}>{}</th>", class(c), text(c.head)));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in &t.rows {
        out.push_str("<tr>");
        for (k, (cell, c)) in row.iter().zip(&t.columns).enumerate() {
            if k == 0 {
                out.push_str(&format!("<th scope=\"row\"{}>{}</th>", class(c), text(cell)));
            } else {
                out.push_str(&format!("<td{}>{}</td>", class(c), text(cell)));
            }
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table></div>\n");
}

fn figure(out: &mut String, f: &Figure) -> Result<(), ExportError> {
    let drawn = svg::inline(&f.drawing, 0, FIGURE, &f.title, &f.says)?;
    out.push_str(&format!(
        "<figure>\n<div class=\"scroll\" role=\"group\" tabindex=\"0\" aria-label=\"{0}\">\n{drawn}\n</div>\n<figcaption>{0}</figcaption>\n</figure>\n",
        text(&f.title)
    ));
    Ok(())
}

fn sign(out: &mut String, list: &[Sign]) {
    out.push_str("<div class=\"sign\">\n");
    for s in list {
        out.push_str(&format!("<p><b>{}</b></p>\n<dl>\n", text(s.who)));
        for line in [s.means, "signature", "date"] {
            out.push_str(&format!("<div><dt>{}</dt><dd class=\"line\">&nbsp;</dd></div>\n", text(line)));
        }
        out.push_str("</dl>\n");
    }
    out.push_str("</div>\n");
}
