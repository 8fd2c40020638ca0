//! What the page can have made of the panel as it stands: by the same code as the commands make it.

use super::behind;
use super::session::Session;
use crate::draw::Drawing;
use crate::draw::behind::{Asked, sections};
use crate::draw::drawing::{DrawingOptions, drawing};
use crate::draw::template::{BARRED, Paper, Standing, TemplateOptions, shop, template};
use crate::export;
use crate::report;

/// A file for the page.
pub struct Made {
    /// Its name on the user's disk; `None`: it is shown on the page.
    pub name: Option<String>,
    /// Its media type.
    pub kind: &'static str,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Work that is left to do, in words why it cannot be done.
pub type Work = Box<dyn FnOnce() -> Result<Made, String> + Send>;

/// Makes what a name asks for: `KIND/SHEET`, `section/SUBJECT/PAGE` (on paper), or what `behind` says. `None`: there is no such
/// thing. The session is not needed while the work is done.
pub fn made(s: &Session, name: &str) -> Option<Work> {
    if let Some(what) = name.strip_prefix("behind/") {
        return behind::made(s, what);
    }
    let mut words = name.split('/');
    let (kind, number) = (words.next()?, words.next()?.parse::<usize>().ok()?);
    let page = words.next().map_or(Some(0), |p| p.parse::<usize>().ok())?;
    if kind == "photograph" {
        let (kind, bytes) = s.photograph.given(number)?;
        return Some(Box::new(move || Ok(Made { name: None, kind, bytes })));
    }
    let made = if kind == "section" {
        section(s, number, page)?
    } else {
        s.panel.sheets.get(number).filter(|_| page == 0)?;
        one(s, kind, number)?
    };
    Some(Box::new(|| made))
}

fn section(s: &Session, subject: usize, page: usize) -> Option<Result<Made, String>> {
    let asked = [Asked::Item(s.panel.subjects.get(subject)?.id.clone())];
    let opts = DrawingOptions { page: None, stale: None };
    let d = match sections(&s.panel, &s.findings.list, &asked, &opts) {
        Ok(d) => d,
        Err(e) => return Some(Err(e.to_string())),
    };
    d.pages.get(page)?;
    let bytes = export::svg::write(&d, page).map_err(|e| e.to_string());
    Some(bytes.map(|bytes| Made { name: None, kind: "image/svg+xml", bytes }))
}

fn one(s: &Session, kind: &str, sheet: usize) -> Option<Result<Made, String>> {
    let (panel, findings) = (&s.panel, &s.findings.list);
    let options = TemplateOptions::default();
    let barred = Standing::of(panel, findings, &options).barred();
    let inch = panel.unit.is_inch();
    let paper = if inch { Paper::Letter } else { Paper::A4 };
    let drawn = || -> Result<Drawing, String> {
        let text = |e: &dyn std::fmt::Display| e.to_string();
        match kind {
            "template" => template(panel, sheet, findings, &options).map_err(|e| text(&e)),
            "tiles" => template(panel, sheet, findings, &TemplateOptions { paper, ..options.clone() })
                .map_err(|e| text(&e)),
            "cutting" => shop(panel, sheet, findings, &options).map_err(|e| text(&e)),
            _ => {
                let opts = DrawingOptions { page: None, stale: None };
                drawing(panel, sheet, findings, &opts).map_err(|e| text(&e))
            }
        }
    };
    let (ending, media): (&str, &'static str) = match kind {
        "template" | "tiles" | "drawing" => ("pdf", "application/pdf"),
        "cutting" => ("dxf", "image/vnd.dxf"),
        "report" => ("html", "text/html; charset=utf-8"),
        _ => return None,
    };
    let bytes = if kind == "report" {
        report::html::write(&report::document(panel, &s.findings)).map(String::into_bytes)
    } else {
        let format = export::format(ending)?;
        match drawn() {
            Ok(d) => (format.write)(&d, 0, &export::Options::default()),
            Err(e) => return Some(Err(e)),
        }
    };
    let before = if barred && ending != "html" { BARRED } else { "" };
    let of = if sheet > 0 { format!("-sheet-{}", sheet + 1) } else { String::new() };
    let name = Some(format!("{before}{}{of}-{kind}.{ending}", panel.slug));
    Some(bytes.map_err(|e| e.to_string()).map(|bytes| Made { name, kind: media, bytes }))
}
