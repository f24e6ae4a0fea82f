//! "Did you mean": the nearest of some names to a mistyped one. Only ever suggested, never acted on.

/// Smallest likeness at which a suggestion helps more than it misleads.
const LIKENESS: f64 = 0.75;

/// The name most like `typed`, or none that is near enough; the first of equals wins.
pub(crate) fn nearest<'a>(typed: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let mut best: Option<(f64, &str)> = None;
    for name in names {
        let likeness = likeness(typed, name);
        if likeness >= LIKENESS && best.is_none_or(|(so_far, _)| likeness > so_far) {
            best = Some((likeness, name));
        }
    }
    best.map(|(_, name)| name)
}

/// Up to `count` names most like `typed`, best first, ties by name.
pub(crate) fn nearest_few<'a>(
    typed: &str,
    names: impl IntoIterator<Item = &'a str>,
    count: usize,
) -> Vec<&'a str> {
    let mut candidates: Vec<(f64, &str)> = names
        .into_iter()
        .map(|name| (likeness(typed, name), name))
        .filter(|(likeness, _)| *likeness >= LIKENESS)
        .collect();
    candidates.sort_by(|left, right| right.0.total_cmp(&left.0).then(left.1.cmp(right.1)));
    candidates.dedup_by(|left, right| left.1 == right.1);
    candidates.into_iter().take(count).map(|(_, name)| name).collect()
}

/// Smallest likeness at which a word can be a slip of the finger for another: one letter in five.
const SLIP: f64 = 0.8;

/// The word that `typed` is a slip of the finger for; unlike [`nearest`], letters in the same order are not enough.
pub(crate) fn slip<'a>(typed: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed = plain(typed);
    if typed.len() > 120 {
        return None;
    }
    let mut best: Option<(f64, &str)> = None;
    for name in names {
        let likeness = strsim::normalized_damerau_levenshtein(&typed, &plain(name));
        if likeness >= SLIP && best.is_none_or(|(so_far, _)| likeness > so_far) {
            best = Some((likeness, name));
        }
    }
    best.map(|(_, name)| name)
}

/// Lower case, a hyphen for spaces of any kind and number, no commas: how names are compared.
pub(crate) fn plain(text: &str) -> String {
    let text = text.to_lowercase().replace(',', "").replace('_', " ");
    text.split_whitespace().collect::<Vec<_>>().join("-")
}

/// Likeness from 0 to 1, ignoring case, underscores and spaces.
fn likeness(typed: &str, name: &str) -> f64 {
    // Comparing long names costs the square of their length; nobody mistypes a name this long.
    if typed.len() > 120 || name.len() > 120 {
        return 0.0;
    }
    let (typed, name) = (plain(typed), plain(name));
    strsim::jaro(&typed, &name).max(strsim::normalized_damerau_levenshtein(&typed, &name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_finger_is_found_and_a_different_word_is_not() {
        let names = ["hydroquinone", "metol", "sodium-sulfite-anhydrous"];
        assert_eq!(nearest("hydroqinone", names), Some("hydroquinone"));
        assert_eq!(nearest("Sodium Sulfite anhydrous", names), Some("sodium-sulfite-anhydrous"));
        assert_eq!(nearest("borax", names), None);
    }

    #[test]
    fn another_word_of_like_sound_is_no_slip() {
        assert_eq!(slip("fixr", ["fixer"]), Some("fixer"));
        for (typed, other) in
            [("sharper", "hardener"), ("push", "plus"), ("wetting", "testing"), ("rinse", "prints")]
        {
            assert_eq!(slip(typed, [other]), None, "{typed}");
        }
    }
}
