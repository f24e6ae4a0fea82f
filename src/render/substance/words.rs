//! What is known of a chemical, in words.

use crate::quantity::rounding::{show_decimals, show_short, show_significant};
use crate::render::substance::HazardBody;
use crate::render::{Column, Document};
use crate::substance::{Form, State};

/// The card of a chemical: what it is, its figures, its hazards as weighed, whence each; `cite` tells the source of a key.
pub(crate) fn substance_document(
    form: &Form,
    solubility_20c: Option<f64>,
    hazards: &[HazardBody],
    cite: &dyn Fn(&str) -> String,
) -> Document {
    let mut card = Document::new();
    card.title(&form.name);
    card.facts(identity(form));
    card.heading("Properties");
    card.facts(properties(form, solubility_20c));
    if form.solubility.iter().any(|curve| curve.primary) {
        let rows = form.primary_solubility().map_or_else(Vec::new, |curve| {
            curve
                .points
                .iter()
                .map(|(celsius, grams)| {
                    vec![format!("{} °C", show_short(*celsius, 1)), format!("{} g", show_significant(*grams))]
                })
                .collect()
        });
        let basis = form.primary_solubility().map_or("", |curve| match curve.basis {
            crate::substance::SolubilityBasis::AsWeighed => "dissolves in 100 g of water",
            crate::substance::SolubilityBasis::Anhydrous => "dissolves in 100 g of water, counted anhydrous",
        });
        card.table(vec![Column::right("at"), Column::right(basis)], rows);
    }
    card.heading("Hazards as weighed");
    if form.hazards.is_unknown() {
        card.paragraph("hazard not known: treat as harmful");
    } else if hazards.is_empty() {
        card.paragraph("not classified as hazardous, as its source says; handle it as any chemical");
    }
    if let Some(signal) = form.hazards.signal {
        card.paragraph(format!("Signal word: {} ({})", signal.word(), form.hazards.status.word()));
    }
    card.list(hazards.iter().map(|hazard| format!("{} ({})", hazard.text, hazard.code)).collect());
    let mut notes = vec![("hazard source".to_owned(), cite(&form.hazards.source))];
    if let Some(remark) = &form.hazards.remark {
        notes.push(("remark".to_owned(), remark.clone()));
    }
    card.facts(notes);
    if let Some(handling) = &form.handling {
        card.heading("Handling");
        card.paragraph(handling);
    }
    if let Some(note) = &form.parent.note {
        card.heading("Mind");
        card.paragraph(note);
    }
    card.heading("Sources of the figures");
    card.list(source_keys(form).iter().map(|key| format!("{key}: {}", cite(key))).collect());
    card.paragraph("The label and the safety sheet of the actual jar come first; local rules and licensed practice decide.");
    card
}

fn identity(form: &Form) -> Vec<(String, String)> {
    let mut facts = vec![("id".to_owned(), form.id.clone())];
    let mut push = |label: &str, value: Option<String>| {
        if let Some(value) = value.filter(|value| !value.is_empty()) {
            facts.push((label.to_owned(), value));
        }
    };
    push("systematic name", form.systematic.clone());
    let names: Vec<&str> = form.synonyms.iter().chain(&form.parent.synonyms).map(String::as_str).collect();
    push("also called", Some(names.join(", ")));
    push("CAS number", form.cas.clone());
    push("formula", form.chemical_formula.clone());
    push("form of", (form.parent.form_count > 1).then(|| form.parent.id.clone()));
    let roles: Vec<&str> = form.parent.roles.iter().map(|role| role.word()).collect();
    push("role", Some(roles.join(", ")));
    facts
}

fn properties(form: &Form, solubility_20c: Option<f64>) -> Vec<(String, String)> {
    let not_known = || crate::doubt::NOT_KNOWN.to_owned();
    let mut facts = vec![(
        "molar mass".to_owned(),
        form.molar_mass_g_per_mol.map_or_else(not_known, |mass| format!("{} g/mol", show_decimals(mass, 2))),
    )];
    if form.crystal_water > 0.0 {
        facts.push(("crystal water".to_owned(), format!("{} H2O", show_short(form.crystal_water, 2))));
    }
    if let Some(assay) = form.assay_percent {
        facts.push((
            "strength on sale".to_owned(),
            format!(
                "{} % by mass [{}]",
                show_short(assay, 2),
                form.assay_source.as_deref().unwrap_or("no source")
            ),
        ));
    }
    if let Some((low, high)) = form.assay_typical {
        facts.push((
            "usual assay".to_owned(),
            format!("{} to {} %: see the jar", show_short(low, 1), show_short(high, 1)),
        ));
    }
    let density = form.density_g_per_ml.map(|density| {
        format!("{} g/mL [{}]", show_short(density, 4), form.density_source.as_deref().unwrap_or("no source"))
    });
    if density.is_some() || form.state != State::Solid {
        facts.push(("density".to_owned(), density.unwrap_or_else(not_known)));
    }
    facts.push((
        "solubility at 20 °C".to_owned(),
        solubility_20c
            .map_or_else(not_known, |grams| format!("{} g in 100 g of water", show_significant(grams))),
    ));
    facts.push((
        "heat of solution".to_owned(),
        form.heat_of_solution.as_ref().map_or_else(not_known, |heat| {
            let words = if heat.kj_per_mol > 0.0 { "cools" } else { "warms" };
            format!("{} kJ/mol ({words} the water) [{}]", show_short(heat.kj_per_mol, 1), heat.source)
        }),
    ));
    for constant in &form.acid_constants {
        facts.push((
            format!("pKa {}", constant.step),
            format!("{} [{}]", show_short(constant.pka, 2), constant.source),
        ));
    }
    facts
}

/// Keys of all sources behind the figures, each once, in order.
fn source_keys(form: &Form) -> Vec<String> {
    let mut keys: Vec<&String> = Vec::new();
    keys.extend(form.assay_source.iter().chain(&form.density_source));
    keys.extend(form.solubility.iter().map(|curve| &curve.source));
    keys.extend(form.acid_constants.iter().map(|constant| &constant.source));
    keys.extend(form.heat_of_solution.iter().map(|heat| &heat.source));
    let mut unique: Vec<String> = keys.into_iter().cloned().collect();
    unique.sort();
    unique.dedup();
    unique
}
