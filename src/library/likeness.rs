//! That a substance of the user's own is not less than the shipped one whose name, number or formula it bears: its hazards must not vanish.

use crate::diagnostic::{Finding, MOST_FINDINGS, line_of};
use crate::substance::chemical_formula::ChemicalFormula;
use crate::substance::{Class, Form, Substance};
use crate::suggestion::plain;

/// Everything in which an own substance falls short.
pub(super) fn judge(
    own_substance: &Substance,
    shipped: &[Substance],
    text: &str,
    file: &str,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    let shipped: Vec<(&Form, Vec<String>)> =
        shipped.iter().flat_map(|own| &own.forms).map(|form| (form.as_ref(), names(form))).collect();
    for form in &own_substance.forms {
        if findings.len() >= MOST_FINDINGS {
            break;
        }
        let mut wrong = |code, message: String, fix: String| {
            let line = text.find(&format!("\"{}\"", form.id)).map(|offset| line_of(text, offset));
            findings.push(Finding::error(code, file, line, message, fix));
        };
        if let Some((other, lacks)) = falls_short(form, &shipped) {
            let what = format!(
                "`{}` bears the name, the CAS number or the formula of the shipped `{other}`",
                form.id
            );
            let fix = format!("use {other}, or give it what {other} has (`soupcon substance {other}`)");
            wrong("less-than-shipped", format!("{what}, but not its {lacks}"), fix);
        } else if form.parent.classes.as_ref().is_none_or(Vec::is_empty)
            && let Some(holds) =
                form.chemical_formula.as_deref().and_then(grave_content).or_else(|| grave_name(form))
        {
            let message = format!("`{}` holds {holds}, and no classes say what it must not meet", form.id);
            wrong(
                "no-classes",
                message,
                "add classes = [\"…\"], as the file of a shipped relative has them".to_owned(),
            );
        }
    }
    findings
}

/// The shipped form that a form is like, with what the latter lacks of it.
///
/// Of several like it (hydrates, strengths) those count that are no stronger, and of these the strongest; it is enough to be as much as one.
fn falls_short(form: &Form, shipped: &[(&Form, Vec<String>)]) -> Option<(String, String)> {
    let own_names = names(form);
    let like = |(other, others): &&(&Form, Vec<String>)| {
        own_names.iter().any(|name| others.contains(name)) || is_like(form, other)
    };
    let alike: Vec<&Form> = shipped.iter().filter(like).map(|(other, _)| *other).collect();
    let classes = |form: &Form| form.parent.classes.clone().unwrap_or_default();
    let lacks_class = |other: &&&Form| classes(other).iter().any(|class| !form.is_class(class));
    if let Some(other) = alike.iter().find(lacks_class) {
        let missing: Vec<Class> = classes(other).into_iter().filter(|class| !form.is_class(class)).collect();
        let missing: Vec<&str> = missing.iter().map(Class::word).collect();
        return Some((other.id.clone(), format!("classes {}", missing.join(", "))));
    }
    let strength = |form: &Form| form.assay_fraction();
    let weaker: Vec<&&Form> = alike.iter().filter(|other| strength(other) <= strength(form) + 1e-9).collect();
    let strongest = weaker.iter().map(|other| strength(other)).fold(0.0, f64::max);
    let peers = weaker.into_iter().filter(|other| strength(other) >= strongest - 1e-9);
    let mut short = peers.map(|other| (other.id.clone(), missing_statements(form, other)));
    let first = short.next()?;
    let covers_one = first.1.is_empty() || short.any(|(_, missing)| missing.is_empty());
    (!covers_one).then(|| (first.0, format!("hazards {}", first.1.join(", "))))
}

/// Codes of statements that a form does not have.
fn missing_statements(form: &Form, other: &Form) -> Vec<String> {
    let all = |form: &Form| [form.hazards.statements.clone(), form.hazards.supplementary.clone()].concat();
    let own = all(form);
    all(other).into_iter().filter(|code| !own.contains(code)).collect()
}

/// All names of a form, in plain letters; those of its chemical too.
fn names(form: &Form) -> Vec<String> {
    let parent = (form.parent.form_count == 1).then_some(&form.parent.name);
    let all = form.synonyms.iter().chain(&form.parent.synonyms).chain(parent).chain(&form.systematic);
    all.chain([&form.name]).map(|name| plain(name)).collect()
}

