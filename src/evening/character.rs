//! What a developer and a fixer ask of the baths around them, by what is in them.

use crate::bath::ClassRules;
use crate::bath::class::classes;
use crate::bath::rules::Span;
use crate::formula::{Formula, Part};

use super::table::Substances;

/// What a developer asks for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DeveloperCharacter {
    /// Pyro or catechol: water stop, plain or alkaline fixer without hardener, no washing aid in between. Common practice, no source.
    pub is_staining: bool,
    /// Carbonate or hydroxide: only a weak acid stop, or gas makes pinholes. Source: book excerpt on stop baths.
    pub is_alkaline: bool,
    /// Baths one after the other.
    pub baths: usize,
    /// Life of the mixed bath, hours, where it is so short that it is mixed before each tank.
    pub short_life_hours: Option<Span>,
    /// Whether that is the class's rule, not the formula's figure.
    pub is_rule: bool,
}

/// A mixed bath that lives no longer than this is mixed just before, hours.
const SHORT_HOURS: f64 = 0.5;
/// The same where the formula's own file states it.
const SHORT_STATED_HOURS: f64 = 1.0;

fn has(parts: &[Part], names: &[String]) -> bool {
    let mut all = parts.iter().flat_map(|part| &part.ingredients);
    all.any(|own| names.iter().any(|name| *name == own.form.parent.id))
}

/// Of a developer in a use of it.
pub(crate) fn of_developer(
    formula: &Formula,
    use_name: Option<&str>,
    rules: &ClassRules,
) -> DeveloperCharacter {
    let fitting = classes(formula, rules);
    let use_of = match use_name {
        Some(name) => formula.uses.iter().find(|listed_use| listed_use.name.eq_ignore_ascii_case(name)),
        None => formula.uses.first(),
    };
    let stated = use_of.and_then(|own| own.working_hours);
    let rule = fitting.iter().filter_map(|own| own.working_hours).reduce(Span::shorter);
    let short_life_hours = match stated {
        Some(hours) => Some(Span { low: hours, high: hours }).filter(|_| hours <= SHORT_STATED_HOURS),
        None => rule.filter(|rule| rule.high <= SHORT_HOURS),
    };
    DeveloperCharacter {
        is_staining: fitting.iter().any(|own| own.id == "pyro"),
        is_alkaline: has(&formula.parts, &rules.substances.carbonates)
            || has(&formula.parts, &rules.substances.hydroxides),
        baths: use_of.map_or(1, |own| own.baths.len().max(1)),
        is_rule: stated.is_none(),
        short_life_hours: short_life_hours.filter(|_| !fitting.is_empty()),
    }
}

/// What a fixer asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct FixerCharacter {
    /// Alkaline: carried acid lowers its pH evening by evening, so water or a very weak stop. Common practice, no source.
    pub is_alkaline: bool,
    /// Hardens with alum: the aid always, and 1.5 to 2 times the wash. Source of the slower wash: K. R. Haring, thesis, 1970; the
    /// factor is from memory.
    pub is_hardening: bool,
    pub is_acid: bool,
}

pub(crate) fn of_fixer(formula: &Formula, substances: &Substances) -> FixerCharacter {
    let is_acid = has(&formula.parts, &substances.acids);
    FixerCharacter {
        is_alkaline: !is_acid && has(&formula.parts, &substances.alkalis),
        is_hardening: has(&formula.parts, &substances.hardeners),
        is_acid,
    }
}
