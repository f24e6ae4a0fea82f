//! What the rule of a class says where a formula has no figure of its own. Always a range or two dates, always called a
//! rule.

mod json;
mod words;

pub use json::RulesBody;
pub use words::{bench_rules, does_words, keeps_words, label_rule, rule_facts};