/// Whether two forms share a CAS number, or the formula of something inorganic (isomers share those of organic chemicals).
fn is_like(form: &Form, other: &Form) -> bool {
    let same_number = || form.cas.as_ref().is_some_and(|cas| Some(cas.trim()) == other.cas.as_deref());
    let same_formula = || {
        form.chemical_formula.as_ref().is_some_and(|chemical_formula| {
            // The same atoms in whatever order: data sheets write HNaO.
            let atoms = |text: &str| ChemicalFormula::parse(text).ok().map(|own| own.atoms().clone());
            !is_organic(chemical_formula)
                && other.chemical_formula.as_deref().is_some_and(|theirs| {
                    theirs == chemical_formula.trim()
                        || atoms(theirs).is_some_and(|theirs| atoms(chemical_formula) == Some(theirs))
                })
        })
    };
    same_number() || same_formula()
}

/// Element symbols of a formula, in its order.
fn symbols(text: &str) -> Vec<String> {
    let mut symbols: Vec<String> = Vec::new();
    for letter in text.chars() {
        if letter.is_ascii_uppercase() {
            symbols.push(letter.to_string());
        } else if letter.is_ascii_lowercase()
            && let Some(last) = symbols.last_mut()
        {
            last.push(letter);
        }
    }
    symbols
}

/// Whether a formula holds carbon bound to hydrogen, as far as the formula tells.
fn is_organic(text: &str) -> bool {
    let symbols = symbols(text);
    let has = |wanted: &str| symbols.iter().any(|symbol| symbol == wanted);
    has("C") && has("H")
}

/// What in a formula makes gas, explodes or poisons in company, so that its file must say what it must not meet.
///
/// Source: general chemistry, from memory.
fn grave_content(text: &str) -> Option<&'static str> {
    let symbols_of = |part: &str| symbols(part);
    let all = symbols_of(text);
    let has = |wanted: &str| all.iter().any(|symbol| symbol == wanted);
    // A carbon followed at once by a nitrogen that no figure counts is a cyanide or cyanate group; urea is written CN2H4O.
    let mut rest = text;
    let mut has_cyano = has("C") && has("N") && !has("H");
    while let Some((_, after)) = rest.split_once("CN") {
        let next = after.chars().next();
        has_cyano |= next.is_none_or(|next| !next.is_ascii_lowercase() && !next.is_ascii_digit());
        rest = after;
    }
    let chlorine_and_oxygen = text.split(['.', '·', '*']).any(|part| {
        let own = symbols_of(part);
        own.iter().any(|symbol| symbol == "Cl") && own.iter().any(|symbol| symbol == "O") && !is_organic(part)
    });
    let has_azide = !has("C")
        && text
            .split("N3")
            .skip(1)
            .any(|after| after.chars().next().is_none_or(|next| !next.is_ascii_digit()));
    match () {
        () if has("Hg") => Some("mercury"),
        () if has("As") => Some("arsenic"),
        () if has_cyano => Some("a cyanide or cyanate group"),
        () if has_azide => Some("an azide group"),
        () if chlorine_and_oxygen => Some("chlorine with oxygen"),
        () => None,
    }
}

/// The same of what goes by a name without a formula; source as above.
fn grave_name(form: &Form) -> Option<&'static str> {
    let told = names(form).join(" ");
    let words = [
        ("cyan", "a cyanide or cyanate group"),
        ("azide", "an azide group"),
        ("hypochlorit", "chlorine with oxygen"),
        ("chlorate", "chlorine with oxygen"),
        ("mercur", "mercury"),
        ("arsen", "arsenic"),
    ];
    words.iter().find(|(word, _)| told.contains(word)).map(|(_, holds)| *holds)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_must_say_its_classes_is_known_by_its_formula() {
        for (formula, holds) in [
            ("KCN", Some("a cyanide or cyanate group")),
            ("NH4SCN", Some("a cyanide or cyanate group")),
            ("K4Fe(CN)6.3H2O", Some("a cyanide or cyanate group")),
            ("NaN3", Some("an azide group")),
            ("NaClO", Some("chlorine with oxygen")),
            ("NaOCl", Some("chlorine with oxygen")),
            ("CaCl2O2", Some("chlorine with oxygen")),
            ("HgCl2", Some("mercury")),
            ("As2O3", Some("arsenic")),
            ("CaCl2.2H2O", None),
            ("CN2H4O", None),
            ("C6H5N3", None),
            ("C6H7ClN2O", None),
            ("CH3COONa", None),
            ("Na2SO3", None),
            ("NaN", None),
        ] {
            assert_eq!(grave_content(formula), holds, "{formula}");
        }
    }
}
