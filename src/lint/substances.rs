//! Substances: sources, roles, classes, CAS numbers, and forms that agree with one another.

use std::collections::BTreeSet;

use super::Source;
use crate::diagnostic::{Finding, FindingSeverity};
use crate::library::Library;
use crate::safety::signal_of;
use crate::substance::{Class, Form, State, Substance};
use crate::suggestion;

/// g/mol by which forms of one chemical may differ once their crystal water is taken off: the weights have five figures.
const SAME_G_PER_MOL: f64 = 0.02;

/// The words that substance files may use.
#[derive(Debug, Default)]
pub(super) struct Vocabulary {
    /// Keys of sources.
    sources: BTreeSet<String>,
    /// Classes that shipped substances have or rules know.
    classes: BTreeSet<String>,
    /// Codes of the table of statements.
    codes: BTreeSet<String>,
}

impl Vocabulary {
    pub(super) fn of(library: &Library) -> Self {
        let (all, _) = library.all_substances().unwrap_or_default();
        let is_shipped = |id: &str| Library::shipped_text(&format!("substances/{id}.toml")).is_some();
        let mut classes: BTreeSet<String> = all
            .iter()
            .filter(|own| is_shipped(&own.parent.id))
            .flat_map(|own| own.parent.classes.clone().unwrap_or_default())
            .map(|class| class.word().to_owned())
            .collect();
        // Quoted words of the table of combinations: a class that only a rule knows is known too.
        let table = library.table("combinations.toml").unwrap_or_default();
        classes.extend(
            table.split('"').skip(1).step_by(2).filter(|word| !word.contains(' ')).map(str::to_owned),
        );
        let statements = library.table("statements.toml").unwrap_or_default();
        let codes = statements.lines().filter_map(|line| line.strip_prefix("code = \"")?.strip_suffix('"'));
        Self {
            sources: library.sources().into_keys().collect(),
            classes,
            codes: codes.map(str::to_owned).collect(),
        }
    }
}

pub(super) fn judge(
    substance: &Substance,
    source: &Source<'_>,
    (library, vocabulary): (&Library, &Vocabulary),
    is_shipped: bool,
    findings: &mut Vec<Finding>,
) {
    roles_and_classes(substance, source, vocabulary, findings);
    let sources = &vocabulary.sources;
    for key in source_keys(substance) {
        // A shipped file cites by key; one's own may write the citation out, which has a space in it.
        if sources.contains(&key) || !is_shipped && key.trim().contains(' ') {
            continue;
        }
        let fix = match suggestion::nearest(&key, sources.iter().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"? Or write the citation: author, title, year"),
            None => "write the citation (author, title, year), \"memory\" or \"common-practice\"".to_owned(),
        };
        let message = format!("the source `{key}` is no key of the list of sources");
        findings.push(source.finding(
            FindingSeverity::Warning,
            "unknown-source",
            source.quoted(&key),
            message,
            fix,
        ));
    }
    for form in &substance.forms {
        judge_form(form, source, vocabulary, findings);
    }
    forms_agree(substance, source, library, findings);
}

fn roles_and_classes(
    substance: &Substance,
    source: &Source<'_>,
    vocabulary: &Vocabulary,
    findings: &mut Vec<Finding>,
) {
    let parent = &substance.parent;
    if parent.roles.is_empty() {
        let message =
            format!("`{}` has no roles: compare, near and the order of mixing cannot place it", parent.id);
        let fix = "add roles = [\"…\"], such as [\"developing-agent\"] or [\"alkali\"]";
        findings.push(source.finding(FindingSeverity::Warning, "no-roles", source.key("name"), message, fix));
    }
    let Some(classes) = &parent.classes else {
        let message = format!("`{}` has no classes: what it must not meet is not checked", parent.id);
        let fix = "add classes = [\"…\"] as similar shipped substances have, or classes = [] if none applies";
        findings.push(source.finding(
            FindingSeverity::Warning,
            "no-classes",
            source.key("name"),
            message,
            fix,
        ));
        return;
    };
    let known = &vocabulary.classes;
    for class in classes.iter().map(Class::word).filter(|class| !known.contains(*class)) {
        let message = format!("no rule and no other substance knows the class `{class}`");
        let fix = match suggestion::nearest(class, known.iter().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "use a class of a shipped substance; others do nothing".to_owned(),
        };
        findings.push(source.finding(
            FindingSeverity::Warning,
            "unknown-class",
            source.quoted(class),
            message,
            fix,
        ));
    }
}

/// Every source named in a substance file, once.
fn source_keys(substance: &Substance) -> BTreeSet<String> {
    let mut keys = BTreeSet::new();
    keys.extend(substance.parent.keeps_in_solution.iter().map(|own| own.source.clone()));
    for form in &substance.forms {
        keys.extend(form.assay_source.iter().chain(&form.density_source).cloned());
        keys.extend(form.solubility.iter().map(|own| own.source.clone()));
        keys.extend(form.acid_constants.iter().map(|acid_constant| acid_constant.source.clone()));
        keys.extend(form.heat_of_solution.iter().map(|own| own.source.clone()));
        keys.insert(form.hazards.source.clone());
    }
    keys
}

