//! What a formula's own card says for a wish, and by which words it is called.

use super::stem::words;
use crate::formula::Formula;

/// Words that turn what follows them within a few words into its opposite.
const DENIALS: &[&str] = &[
    "no", "not", "non", "without", "less", "neither", "nor", "never", "hardly", "little", "loses", "costs",
    "lost",
];
/// How many words after a denial still belong to it. Judgement, no source.
const DENIED_WORDS: usize = 3;
/// Beginnings of words that make a sentence a caution, which never speaks for a formula.
const CAUTIONS: &[&str] =
    &["sensitis", "sensitiz", "toxic", "poison", "carcinogen", "burn", "danger", "harm", "beware", "suspect"];

/// Whether the id, title or summary say one of `sayings`: neither denied nor in a caution. A saying ends open: `stain` is in `staining`.
pub(super) fn says(formula: &Formula, sayings: &[String]) -> bool {
    let texts = [formula.id.as_str(), &formula.title, &formula.summary];
    let sentences: Vec<Vec<String>> =
        texts.iter().flat_map(|text| text.split(['.', ';', ':'])).map(words).collect();
    sentences.iter().filter(|sentence| !is_caution(sentence)).any(|sentence| {
        sayings.iter().any(|saying| {
            let saying = words(saying);
            (0..sentence.len()).any(|at| stands_at(sentence, at, &saying) && !is_denied(sentence, at))
        })
    })
}

fn is_caution(sentence: &[String]) -> bool {
    sentence.iter().any(|word| CAUTIONS.iter().any(|own| word.starts_with(own)))
}

fn stands_at(sentence: &[String], at: usize, saying: &[String]) -> bool {
    let Some((last, firsts)) = saying.split_last() else { return false };
    let whole = firsts.iter().enumerate().all(|(place, own)| sentence.get(at + place) == Some(own));
    whole && sentence.get(at + firsts.len()).is_some_and(|word| word.starts_with(last.as_str()))
}

fn is_denied(sentence: &[String], at: usize) -> bool {
    let before = sentence.get(at.saturating_sub(DENIED_WORDS)..at).unwrap_or_default();
    before.iter().any(|word| DENIALS.contains(&word.as_str()))
}

/// Whether a formula is called by a word: in its id, title, other names, or the names of its chemicals; its prose does not count.
pub(crate) fn is_called(formula: &Formula, word: &str) -> bool {
    names(formula)
        .iter()
        .any(|own| own == word || own.strip_suffix('s') == Some(word) || word.strip_suffix('s') == Some(own))
}

/// The words that a formula is called by.
pub(crate) fn names(formula: &Formula) -> Vec<String> {
    let mut all = words(&formula.id);
    all.extend(words(&formula.title));
    all.extend(formula.aliases.iter().flat_map(|alias| words(alias)));
    for ingredient in formula.ingredients() {
        all.extend(words(&ingredient.form.id));
        all.extend(words(&ingredient.form.parent.name));
    }
    all
}
