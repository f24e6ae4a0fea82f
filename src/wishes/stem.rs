//! Words by their stems, so that sharp, sharper and sharpness are one wish.

/// Endings that do not change what is wished, longest first. Judgement, no source.
const ENDINGS: &[&str] =
    &["nesses", "ness", "iest", "ings", "ing", "ier", "est", "ers", "er", "ed", "es", "ly", "y", "s", "e"];
/// Fewest letters that a stem keeps.
const SHORTEST: usize = 3;

/// Names of baths that are no forms of another word: a toner is no tone.
const KEPT: &[&str] = &["toner"];

/// The stem of a word in lower case; a doubled last letter is single.
pub(super) fn stem(word: &str) -> String {
    if let Some(kept) = KEPT.iter().find(|own| word == **own || word.strip_suffix('s') == Some(**own)) {
        return (*kept).to_owned();
    }
    let mut rest = word;
    for _ in 0..2 {
        let shorter = ENDINGS
            .iter()
            .filter_map(|ending| rest.strip_suffix(ending))
            .find(|stem| stem.chars().count() >= SHORTEST);
        match shorter {
            Some(shorter) => rest = shorter,
            None => break,
        }
    }
    let mut letters: Vec<char> = rest.chars().collect();
    if let [.., last_but_one, last] = letters.as_slice()
        && last == last_but_one
        && letters.len() > SHORTEST
    {
        letters.pop();
    }
    letters.into_iter().collect()
}

/// The words of a text in lower case.
pub(super) fn words(text: &str) -> Vec<String> {
    text.to_lowercase()
        .split(|letter: char| !(letter.is_alphanumeric() || letter == '\''))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forms_of_a_word_share_a_stem_and_other_words_do_not() {
        for family in [
            &["sharp", "sharper", "sharpest", "sharpness"][..],
            &["fine", "finer", "finest"],
            &["soft", "softer", "softly"],
            &["keep", "keeps", "keeping"],
            &["push", "pushing", "pushed"],
            &["beginner", "beginners"],
            &["highlight", "highlights"],
            &["compensate", "compensating"],
        ] {
            let first = stem(family[0]);
            for other in family {
                assert_eq!(stem(other), first, "{other}");
            }
        }
        assert_eq!(stem("toners"), stem("toner"));
        assert_ne!(stem("toner"), stem("tone"));
        assert_ne!(stem("sharper"), stem("hardener"));
        assert_ne!(stem("push"), stem("plus"));
        assert_ne!(stem("wetting"), stem("testing"));
    }
}
