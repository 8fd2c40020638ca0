//! A rule in words.

use crate::check::{Limit, Rule};
use crate::report::sentence::{limit_words, wrap};

/// What the rule asks, why, its default limit and source, and how a file changes it.
pub fn explain(rule: &Rule) -> String {
    let mut s = format!("{}\n\n{}\n", rule.id, wrap(rule.asks, 0));
    s.push_str(&wrap(rule.why, 0));
    s.push_str(&format!("\n\nDefault limit: {}\n", limit_words(rule.limit)));
    s.push_str(&wrap(&format!("Source: {}", source_words(rule)), 0));
    s.push('\n');
    if rule.limit != Limit::Plain {
        s.push_str(&format!(
            "\nTo set your own, with its reason, in the panel file:\n  \"limits\": {{ \"{}\": {{ \"{}\": \"...\", \"because\": \"...\" }} }}\n",
            rule.id,
            if rule.limit.at_most() { "at-most" } else { "at-least" }
        ));
    }
    s.push_str("\nA limit that you change is reported beside the default. Contact and overlap fail whatever the limit.\n");
    s
}

/// Standing and title of a rule's source.
pub(crate) fn source_words(rule: &Rule) -> String {
    if rule.source.title.is_empty() {
        rule.source.standing.words().to_string()
    } else {
        format!("{} ({})", rule.source.title, rule.source.standing.words())
    }
}
