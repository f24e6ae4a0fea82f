//! A composition as typed on the command line: `metol=2,sodium-sulfite-anhydrous=100,hydroquinone=5,borax-decahydrate=2`.
//!
//! Bare numbers are grams per litre here by definition; `2g` and, for liquids, `48ml` are taken too.

use thiserror::Error;

use super::{Composer, Composition};
use crate::formula::{Amount, FormError, MOST_PER_LITRE};
use crate::quantity::{Mass, QuantityError, Volume};
use crate::substance::State;
use crate::vessel::Content;

/// Most lines of a typed composition.
const MOST_LINES: usize = 40;

/// Why a typed composition cannot be read.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub(crate) enum TypedError {
    /// No `=` in a piece, or nothing around it.
    #[error("`{piece}` is not a chemical and its grams per litre")]
    NotALine {
        /// The piece between two commas.
        piece: String,
    },
    /// The chemical is not known, or its form matters and was not said.
    #[error(transparent)]
    Form(#[from] FormError),
    /// The amount is not a mass or volume.
    #[error("{chemical}: {source}")]
    Amount {
        chemical: String,
        /// What is wrong.
        source: Box<QuantityError>,
    },
    /// Zero, or more than a litre holds.
    #[error("{chemical}: {amount} per litre is not above 0 and at most {MOST_PER_LITRE}")]
    OutOfRange { chemical: String, amount: String },
    #[error("{chemical} is a solid, but its amount is in millilitres")]
    SolidInMillilitres { chemical: String },
    /// A form named twice.
    #[error("{chemical} stands twice")]
    Twice { chemical: String },
    /// Absurdly many lines.
    #[error("more than {MOST_LINES} chemicals")]
    TooMany,
}

impl TypedError {
    /// What to do about it.
    pub(crate) fn fix(&self) -> String {
        match self {
            Self::NotALine { .. } => {
                "write form=grams per litre, joined by commas: metol=2,sodium-sulfite-anhydrous=100"
                    .to_owned()
            }
            Self::Form(error) => error.fix(),
            Self::Amount { .. } => {
                "write grams per litre, such as 2 or 2g, or millilitres of a liquid, such as 48ml".to_owned()
            }
            Self::OutOfRange { .. } => "amounts are per litre of solution".to_owned(),
            Self::SolidInMillilitres { .. } => "write grams".to_owned(),
            Self::Twice { .. } => "write the whole amount once".to_owned(),
            Self::TooMany => "name the chemicals that matter".to_owned(),
        }
    }
}

/// Whether a text is meant as a composition rather than as the name of a formula.
pub(crate) fn looks_typed(text: &str) -> bool {
    text.contains('=')
}

/// Reads a typed composition.
///
/// # Errors
/// The first piece that cannot be read, with what to write instead.
pub(crate) fn parse(text: &str, composer: &Composer<'_>) -> Result<Composition, TypedError> {
    let mut lines: Vec<Content> = Vec::new();
    for piece in text.split(',').map(str::trim).filter(|piece| !piece.is_empty()) {
        if lines.len() == MOST_LINES {
            return Err(TypedError::TooMany);
        }
        let not_a_line = || TypedError::NotALine { piece: piece.to_owned() };
        let (chemical, amount) = piece.split_once('=').ok_or_else(not_a_line)?;
        let (chemical, amount) = (chemical.trim(), amount.trim());
        if chemical.is_empty() || amount.is_empty() {
            return Err(not_a_line());
        }
        let form = composer.library().form_by_name(chemical)?;
        let parsed = parse_amount(chemical, amount)?;
        if matches!(parsed, Amount::Millilitres(_)) && form.state == State::Solid {
            return Err(TypedError::SolidInMillilitres { chemical: form.id.clone() });
        }
        if lines.iter().any(|line| line.form.id == form.id) {
            return Err(TypedError::Twice { chemical: form.id.clone() });
        }
        lines.push(Content::of_amount(&form, parsed));
    }
    if lines.is_empty() {
        return Err(TypedError::NotALine { piece: text.trim().to_owned() });
    }
    Ok(composer.of_vessel("the composition typed".to_owned(), lines.into(), None))
}

fn parse_amount(chemical: &str, amount: &str) -> Result<Amount, TypedError> {
    let wrong = |source| TypedError::Amount { chemical: chemical.to_owned(), source: Box::new(source) };
    let bare =
        amount.chars().all(|character| character.is_ascii_digit() || matches!(character, '.' | '+' | '-'));
    let lower = amount.to_ascii_lowercase();
    let (value, parsed) = if lower.ends_with("ml") || lower.ends_with("cc") {
        let millilitres = amount.parse::<Volume>().map_err(wrong)?.as_ml();
        (millilitres, Amount::Millilitres(millilitres))
    } else {
        let text = if bare { format!("{amount}g") } else { amount.to_owned() };
        let grams = text.parse::<Mass>().map_err(wrong)?.as_g();
        (grams, Amount::Grams(grams))
    };
    if !(value > 0.0 && value <= MOST_PER_LITRE) {
        return Err(TypedError::OutOfRange { chemical: chemical.to_owned(), amount: amount.to_owned() });
    }
    Ok(parsed)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::library::Library;

    #[test]
    fn bare_numbers_are_grams_per_litre_and_units_are_taken() {
        let library = Library::shipped();
        let composer = Composer::new(&library);
        let composition = parse("metol=2, hydroquinone=5g,acetic-acid-28=48ml", &composer).unwrap();
        assert_eq!(composition.component("metol").unwrap().grams_per_litre, Some(2.0));
        assert_eq!(composition.component("hydroquinone").unwrap().grams_per_litre, Some(5.0));
        let acid = composition.component("acetic-acid").unwrap();
        assert_relative_eq!(acid.grams_per_litre.unwrap(), 48.0 * 1.036, max_relative = 1e-9);
    }

    #[test]
    fn what_cannot_be_read_is_told_with_its_remedy() {
        let library = Library::shipped();
        let composer = Composer::new(&library);
        for (text, words) in [
            ("metol", "not a chemical"),
            ("=2", "not a chemical"),
            ("metol=two", "metol:"),
            ("metol=2,metol=3", "twice"),
            ("metol=0", "not above 0"),
            ("metol=-2", "negative"),
            ("metol=2,5=1", "no substance"),
            ("metol=5ml", "solid"),
            ("sodium-sulfite=100", "several forms"),
            (",", "not a chemical"),
        ] {
            let error = parse(text, &composer).unwrap_err();
            assert!(error.to_string().contains(words), "{text}: {error}");
            assert!(!error.fix().is_empty(), "{text}");
        }
    }
}
