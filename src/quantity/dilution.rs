//! Dilution: `stock`, or parts by volume joined by plus signs (`1+3`, `1+1+8`).

use std::str::FromStr;

use super::number::parse_number;
use super::{QuantityError, rounding};

/// Smallest part that is still shown as something.
const LEAST_PART: f64 = 0.001;

/// Least share of a part in the whole: a tenth of a millilitre in a litre. Common practice, no source.
const LEAST_SHARE: f64 = 1e-4;

/// Parts by volume of several solutions and water, in the order written: `1+1+8`.
#[derive(Debug, Clone, PartialEq)]
pub struct MixRatio {
    parts: Vec<f64>,
}

impl MixRatio {
    /// The parts in the order written; `stock` is the single part 1.
    pub fn parts(&self) -> &[f64] {
        &self.parts
    }
}

impl FromStr for MixRatio {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let trimmed = text.trim();
        if trimmed.is_empty() {
            return Err(QuantityError::Empty);
        }
        if trimmed.eq_ignore_ascii_case("stock") {
            return Ok(Self { parts: vec![1.0] });
        }
        if let Some((left, right)) = trimmed.split_once(':') {
            return Err(colon(trimmed, left, right));
        }
        let pieces: Vec<&str> = trimmed.split('+').collect();
        if pieces.len() < 2 || pieces.len() > 9 {
            return Err(not_a_dilution(trimmed));
        }
        let mut parts = Vec::with_capacity(pieces.len());
        for piece in pieces {
            if piece.trim().is_empty() {
                return Err(not_a_dilution(trimmed));
            }
            let value = parse_number(piece)?;
            if value < 0.0 {
                return Err(QuantityError::Negative { kind: "dilution", text: trimmed.to_owned() });
            }
            if value > 0.0 && value < LEAST_PART {
                return Err(QuantityError::TooSmall { kind: "part of a dilution", text: trimmed.to_owned() });
            }
            parts.push(value);
        }
        if parts.first().is_none_or(|&first| first == 0.0) {
            return Err(not_a_dilution(trimmed));
        }
        let total: f64 = parts.iter().sum();
        if parts.iter().any(|&part| part > 0.0 && part / total < LEAST_SHARE) {
            return Err(QuantityError::TooSmall { kind: "part of a dilution", text: trimmed.to_owned() });
        }
        Ok(Self { parts })
    }
}

fn not_a_dilution(text: &str) -> QuantityError {
    QuantityError::NotADilution { text: text.trim().to_owned() }
}

/// The refusal of `1:4`, with both readings spelled out.
fn colon(text: &str, left: &str, right: &str) -> QuantityError {
    match (parse_number(left), parse_number(right)) {
        (Ok(stock), Ok(other)) if stock > 0.0 && other >= stock => {
            let show = |value: f64| rounding::show_short(value, 3);
            let word = if show(stock) == "1" { "part" } else { "parts" };
            QuantityError::ColonDilution {
                text: text.to_owned(),
                stock: format!("{} {word}", show(stock)),
                other: show(other),
                as_in: format!("{}+{}", show(stock), show(other - stock)),
                as_to: format!("{}+{}", show(stock), show(other)),
            }
        }
        _ => not_a_dilution(text),
    }
}
