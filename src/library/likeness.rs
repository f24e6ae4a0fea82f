//! That a substance of the user's own is not less than the shipped one whose name, number or formula it bears: its hazards must not vanish.

use serde::Deserialize;

use super::embedded;
use crate::diagnostic::{Finding, MOST_FINDINGS, line_of, read_table};
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
    let grave = grave_contents();
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
        } else {
            let told = names(form).join(" ");
            let is_short = |own: &&GraveContent| own.is_in(form, &told) && !own.is_answered_by(form);
            let Some(grave) = grave.iter().find(is_short) else { continue };
            let (message, fix) = if grave.classes.is_empty() {
                let what = "and no classes say what it must not meet";
                let fix = "add classes = [\"…\"], as the file of a shipped relative has them".to_owned();
                (format!("`{}` holds {}, {what}", form.id, grave.holds), fix)
            } else {
                let what = "and its classes do not say what it must not meet";
                let words: Vec<String> = grave.classes.iter().map(|word| format!("\"{word}\"")).collect();
                let fix = format!("add {} to its classes", words.join(" or "));
                (format!("`{}` holds {}, {what}", form.id, grave.holds), fix)
            };
            wrong("no-classes", message, fix);
        }
    }
    findings
}

/// The shipped form that a form is like, with what the latter lacks of it.
///
/// Of several like it (hydrates, strengths) those count that are no stronger, and of these the strongest; it is enough to be as much as one.
fn falls_short(form: &Form, shipped: &[(&Form, Vec<String>)]) -> Option<(String, String)> {
    let own_names = names_on_jars(form);
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

/// All names of a form; those of its chemical too.
fn raw_names(form: &Form) -> impl Iterator<Item = &str> {
    let parent = (form.parent.form_count == 1).then_some(&form.parent.name);
    let all = form.synonyms.iter().chain(&form.parent.synonyms).chain(parent).chain(&form.systematic);
    all.chain([&form.name]).map(String::as_str)
}

/// A name in plain letters, older and British spelling too.
fn letters(name: &str) -> String {
    plain(name).replace("sulph", "sulf")
}

/// All names of a form, in plain letters.
fn names(form: &Form) -> Vec<String> {
    raw_names(form).map(letters).collect()
}

/// The names of a form, and each without what a jar adds: `sodium hydroxide, pellets`, `hydrogen peroxide 30 %`.
fn names_on_jars(form: &Form) -> Vec<String> {
    let bare = |name: &str| {
        let end = name.find(|letter: char| matches!(letter, ',' | '(' | ';') || letter.is_ascii_digit())?;
        let bare = name.get(..end)?.trim();
        (bare.len() > 3).then(|| letters(bare))
    };
    names(form).into_iter().chain(raw_names(form).filter_map(bare)).collect()
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

/// The table of what an own substance must say of its company.
const FILE: &str = "tables/grave-contents.toml";

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct GraveTable {
    #[serde(rename = "format")]
    _format: u32,
    contents: Vec<GraveContent>,
}

/// What makes gas, explodes or poisons in company.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct GraveContent {
    holds: String,
    #[serde(default)]
    elements: Vec<String>,
    group: Option<Group>,
    #[serde(default)]
    named: Vec<String>,
    #[serde(default)]
    cas: Vec<String>,
    #[serde(default)]
    statements: Vec<String>,
    classes: Vec<String>,
}

/// A group of atoms as a chemical formula shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Group {
    Cyano,
    Azide,
    ChlorineOxygen,
    ChromiumVi,
}

fn grave_contents() -> Vec<GraveContent> {
    // The shipped table is proved readable by a test.
    read_table::<GraveTable>(embedded::packed(FILE), FILE).map(|table| table.contents).unwrap_or_default()
}

impl GraveContent {
    /// Whether a form holds it, by its formula, its names or its number.
    fn is_in(&self, form: &Form, names: &str) -> bool {
        let by_formula = form.chemical_formula.as_deref().is_some_and(|text| self.is_in_formula(text));
        by_formula
            || self.named.iter().any(|word| match word.strip_prefix('^') {
                Some(begins) => names.split([' ', '-']).any(|own| own.starts_with(begins)),
                None => names.contains(word.as_str()),
            })
            || form.hazards.codes().any(|code| self.statements.iter().any(|own| own == code))
            || form.cas.as_deref().is_some_and(|cas| self.cas.iter().any(|own| own == cas.trim()))
    }

