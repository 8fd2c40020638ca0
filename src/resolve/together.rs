//! Items that a hand moves together: names to subjects.

use super::scene::Scene;
use crate::diag::{Problem, did_you_mean};
use crate::panel::SubjectKind;
use std::collections::BTreeSet;

impl Scene<'_, '_> {
    /// What the outermost file that says it says. What was taken out of a file below that said it is left out.
    pub fn together(&mut self) -> Vec<Vec<usize>> {
        let m = self.merged;
        let said = m.files.iter().enumerate().rev();
        let Some((file, lists)) = said.into_iter().find_map(|(k, f)| Some((k, f.def.together.as_ref()?)))
        else {
            return Vec::new();
        };
        let own = file == m.own();
        let item = |k: SubjectKind| matches!(k, SubjectKind::Placement | SubjectKind::Label);
        let mut taken = BTreeSet::new();
        let mut all = Vec::new();
        for list in lists {
            let mut group = Vec::new();
            for id in list {
                let name = id.value.as_ref();
                let found = self.subjects.iter().position(|s| s.id == name && item(s.kind));
                match found {
                    Some(k) if taken.insert(k) => group.push(k),
                    Some(_) => self.problems.push(
                        Problem::new(
                            "twice-id",
                            &id.place,
                            format!("{name} is among items that move together already"),
                        )
                        .help("name it once: each item moves with one list at most"),
                    ),
                    None if !own || m.unsure(&id.value) => {}
                    None => {
                        let known = self.subjects.iter().filter(|s| item(s.kind)).map(|s| s.id.as_str());
                        let help = match did_you_mean(name, known) {
                            Some(near) => format!("did you mean \"{near}\"?"),
                            None => "name placements and labels of this panel".to_string(),
                        };
                        let message = format!("there is no `{name}` on this panel to move with others");
                        self.problems.push(Problem::new("unknown-id", &id.place, message).help(help));
                    }
                }
            }
            if group.len() > 1 {
                all.push(group);
            }
        }
        all
    }
}