fn judge_form(form: &Form, source: &Source<'_>, vocabulary: &Vocabulary, findings: &mut Vec<Finding>) {
    let line = source.value("id", &form.id);
    if let Some(cas) = form.cas.as_deref().filter(|cas| !is_cas(cas)) {
        let message = format!("`{cas}` of `{}` is no CAS number: its check digit does not fit", form.id);
        let line = source.quoted(cas).or(line);
        findings.push(source.finding(
            FindingSeverity::Warning,
            "cas",
            line,
            message,
            "look it up on the jar or its safety sheet",
        ));
    }
    if form.hazards.unfounded {
        let message = format!(
            "`{}` is called not classified, but no document says so: its hazards are read as not known",
            form.id
        );
        let fix = "write the document that says so as source, or status = \"unknown\"";
        findings.push(source.finding(FindingSeverity::Warning, "unfounded", line, message, fix));
    }
    if form.state != State::Solid && form.density_g_per_ml.is_none() && form.molar_mass_g_per_mol.is_some() {
        let message = format!(
            "`{}` is a liquid without a density: its millilitres cannot be turned into grams",
            form.id
        );
        let fix = "add density_g_per_ml and density_source";
        findings.push(source.finding(FindingSeverity::Advice, "no-density", line, message, fix));
    }
    if form.state == State::Solution && form.assay_percent.is_none() && form.molar_mass_g_per_mol.is_some() {
        let message = format!("`{}` is a solution without a strength: it would be counted as pure", form.id);
        let fix = "add assay_percent (grams in 100 g) and assay_source";
        findings.push(source.finding(FindingSeverity::Warning, "no-assay", line, message, fix));
    }
    hazards(form, source, vocabulary, findings);
}

/// A code without words would be printed bare, and a signal word below its codes would make light of them: both are errors.
fn hazards(form: &Form, source: &Source<'_>, vocabulary: &Vocabulary, findings: &mut Vec<Finding>) {
    let line = source.value("id", &form.id);
    let hazards = &form.hazards;
    let codes = || hazards.codes();
    for code in codes().filter(|code| !vocabulary.codes.contains(*code)) {
        let message = format!("`{code}` of `{}` is no code of a hazard statement", form.id);
        let fix = match suggestion::nearest(code, vocabulary.codes.iter().map(String::as_str)) {
            Some(near) => format!("did you mean {near}? Copy the codes from the jar or its safety sheet"),
            None => {
                "copy the codes from the jar or its safety sheet, such as H302, H360FD or EUH031".to_owned()
            }
        };
        let line = source.quoted(code).or(line);
        findings.push(source.finding(FindingSeverity::Error, "hazard-code", line, message, fix));
    }
    let asked = codes().filter_map(|code| Some((signal_of(code)?, code))).max_by_key(|(signal, _)| *signal);
    if let Some((asked, code)) =
        asked.filter(|(asked, _)| hazards.signal.is_some_and(|signal| signal < *asked))
    {
        let given = hazards.signal.map_or("none", crate::substance::Signal::word);
        let message = format!("`{}`: {code} asks for the signal word {}, not {given}", form.id, asked.word());
        let fix =
            format!("write signal = \"{}\", or leave the line out: it follows from the codes", asked.word());
        findings.push(source.finding(FindingSeverity::Error, "signal-word", line, message, fix));
    }
}

/// Forms of one chemical that are no hydrates of one another.
fn forms_agree(substance: &Substance, source: &Source<'_>, library: &Library, findings: &mut Vec<Finding>) {
    let mut first: Option<(&Form, f64)> = None;
    for form in &substance.forms {
        let Some(molar_mass) = form.anhydrous_molar_mass(library.weights()) else { continue };
        match first {
            None => first = Some((form, molar_mass)),
            Some((other, mass)) if (molar_mass - mass).abs() > SAME_G_PER_MOL => {
                let message = format!(
                    "`{}` and `{}` are not one chemical: without crystal water {molar_mass:.2} and {mass:.2} g/mol",
                    form.id, other.id
                );
                let fix = "check the formulas and their water, or put one of them into a file of its own";
                let line = source.value("id", &form.id);
                findings.push(source.finding(FindingSeverity::Warning, "forms-differ", line, message, fix));
            }
            Some(_) => {}
        }
    }
}

/// Digits-digits-check: the sum of the digits times their place from the right, modulo 10, is the last digit.
fn is_cas(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [first, second, check] = parts.as_slice() else { return false };
    let digits = |part: &str, least: usize, most: usize| {
        (least..=most).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit())
    };
    if !digits(first, 2, 7) || !digits(second, 2, 2) || !digits(check, 1, 1) {
        return false;
    }
    let sum: u32 = first
        .chars()
        .chain(second.chars())
        .rev()
        .zip(1_u32..)
        .filter_map(|(digit, place)| Some(digit.to_digit(10)? * place))
        .sum();
    check.parse() == Ok(sum % 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cas_numbers_are_told_by_their_check_digit() {
        // Printed on jars: sodium sulfite, hydroquinone, water.
        for good in ["7757-83-7", "123-31-9", "7732-18-5"] {
            assert!(is_cas(good), "{good}");
        }
        for bad in ["7757-83-6", "123-31", "12-3-4", "", "abc-de-f", "10555-76-2"] {
            assert!(!is_cas(bad), "{bad}");
        }
    }

    #[test]
    fn hazard_codes_are_those_of_the_table() {
        let known = Vocabulary::of(&Library::shipped()).codes;
        for good in ["H302", "H360FD", "EUH031", "H350i", "H206", "H232", "EUH209A", "EUH211"] {
            assert!(known.contains(good), "{good}");
        }
        for bad in ["302", "H30", "H31", "H3021", "H999", "P280", ""] {
            assert!(!known.contains(bad), "{bad}");
        }
    }
}
