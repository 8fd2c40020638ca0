//! Rules that depend on the place and have no say in where something fits, each with the reason.

use super::super::{Rule, comes_out, label_clear, layer_web, line_apart, line_bend, line_control, one_piece};
use super::super::{hand_behind, labelled, ports, removal, service_loop, sheet_edge, sheet_thickness, web};
use super::Asker;
use crate::panel::{Class, SubjectKind};

impl Asker<'_> {
    /// Those that may speak of the subject on this panel.
    pub(super) fn unsaid(&self) -> Vec<(&'static Rule, &'static str)> {
        let panel = self.panel;
        let Some(s) = panel.subjects.get(self.subject) else { return Vec::new() };
        let has = |class: Class| s.parts.iter().any(|p| p.class == class);
        let any = |class: Class| panel.subjects.iter().any(|s| s.parts.iter().any(|p| p.class == class));
        let mut out: Vec<(&'static Rule, &'static str)> = Vec::new();
        let layered = panel.sheets.iter().any(|l| l.layer_of == Some(s.sheet as usize));
        if layered {
            out.push((&layer_web::RULE, "a second sheet lies on this one"));
            out.push((&sheet_thickness::RULE, "a second sheet lies on this one"));
            // what goes through the carrier may part a layer that no web of the carrier holds together
            out.push((&one_piece::RULE, "a second sheet lies on this one"));
        }
        // openings that keep more metal than this between them and to the edge free no part of the sheet
        let hangs = self.limit(&one_piece::RULE, self.subject, 1.0);
        let least = |rule: &Rule| self.limit(rule, self.subject, hangs);
        if !layered && least(&web::RULE).min(least(&sheet_edge::RULE)) < hangs {
            out.push((&one_piece::RULE, "webs that are asked are less than what hangs the sheet together"));
        }
        if any(Class::Port) {
            out.push((&line_bend::RULE, "where lines run is not known before the place is"));
        }
        if has(Class::Port) {
            out.push((&line_apart::RULE, "where lines run is not known before the place is"));
            out.push((&service_loop::RULE, "where lines run is not known before the place is"));
            if panel.subjects.iter().any(|s| s.kind == SubjectKind::Control) {
                out.push((&line_control::RULE, "where lines run is not known before the place is"));
            }
        }
        if (0..panel.subjects.len()).any(|k| !ports::grips(panel, k).is_empty()) {
            out.push((&hand_behind::RULE, "in which order plugs come off is not known before the place is"));
        }
        let airframe = panel.subjects.iter().any(|s| s.kind == SubjectKind::Control);
        if airframe || removal::only_way(panel, self.subject).is_none() {
            out.push((&comes_out::RULE, "of what is in its way only what is fixed counts"));
        }
        if s.facts.as_ref().is_some_and(|f| f.needs_label) {
            out.push((&labelled::RULE, "labels are placed after what they name"));
            out.push((&label_clear::RULE, "labels are placed after what they name"));
        }
        out
    }
}
