//! Strict decimal numbers as typed by a person: `.` as decimal mark, no thousands separators, finite.

use serde::Deserialize;

use super::QuantityError;

/// Largest magnitude that any typed number may have; beyond it is a slip of the finger.
const LARGEST: f64 = 1e9;

/// Largest figure in a file that is no amount: days, square centimetres, minutes.
const LARGEST_FIGURE: f64 = 1e7;

/// A figure of a file: finite, not negative, not absurd. A file that holds another is refused with its line.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[cfg_attr(test, schemars(inline, extend("minimum" = 0, "maximum" = 10_000_000)))]
#[serde(try_from = "f64")]
pub(crate) struct Figure(f64);

impl TryFrom<f64> for Figure {
    type Error = String;

    fn try_from(value: f64) -> Result<Self, Self::Error> {
        // A range holds no NaN.
        if (0.0..=LARGEST_FIGURE).contains(&value) {
            return Ok(Self(value + 0.0));
        }
        let shown = if value.abs() >= 1e7 { format!("{value:e}") } else { value.to_string() };
        Err(format!("the figure {shown} is not between 0 and ten million"))
    }
}

impl From<Figure> for f64 {
    fn from(figure: Figure) -> Self {
        figure.0
    }
}

/// Splits a text such as `2.5 g` into its number and what follows it, trimmed.
fn split_unit(text: &str) -> (&str, &str) {
    let trimmed = text.trim();
    let mut end = 0;
    let mut previous = ' ';
    for (index, character) in trimmed.char_indices() {
        let exponent = matches!(character, 'e' | 'E')
            && previous.is_ascii_digit()
            && trimmed.get(index + 1..).is_some_and(starts_exponent);
        let sign_of_exponent = matches!(character, '+' | '-') && matches!(previous, 'e' | 'E');
        let sign = matches!(character, '+' | '-') && index == 0;
        if character.is_ascii_digit()
            || matches!(character, '.' | ',')
            || sign
            || exponent
            || sign_of_exponent
        {
            previous = character;
            end = index + character.len_utf8();
        } else {
            break;
        }
    }
    let (number, unit) = trimmed.split_at(end);
    (number, unit.trim())
}

/// Reads a number and splits off what follows it; a text that does not begin with a number is refused whole.
pub(super) fn number_and_unit(text: &str) -> Result<(f64, &str), QuantityError> {
    let (number, unit) = split_unit(text);
    Ok((parse_number(if number.is_empty() { text } else { number })?, unit))
}

/// Whether a text after `e` looks like an exponent rather than a unit.
fn starts_exponent(rest: &str) -> bool {
    let digits = rest.strip_prefix(['+', '-']).unwrap_or(rest);
    digits.starts_with(|character: char| character.is_ascii_digit())
}

/// What a number with commas may mean: `1,000` a thousand or one, `1,5` one and a half.
fn without_comma(text: &str) -> String {
    let (thousands, decimal) = (text.replace(',', ""), text.replace(',', "."));
    let mut groups = text.split('.').next().unwrap_or_default().split(',');
    let first = groups.next().unwrap_or_default();
    let marks_thousands =
        (1..=3).contains(&first.len()) && first != "0" && groups.all(|group| group.len() == 3);
    match (marks_thousands, text.matches([',', '.']).count()) {
        (true, 1) => format!("{thousands} for thousands, or {decimal} where the comma is a decimal mark"),
        (true, _) => thousands,
        (false, 1) => decimal,
        (false, _) => "one number with one point".to_owned(),
    }
}

/// Reads a finite decimal number.
///
/// # Errors
/// A comma as decimal mark, `nan`, `inf`, an overflow such as `1e400`, or anything that is no number; each has its own message.
pub(crate) fn parse_number(text: &str) -> Result<f64, QuantityError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(QuantityError::Empty);
    }
    if text.contains(',') {
        return Err(QuantityError::Comma { text: text.to_owned(), suggestion: without_comma(text) });
    }
    let lower = text.to_ascii_lowercase();
    let word = lower.trim_start_matches(['+', '-']);
    if word.starts_with("nan") || word.starts_with("inf") {
        return Err(QuantityError::NotFinite { text: text.to_owned() });
    }
    let value: f64 = text.parse().map_err(|_| QuantityError::NotANumber { text: text.to_owned() })?;
    if !value.is_finite() || value.abs() > LARGEST {
        return Err(QuantityError::TooLarge { text: text.to_owned() });
    }
    Ok(value + 0.0)
}

/// Reads a decimal, a fraction `1/4` or a mixed number `1 1/2`, as old formularies print amounts.
///
/// # Errors
/// As [`parse_number`]; also a zero below the line.
pub(super) fn parse_fraction(text: &str) -> Result<f64, QuantityError> {
    let text = text.trim();
    let Some((above, below)) = text.split_once('/') else { return parse_number(text) };
    let (whole, above) = match above.trim().rsplit_once(' ') {
        Some((whole, above)) => (parse_number(whole)?, above),
        None => (0.0, above),
    };
    let (above, below) = (parse_number(above)?, parse_number(below)?);
    // `2 -1/4` is a slip, not one and three quarters.
    if below <= 0.0 || above < 0.0 {
        return Err(QuantityError::NotANumber { text: text.to_owned() });
    }
    Ok(whole + above / below)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_those_of_old_formularies() {
        for (text, value) in [("1/4", 0.25), ("1 1/2", 1.5), (" 3 / 8 ", 0.375), ("2.5", 2.5)] {
            assert_eq!(parse_fraction(text), Ok(value), "{text}");
        }
        for text in ["1/0", "2 -1/4", "2 1/-4", "1//4", "/4", "1/", "1,5/2"] {
            assert!(parse_fraction(text).is_err(), "{text}");
        }
    }
}
