//! Which class of composition a formula or one of its parts belongs to.

use super::rules::{ClassRules, DeveloperRule, FixerClass, SheetRule};
use crate::formula::{Formula, Kind, Part};
use crate::substance::Role;
use crate::substance::molar::SODIUM_SULFITE_G_PER_MOL;

/// What decides a class, of one part.
#[derive(Debug, Clone, Copy, Default)]
#[allow(clippy::struct_excessive_bools, reason = "each is one test of the table")]
struct Signs {
    has_solvent: bool,
    hydroxide: bool,
    carbonate: bool,
    alkali: bool,
    amidol: bool,
    pyro: bool,
    ascorbate: bool,
    p_phenylenediamine: bool,
    glycin: bool,
    any_agent: bool,
    fixing: bool,
    thiocyanate: bool,
    formaldehyde: bool,
    sulfite_g: f64,
    p_aminophenol_g: f64,
}

impl Signs {
    fn of(part: &Part, rules: &ClassRules) -> Self {
        let list = &rules.substances;
        let mut signs = Self {
            has_solvent: part.solvent.as_ref().is_some_and(|form| form.parent.id != "water"),
            ..Self::default()
        };
        for ingredient in &part.ingredients {
            let id = ingredient.form.parent.id.as_str();
            let is_one = |names: &[String]| names.iter().any(|name| name == id);
            let grams = ingredient.grams_per_litre().unwrap_or(0.0);
            signs.hydroxide |= is_one(&list.hydroxides);
            signs.carbonate |= is_one(&list.carbonates);
            signs.alkali |= is_one(&list.hydroxides) || is_one(&list.carbonates) || is_one(&list.alkalis);
            signs.amidol |= id == "amidol";
            signs.pyro |= is_one(&list.pyros);
            signs.ascorbate |= is_one(&list.ascorbates);
            signs.p_phenylenediamine |= id == "p-phenylenediamine";
            signs.glycin |= id == "glycin";
            signs.fixing |= is_one(&list.fixing);
            signs.thiocyanate |= is_one(&list.thiocyanates);
            signs.formaldehyde |= is_one(&list.formaldehydes);
            signs.any_agent |= ingredient.form.parent.roles.contains(&Role::DevelopingAgent);
            if is_one(&list.sulfites) {
                let pure = ingredient.form.product_g_per_mol().unwrap_or(SODIUM_SULFITE_G_PER_MOL);
                signs.sulfite_g += grams / pure * SODIUM_SULFITE_G_PER_MOL;
            }
            if is_one(&list.p_aminophenols) {
                signs.p_aminophenol_g += grams;
            }
        }
        signs
    }

    /// Both together: what either holds; the richer in sulfite counts.
    fn and(self, other: Self) -> Self {
        Self {
            has_solvent: self.has_solvent || other.has_solvent,
            hydroxide: self.hydroxide || other.hydroxide,
            carbonate: self.carbonate || other.carbonate,
            alkali: self.alkali || other.alkali,
            amidol: self.amidol || other.amidol,
            pyro: self.pyro || other.pyro,
            ascorbate: self.ascorbate || other.ascorbate,
            p_phenylenediamine: self.p_phenylenediamine || other.p_phenylenediamine,
            glycin: self.glycin || other.glycin,
            any_agent: self.any_agent || other.any_agent,
            fixing: self.fixing || other.fixing,
            thiocyanate: self.thiocyanate || other.thiocyanate,
            formaldehyde: self.formaldehyde || other.formaldehyde,
            sulfite_g: self.sulfite_g.max(other.sulfite_g),
            p_aminophenol_g: self.p_aminophenol_g.max(other.p_aminophenol_g),
        }
    }
}

/// Whether it is used as two or more baths one after the other.
fn is_two_bath(formula: &Formula) -> bool {
    !formula.uses.is_empty() && formula.uses.iter().all(|listed_use| listed_use.baths.len() > 1)
}

/// Whether a film developer has no rule at all: a monobath, a lith developer, the first developer of a reversal.
fn has_no_rule(whole: Signs) -> bool {
    whole.fixing || whole.formaldehyde || whole.thiocyanate && (whole.carbonate || whole.hydroxide)
}

/// The classes that a film developer fits, the first of them naming its rule; none of another kind, and none where there is no rule.
pub fn classes<'r>(formula: &Formula, rules: &'r ClassRules) -> Vec<&'r DeveloperRule> {
    if formula.kind != Kind::FilmDeveloper {
        return Vec::new();
    }
    let parts: Vec<Signs> = formula.parts.iter().map(|part| Signs::of(part, rules)).collect();
    let whole = parts.iter().copied().fold(Signs::default(), Signs::and);
    if has_no_rule(whole) {
        return Vec::new();
    }
    let mut ids = Vec::new();
    let any = |test: &dyn Fn(&Signs) -> bool| parts.iter().any(test);
    if any(&|part| part.has_solvent && part.any_agent) {
        ids.push("no-water");
    }
    if is_two_bath(formula) {
        ids.push("two-bath");
    }
    let concentrate =
        |part: &Signs| part.hydroxide && part.p_aminophenol_g >= rules.tests.p_aminophenol_g_per_litre;
    let pyro = |part: &Signs| part.pyro && !part.alkali && !part.has_solvent;
    shared(&mut ids, whole, any(&concentrate), any(&pyro), rules);
    named(&ids, rules)
}

