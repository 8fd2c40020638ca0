//! An item's own numbers in place of its definition's: keys are paths of the definition, values have a source.

use super::check::{Checker, short};
use super::instrument::{NoNumber, number_at};
use super::node::{Entry, Node, Value};
use super::raw::ids_in;
use super::table::Kind;
use crate::diag::{Problem, did_you_mean};
use jsonc_parser::ast;
use jsonc_parser::common::Ranged;

impl Checker<'_> {
    /// An object whose keys are paths of a definition's numbers.
    pub(super) fn numbers(&mut self, object: &ast::Object) -> Option<Node> {
        let mut entries: Vec<Entry> = Vec::new();
        for property in &object.properties {
            let (key, range) = (property.name.as_str(), property.name.range());
            if key == "note" {
                self.value(&property.value, &Kind::Words);
                continue;
            }
            if entries.iter().any(|e| e.key.as_ref() == key) {
                self.twice(key, range);
                continue;
            }
            let read = match number_at(key) {
                Err(why) => {
                    self.no_number(key, &why, range);
                    None
                }
                Ok(_) if matches!(property.value, ast::Value::NullKeyword(_)) => {
                    let message = "null takes nothing away";
                    let problem = Problem::new("wrong-type", &self.place(property.value.range()), message).help(
                        "leave the key out where the definition's number holds; say another one where it does not",
                    );
                    self.tell(problem);
                    None
                }
                Ok(_) if property.value.as_object().is_none() => {
                    let message = format!("the number `{}` does not say where it comes from", short(key));
                    let said = self.spelled(property.value.range());
                    let problem = Problem::new("no-source", &self.place(property.value.range()), message).help(format!(
                        "write {{ \"of\": {said}, \"source\": \"NAME\" }}, where NAME stands in this file's \"sources\""
                    ));
                    self.tell(problem);
                    None
                }
                Ok(kind) => self.value(&property.value, kind),
            };
            let refused = || self.node(Value::Refused(ids_in(&property.value)), property.value.range());
            let node = read.unwrap_or_else(refused);
            entries.push(Entry { key: key.into(), key_place: self.place(range), node });
        }
        Some(self.node(Value::Object(entries), object.range))
    }

    fn no_number(&mut self, path: &str, why: &NoNumber, range: jsonc_parser::common::Range) {
        let (message, help) = match why {
            NoNumber::Key(before, step, known) => {
                let of = if before.is_empty() { "an instrument".to_string() } else { format!("`{}`", short(before)) };
                let help = match did_you_mean(step, known.iter().copied()) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("there are {}", known.join(", ")),
                };
                (format!("`{}` is no part of {of}", short(step)), help)
            }
            NoNumber::Words => (
                format!("`{}` is no single number of an instrument", short(path)),
                "name one number as `panelwright instruments show NAME` prints it, such as bodies.can.to; for an \
                 outline or words copy the definition's file and place that"
                    .to_string(),
            ),
        };
        let problem = Problem::new("no-number", &self.place(range), message).help(help);
        self.tell(problem);
    }
}
