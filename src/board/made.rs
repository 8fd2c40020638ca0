//! What the page can have made of the panel as it stands: by the same code as the commands make it.

use super::behind;
use super::session::Session;
use crate::check::{Finding, Findings};
use crate::draw::Drawing;
use crate::draw::behind::{Asked, sections};
use crate::draw::drawing::{DrawingOptions, drawing};
use crate::draw::template::{BARRED, Paper, Standing, TemplateOptions, shop, template};
use crate::export;
use crate::panel::Panel;
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
    if kind == "section" {
        let asked = [Asked::Item(s.panel.subjects.get(number)?.id.clone())];
        let (panel, findings) = (s.panel.clone(), s.findings.list.clone());
        return Some(Box::new(move || section(&panel, &findings, &asked, page)));
    }
    s.panel.sheets.get(number).filter(|_| page == 0)?;
    let (kind, ending, media) = *KINDS.iter().find(|(k, ..)| *k == kind)?;
    let (panel, findings) = (s.panel.clone(), s.findings.clone());
    Some(Box::new(move || one(&panel, &findings, (kind, ending, media), number)))
}

/// What is made of a sheet: its name, the ending of its file, its media type.
const KINDS: [(&str, &str, &str); 5] = [
    ("template", "pdf", "application/pdf"),
    ("tiles", "pdf", "application/pdf"),
    ("drawing", "pdf", "application/pdf"),
    ("cutting", "dxf", "image/vnd.dxf"),
    ("report", "html", "text/html; charset=utf-8"),
];

fn section(panel: &Panel, findings: &[Finding], asked: &[Asked], page: usize) -> Result<Made, String> {
    let opts = DrawingOptions { page: None, stale: None };
    let d = sections(panel, findings, asked, &opts).map_err(|e| e.to_string())?;
    if page >= d.pages.len() {
        return Err(format!("there is no page {page} of this section: it has {}", d.pages.len()));
    }
    let bytes = export::svg::write(&d, page).map_err(|e| e.to_string())?;
    Ok(Made { name: None, kind: "image/svg+xml", bytes })
}

fn one(
    panel: &Panel,
    all: &Findings,
    (kind, ending, media): (&str, &str, &'static str),
    sheet: usize,
) -> Result<Made, String> {
    let findings = &all.list;
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
    let bytes = if kind == "report" {
        report::html::write(&report::document(panel, all)).map(String::into_bytes)
    } else {
        let format = export::format(ending).ok_or_else(|| format!("there is no format {ending}"))?;
        (format.write)(&drawn()?, 0, &export::Options::default())
    };
    let before = if barred && ending != "html" { BARRED } else { "" };
    let of = if sheet > 0 { format!("-sheet-{}", sheet + 1) } else { String::new() };
    let name = Some(format!("{before}{}{of}-{kind}.{ending}", panel.slug));
    Ok(Made { name, kind: media, bytes: bytes.map_err(|e| e.to_string())? })
}