/// The classes that the bottle of one part fits, which decide how long it keeps.
pub fn classes_of_part<'r>(formula: &Formula, part: &Part, rules: &'r ClassRules) -> Vec<&'r DeveloperRule> {
    if formula.parts.len() < 2 {
        return classes(formula, rules);
    }
    if classes(formula, rules).is_empty() {
        return Vec::new();
    }
    let signs = Signs::of(part, rules);
    let has_hydroxide_somewhere = formula.parts.iter().any(|other| Signs::of(other, rules).hydroxide);
    let mut ids = Vec::new();
    if signs.has_solvent && signs.any_agent {
        ids.push("no-water");
    }
    if is_two_bath(formula) {
        ids.push("two-bath");
    }
    if !signs.any_agent {
        // Alkali and water alone: only a hydroxide part has its rule.
        if signs.hydroxide && ids.is_empty() {
            ids.push("hydroxide");
        }
        return named(&ids, rules);
    }
    let seen = Signs { hydroxide: has_hydroxide_somewhere, ..signs };
    let concentrate = signs.hydroxide && signs.p_aminophenol_g >= rules.tests.p_aminophenol_g_per_litre;
    shared(&mut ids, seen, concentrate, signs.pyro && !signs.alkali && !signs.has_solvent, rules);
    named(&ids, rules)
}

/// The classes from the third on; the last ones only where no other fits.
fn shared(
    ids: &mut Vec<&'static str>,
    signs: Signs,
    is_concentrate: bool,
    is_pyro: bool,
    rules: &ClassRules,
) {
    let is_rich = signs.sulfite_g >= rules.tests.sulfite_g_per_litre;
    if ids.first() == Some(&"no-water") {
        return;
    }
    if signs.amidol {
        ids.push("amidol");
    }
    if is_concentrate {
        ids.push("p-aminophenol-concentrate");
    } else if signs.hydroxide {
        ids.push("hydroxide");
    }
    if is_pyro {
        ids.push("pyro");
    }
    if signs.ascorbate {
        ids.push(if is_rich { "ascorbate" } else { "ascorbate-little-sulfite" });
    }
    if signs.p_phenylenediamine {
        ids.push("p-phenylenediamine");
    }
    if signs.glycin && is_rich {
        ids.push("glycin");
    }
    if !ids.is_empty() {
        return;
    }
    ids.push(match (is_rich && signs.any_agent, signs.carbonate) {
        (true, false) => "sulfite",
        (true, true) => "sulfite-carbonate",
        (false, _) => "other",
    });
}

fn named<'r>(ids: &[&str], rules: &'r ClassRules) -> Vec<&'r DeveloperRule> {
    ids.iter().filter_map(|id| rules.developer(id)).collect()
}

/// The class of a fixer by its fixing agent.
pub fn fixer_class<'r>(formula: &Formula, rules: &'r ClassRules) -> Option<&'r FixerClass> {
    if formula.kind != Kind::Fixer {
        return None;
    }
    let has = |id: &str| formula.ingredients().any(|ingredient| ingredient.form.parent.id == id);
    // Sodium thiosulfate with ammonium chloride is the rapid kind as well.
    let is_rapid = has("ammonium-thiosulfate") || has("ammonium-chloride");
    let id = if is_rapid {
        "rapid"
    } else if has("sodium-thiosulfate") {
        "plain"
    } else {
        return None;
    };
    rules.fixer_classes.iter().find(|class| class.id == id)
}

/// The class of a paper developer, a toner, or a stop bath of another acid than acetic, by what it holds.
pub fn sheet_class<'r>(formula: &Formula, rules: &'r ClassRules) -> Option<&'r SheetRule> {
    let list = match formula.kind {
        Kind::PaperDeveloper => &rules.paper_developers,
        Kind::Toner => &rules.toners,
        Kind::StopBath => &rules.stops,
        _ => return None,
    };
    let has =
        |ids: &[String]| formula.ingredients().any(|ingredient| ids.contains(&ingredient.form.parent.id));
    list.iter().find(|rule| has(&rule.holds) && (rule.needs.is_empty() || has(&rule.needs)))
}

/// Acetic acid in a litre of a stop bath, mol.
pub fn acetic_mol_per_litre(formula: &Formula) -> Option<f64> {
    if formula.kind != Kind::StopBath {
        return None;
    }
    let acids: Vec<_> = formula
        .ingredients()
        .filter(|ingredient| ingredient.form.parent.roles.contains(&Role::Acid))
        .collect();
    if acids.is_empty() || acids.iter().any(|acid| acid.form.parent.id != "acetic-acid") {
        return None;
    }
    acids
        .iter()
        .map(|acid| Some(acid.grams_per_litre()? / acid.form.product_g_per_mol()?))
        .sum::<Option<f64>>()
}
