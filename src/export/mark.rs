//! The mark that every written file carries, so that a file of somebody else's is never replaced or removed.

/// Program and version as files name them.
pub const PROGRAM: &str = concat!("panelwright ", env!("CARGO_PKG_VERSION"));

/// The line that stands among the facts of an SVG, DXF or STEP file.
pub(super) const FACT: &str = concat!("made by: panelwright ", env!("CARGO_PKG_VERSION"));

/// What tells a file of any version: facts of SVG, DXF and STEP, creator of a PDF, text of a PNG, generator of an HTML
/// page, content hash of a report in JSON, generator of a glTF file, application of a 3MF file.
const MARKS: [&[u8]; 7] = [
    b"made by: panelwright ",
    b"/Creator(panelwright ",
    b"Software\0panelwright ",
    b"<meta name=\"generator\" content=\"panelwright ",
    b"\"inputs-sha256\"",
    b"\"generator\":\"panelwright ",
    b"<metadata name=\"Application\">panelwright ",
];

/// Whether this program wrote a file: it carries a mark, or it is a fit report in words, whose first line names
/// its inputs. An empty file holds nothing to lose.
pub fn is_own(bytes: &[u8]) -> bool {
    let first = bytes.split(|b| *b == b'\n').next().unwrap_or(&[]);
    bytes.is_empty() || MARKS.iter().any(|m| holds(bytes, m)) || holds(first, b"   inputs ")
}

fn holds(bytes: &[u8], needle: &[u8]) -> bool {
    bytes.windows(needle.len()).any(|w| w == needle)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::solids::Model3;
    use crate::draw::{Drawing, Page, Units};
    use crate::export::solids::SOLID_FORMATS;
    use crate::export::{FORMATS, Options};

    #[test]
    fn every_format_carries_it_and_others_do_not() {
        let page = Page { name: "p".into(), width: 40.0, height: 30.0, items: Vec::new() };
        let drawing =
            Drawing { title: "t".into(), pages: vec![page], meta: Vec::new(), units: Units::Millimetre };
        for f in &FORMATS {
            assert!(is_own(&(f.write)(&drawing, 0, &Options { dpi: 30.0 }).unwrap()), "{}", f.name);
        }
        assert!(is_own(b"Panel, revision A   inputs 0123\nfail 0"));
        let solids =
            Model3 { title: "t".into(), facts: Vec::new(), groups: Vec::new(), left_out: Vec::new() };
        for f in &SOLID_FORMATS {
            assert!(is_own(&(f.write)(&solids).unwrap()), "{}", f.name);
        }
        for other in [&b"<svg/>"[..], b"0\nSECTION\n", b"my own notes on panelwright 0.1.0", b"%PDF-1.7"] {
            assert!(!is_own(other));
        }
    }
}
