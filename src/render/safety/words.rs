//! Cautions, boxes, hazards of powders and baths as pieces of a document.

use crate::mixing::Objection;
use crate::render::{CautionBlock, Document, capital};
use crate::safety::{BathHazards, Caution, General, PowderHazard, Refusal, Severity, SpecialBox, worn_words};

/// The word before a caution.
pub(crate) fn severity_word(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "NOTE",
        Severity::Warning => "CAUTION",
        Severity::Danger => "DANGER",
    }
}

/// A caution: plain words first, the standard statement after.
pub(crate) fn caution_block(caution: &Caution) -> CautionBlock {
    let mut lines = vec![caution.text.clone()];
    lines.extend(caution.statement.clone());
    CautionBlock { word: severity_word(caution.severity).to_owned(), lines }
}

/// A caution in words of its own.
pub(crate) fn caution_words(severity: Severity, text: &str) -> CautionBlock {
    CautionBlock { word: severity_word(severity).to_owned(), lines: vec![text.to_owned()] }
}

/// A full-width box.
pub(crate) fn special_block(special: &SpecialBox) -> CautionBlock {
    let mut lines = vec![special.title.clone(), special.text.clone()];
    lines.extend(special.safer.as_ref().map(|safer| match &special.safer_formula {
        Some(id) => format!("Safer: {safer}. See {id}."),
        None => format!("Safer: {safer}."),
    }));
    lines.push(format!("Waste. {}", special.waste));
    CautionBlock { word: "DANGER".to_owned(), lines }
}

/// Why something must not be mixed.
pub(crate) fn refusal_block(refusal: &Refusal) -> CautionBlock {
    let mut lines = vec![refusal.text.clone(), refusal.fix().to_owned()];
    lines.extend(refusal.statement.clone());
    CautionBlock { word: "REFUSED".to_owned(), lines }
}

/// Why something must not be mixed, or not so.
pub(crate) fn objection_block(objection: &Objection) -> CautionBlock {
    let lines = vec![capital(&objection.to_string()), objection.fix.clone()];
    CautionBlock { word: "REFUSED".to_owned(), lines }
}

/// One line a substance: name, signal word, plain words, and the codes: `metol: Warning. Harms you if swallowed. [H302]`.
pub(crate) fn powder_line(hazard: &PowderHazard) -> String {
    let codes: Vec<&str> = hazard.statements.iter().map(|(code, _)| code.as_str()).collect();
    let codes = if codes.is_empty() { String::new() } else { format!(" [{}]", codes.join(", ")) };
    format!("{}: {}{codes}", hazard.name, hazard.line())
}

/// One fact a substance: signal word and plain words, then the standard statements with their codes.
pub(crate) fn powder_facts(powders: &[PowderHazard]) -> Vec<(String, String)> {
    powders
        .iter()
        .map(|hazard| {
            let standard = hazard.with_codes().join(" ");
            let text =
                if standard.is_empty() { hazard.line() } else { format!("{} [{standard}]", hazard.line()) };
            (hazard.name.clone(), text)
        })
        .collect()
}

/// A bath's own hazards in one paragraph: signal word, plain words, codes, what is not computed and not known.
pub(crate) fn bath_words(bath: &BathHazards) -> String {
    let mut words: Vec<String> =
        bath.signal.map(|signal| format!("{}.", signal.word())).into_iter().collect();
    if bath.statements.is_empty() {
        words.push(capital(&format!("{}.", bath.summary())));
    } else {
        let codes: Vec<&str> = bath.statements.iter().map(|statement| statement.code.as_str()).collect();
        words.extend(bath.statements.iter().map(|statement| statement.plain.clone()));
        words.push(format!("[{}]", codes.join(", ")));
    }
    if !bath.not_computed.is_empty() {
        let open: Vec<String> = bath.not_computed.iter().map(ToString::to_string).collect();
        words.push(format!("Not computed: {}.", open.join("; ")));
    }
    if !bath.unknown.is_empty() {
        words.push(format!("Hazard not known, treat as harmful: {}.", bath.unknown.join(", ")));
    }
    words.join(" ")
}

/// What to wear; ventilation is told apart.
pub(in crate::render) fn wear_words(general: &General) -> String {
    worn_words(&general.wear)
}

/// What to wear, air, waste, after exposure, and who decides.
pub(crate) fn general(document: &mut Document, general: &General) {
    let mut facts = vec![("wear".to_owned(), wear_words(general))];
    if let Some(ventilation) = general.ventilation() {
        facts.push(("air".to_owned(), ventilation));
    }
    document.heading("Wear and air");
    document.facts(facts);
    if !general.waste.is_empty() {
        document.heading("What is left");
        document.list(general.waste.iter().map(|line| line.text.clone()).collect());
    }
    document.heading("If something goes wrong");
    document.list(general.exposure.clone());
    document.paragraph(&general.closing);
}