    fn is_in_formula(&self, text: &str) -> bool {
        let all = symbols(text);
        self.elements.iter().any(|element| all.contains(element))
            || self.group.is_some_and(|group| group.is_in(text, &all))
    }

    /// Whether the classes of a form say enough of it.
    fn is_answered_by(&self, form: &Form) -> bool {
        let classes = || form.parent.classes.iter().flatten();
        if self.classes.is_empty() {
            return classes().next().is_some();
        }
        classes().any(|class| self.classes.iter().any(|own| own == class.word()))
    }
}

impl Group {
    fn is_in(self, text: &str, all: &[String]) -> bool {
        let has = |wanted: &str| all.iter().any(|symbol| symbol == wanted);
        let is_counted = |after: &str| after.chars().next().is_some_and(|next| next.is_ascii_digit());
        match self {
            // A carbon followed at once by a nitrogen that no figure counts; urea is written CN2H4O.
            Self::Cyano => {
                let continues =
                    |after: &str| after.chars().next().is_some_and(|next| next.is_ascii_lowercase());
                has("C") && has("N") && !has("H")
                    || text.split("CN").skip(1).any(|after| !is_counted(after) && !continues(after))
            }
            Self::Azide => !has("C") && text.split("N3").skip(1).any(|after| !is_counted(after)),
            Self::ChlorineOxygen => text.split(['.', '·', '*']).any(|part| {
                let own = symbols(part);
                let holds = |wanted: &str| own.iter().any(|symbol| symbol == wanted);
                holds("Cl") && holds("O") && !is_organic(part)
            }),
            // Three or four oxygens to a chromium with nothing else that would hold them, or seven to two.
            Self::ChromiumVi => {
                let known = ["Cr", "O", "K", "Na", "N", "H", "Li", "Ca", "Ba", "Pb", "Ag", "Sr", "Zn"];
                let atoms = |symbol: &str| {
                    let parsed =
                        ChemicalFormula::parse(text.split(['.', '·', '*']).next().unwrap_or(text)).ok();
                    parsed.and_then(|own| own.atoms().get(symbol).copied()).map_or(0.0, f64::from)
                };
                let (chromium, oxygen) = (atoms("Cr"), atoms("O"));
                all.iter().all(|symbol| known.contains(&symbol.as_str()))
                    && chromium > 0.0
                    && atoms("H") <= 8.0
                    && oxygen / chromium >= 3.0
                    && oxygen / chromium <= 4.0
                    && (atoms("N") == 0.0 || atoms("H") > 0.0)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::Library;

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
            ("CrO3", Some("chromium(VI)")),
            ("K2Cr2O7", Some("chromium(VI)")),
            ("(NH4)2Cr2O7", Some("chromium(VI)")),
            ("Na2CrO4.4H2O", Some("chromium(VI)")),
            ("Cr2O3", None),
            ("KCr(SO4)2.12H2O", None),
            ("Cr(NO3)3.9H2O", None),
        ] {
            let table = grave_contents();
            let grave = table.iter().find(|own| own.is_in_formula(formula));
            assert_eq!(grave.map(|own| own.holds.as_str()), holds, "{formula}");
        }
    }

    #[test]
    fn every_shipped_chemical_says_what_is_asked_of_an_own_one() {
        let library = Library::shipped();
        let table = grave_contents();
        let mut asked = 0;
        for substance in library.all_substances().unwrap().0 {
            for form in &substance.forms {
                let told = names(form).join(" ");
                for grave in table.iter().filter(|own| own.is_in(form, &told)) {
                    asked += 1;
                    assert!(grave.is_answered_by(form), "{}: {}", form.id, grave.holds);
                }
            }
        }
        assert!(asked > 40, "{asked}");
    }

    #[test]
    fn the_numbers_of_the_table_have_their_check_digit() {
        let table = grave_contents();
        assert!(table.len() > 5);
        for number in table.iter().flat_map(|own| &own.cas) {
            let digits: Vec<u32> = number.chars().filter_map(|letter| letter.to_digit(10)).collect();
            let (last, rest) = digits.split_last().unwrap();
            let sum: u32 = rest.iter().rev().zip(1..).map(|(digit, place)| digit * place).sum();
            assert_eq!(sum % 10, *last, "{number}");
        }
    }
}
