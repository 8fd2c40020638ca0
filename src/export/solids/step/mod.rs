//! STEP (ISO 10303-21, application protocol 214): boundary solids with true planes, cylinders, spheres and tori, in
//! millimetres, one product for each solid, named by its id.
//!
//! Numbers carry twelve decimals, directions fifteen: corners lie on their surfaces to far below the 1e-7 mm that the
//! file states. The time stamp is fixed, so that the same model gives the same bytes.

mod brep;
mod drawn;
mod flat;
mod round;

use super::body::{Body, body};
use super::{faults, sized};
use crate::draw::solids::Model3;
use crate::export::ExportError;
use crate::export::mark::{FACT, PROGRAM};
use crate::export::number::fixed;
use brep::Shell;
use std::fmt::Write as _;

/// The bytes of a file.
///
/// # Errors
/// Every solid that is none, by name.
pub fn write(model: &Model3) -> Result<Vec<u8>, ExportError> {
    let mut file = File::new();
    let mut wrong = Vec::new();
    let mut products = Vec::new();
    for part in model.parts() {
        match body(&part.form).and_then(|b| sized(&b).map(|()| b)) {
            Ok(b) => products.push(file.product(&part.id, part.kind.word(), &shells(&b))),
            Err(why) => wrong.push((part.id.as_str(), why)),
        }
    }
    faults(wrong)?;
    if !products.is_empty() {
        let list = listed(&products);
        file.add(format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,{list})"));
    }
    Ok(file.whole(model).into_bytes())
}

fn shells(body: &Body) -> Vec<Shell> {
    match body {
        Body::Drawn(d) => vec![drawn::shell(d)],
        Body::Runs(runs) => runs.iter().map(round::shell).collect(),
        Body::Hull(h) => vec![flat::shell(h)],
    }
}

/// Names of the entities that all products share.
const CONTEXT: usize = 1;
const PRODUCT: usize = 3;
const DESIGN: usize = 4;
const SPACE: usize = 9;

/// The data section as it grows; an entity's name is its number.
struct File {
    count: usize,
    data: String,
}

impl File {
    fn new() -> File {
        let mut file = File { count: 0, data: String::new() };
        for entity in [
            "APPLICATION_CONTEXT('core data for automotive mechanical design processes')".to_owned(),
            format!(
                "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#{CONTEXT})"
            ),
            format!("PRODUCT_CONTEXT('',#{CONTEXT},'mechanical')"),
            format!("PRODUCT_DEFINITION_CONTEXT('part definition',#{CONTEXT},'design')"),
            "(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))".to_owned(),
            "(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))".to_owned(),
            "(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())".to_owned(),
            "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-07),#5,'distance_accuracy_value','')"
                .to_owned(),
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#8))\
             GLOBAL_UNIT_ASSIGNED_CONTEXT((#5,#6,#7))REPRESENTATION_CONTEXT('','3D'))"
                .to_owned(),
        ] {
            file.add(entity);
        }
        file
    }

    /// Adds an entity; gives its name.
    fn add(&mut self, entity: impl AsRef<str>) -> usize {
        self.count += 1;
        // writing to a string cannot fail
        let _ = writeln!(self.data, "#{}={};", self.count, entity.as_ref());
        self.count
    }

    /// A product with its shape: one solid, or several that reach into each other.
    fn product(&mut self, id: &str, kind: &str, shells: &[Shell]) -> usize {
        let name = quoted(id);
        let solids: Vec<usize> = shells
            .iter()
            .map(|s| {
                let shell = s.write(self);
                self.add(format!("MANIFOLD_SOLID_BREP({name},#{shell})"))
            })
            .collect();
        let product = self.add(format!("PRODUCT({name},{name},{},(#{PRODUCT}))", quoted(kind)));
        let formation = self.add(format!("PRODUCT_DEFINITION_FORMATION('','',#{product})"));
        let definition = self.add(format!("PRODUCT_DEFINITION('design','',#{formation},#{DESIGN})"));
        let shape = self.add(format!("PRODUCT_DEFINITION_SHAPE('','',#{definition})"));
        let representation =
            self.add(format!("ADVANCED_BREP_SHAPE_REPRESENTATION({name},{},#{SPACE})", listed(&solids)));
        self.add(format!("SHAPE_DEFINITION_REPRESENTATION(#{shape},#{representation})"));
        product
    }

    fn whole(&self, model: &Model3) -> String {
        let facts = model.facts.iter().map(|(k, v)| format!("{k}: {v}"));
        let described: Vec<String> =
            std::iter::once(FACT.to_owned()).chain(facts).map(|f| quoted(&f)).collect();
        format!(
            "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({}),'2;1');\n\
             FILE_NAME({},'1980-01-01T00:00:00',(''),(''),'{PROGRAM}','{PROGRAM}','');\n\
             FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n{}ENDSEC;\n\
             END-ISO-10303-21;\n",
            described.join(","),
            quoted(&model.title),
            self.data
        )
    }
}

/// `(#1,#2)`.
fn listed(names: &[usize]) -> String {
    let names: Vec<String> = names.iter().map(|n| format!("#{n}")).collect();
    format!("({})", names.join(","))
}

/// A real number: it always has a point.
fn real(v: f64, decimals: usize) -> String {
    let s = fixed(v, decimals);
    if s.contains('.') { s } else { s + "." }
}

/// Words in quotes; what is not ASCII in the standard's own writing.
fn quoted(words: &str) -> String {
    let mut out = String::from("'");
    for c in words.chars() {
        match c {
            '\'' => out.push_str("''"),
            '\\' => out.push_str("\\\\"),
            ' '..='~' => out.push(c),
            c if c.is_control() => out.push(' '),
            c if (c as u32) < 0x10000 => out.push_str(&format!("\\X2\\{:04X}\\X0\\", c as u32)),
            c => out.push_str(&format!("\\X4\\{:08X}\\X0\\", c as u32)),
        }
    }
    out.push('\'');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_and_numbers_are_written_as_the_standard_asks() {
        assert_eq!(quoted("pilot's \\ é"), "'pilot''s \\\\ \\X2\\00E9\\X0\\'");
        assert_eq!(
            (real(3.0, 12), real(-0.5, 12), real(-0.0, 12)),
            ("3.".into(), "-0.5".into(), "0.".into())
        );
    }
}
