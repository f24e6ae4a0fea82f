//! Temperature: one law, and the conventions in which its coefficient is printed.
//!
//! Model: a constant ratio per degree, `t(T) = t₂₀ · e^(−k (T − 20 °C))`, k in 1/°C, so that the factor for 10 °C is `e^(10 k)`.
//! Arrhenius' law, `t(T) = t₂₀ · e^((Eₐ/R)(1/T − 1/293.15 K))`, differs from it by at most 0.6 % between 16 and 24 °C for factors up
//! to 2.8, far less than coefficients are known to; the simpler law is used.
//! Neglected: k itself rises towards the cold where hydroquinone loses its power.

use std::str::FromStr;

use serde::Deserialize;

use super::TimingError;

/// How a source prints a temperature coefficient.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Convention {
    /// Ratio of times 10 °C apart.
    #[serde(rename = "factor-for-10-degrees")]
    FactorForTenDegrees,
    /// Ratio of times 7 °C apart.
    #[serde(rename = "factor-for-7-degrees")]
    FactorForSevenDegrees,
    /// Ratio of times 1 °C apart.
    FactorPerDegree,
    /// Decadic logarithm of the ratio for 10 °C.
    #[serde(rename = "decadic-log-for-10-degrees")]
    DecadicLogForTenDegrees,
    /// Decadic logarithm of the ratio for 1 °C.
    DecadicLogPerDegree,
}

impl Convention {
    /// The law's k, 1/°C: `k = ln(c₁₀)/10 = ln(c₇)/7 = ln(c₁) = ln(10)·l₁₀/10 = ln(10)·l₁`.
    pub fn ln_per_degree(self, value: f64) -> f64 {
        match self {
            Self::FactorForTenDegrees => value.ln() / 10.0,
            Self::FactorForSevenDegrees => value.ln() / 7.0,
            Self::FactorPerDegree => value.ln(),
            Self::DecadicLogForTenDegrees => value * std::f64::consts::LN_10 / 10.0,
            Self::DecadicLogPerDegree => value * std::f64::consts::LN_10,
        }
    }
}

/// A temperature coefficient as a person types it: `2.5/10C`, `1.9/7C`, `1.096/C`, `0.398log/10C`, `0.0398log/C`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TypedCoefficient {
    ln_per_degree: f64,
}

impl TypedCoefficient {
    /// The law's k, 1/°C.
    pub fn ln_per_degree(self) -> f64 {
        self.ln_per_degree
    }
}

impl FromStr for TypedCoefficient {
    type Err = TimingError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let wrong = || TimingError::Coefficient { text: text.trim().to_owned() };
        let compact: String = text.chars().filter(|character| !character.is_whitespace()).collect();
        let (value, span) = compact.split_once('/').ok_or_else(wrong)?;
        let (value, decadic) = match value.strip_suffix("log") {
            Some(number) => (number, true),
            None => (value, false),
        };
        let value = plain_number(value).ok_or_else(wrong)?;
        let (degrees, per) = match span
            .trim_end_matches(|character: char| character.is_alphabetic() || character == '°')
        {
            "" => (1.0, span),
            number => (plain_number(number).ok_or_else(wrong)?, span.get(number.len()..).unwrap_or_default()),
        };
        let celsius = match per.trim_start_matches('°') {
            "C" | "c" => degrees,
            "F" | "f" => degrees * 5.0 / 9.0,
            _ => return Err(wrong()),
        };
        let ln_per_degree = if decadic { value * std::f64::consts::LN_10 } else { value.ln() } / celsius;
        let factor_for_ten = (10.0 * ln_per_degree).exp();
        // Below 1 a warm bath would be slower; beyond 10 nothing was ever measured.
        if !(1.0..=10.0).contains(&factor_for_ten) {
            return Err(TimingError::CoefficientRange { text: text.trim().to_owned(), factor_for_ten });
        }
        Ok(Self { ln_per_degree })
    }
}

/// A plain decimal number above zero.
fn plain_number(text: &str) -> Option<f64> {
    let plain = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    text.parse::<f64>().ok().filter(|value| plain && value.is_finite() && *value > 0.0)
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    #[test]
    fn all_conventions_lead_to_the_same_coefficient() {
        // Q10 = c7^(10/7) = 10^(log for 10 °C).
        let k = 2.5_f64.ln() / 10.0;
        for (convention, value) in [
            (Convention::FactorForTenDegrees, 2.5),
            (Convention::FactorForSevenDegrees, 2.5_f64.powf(0.7)),
            (Convention::FactorPerDegree, 2.5_f64.powf(0.1)),
            (Convention::DecadicLogForTenDegrees, 2.5_f64.log10()),
            (Convention::DecadicLogPerDegree, 2.5_f64.log10() / 10.0),
        ] {
            assert_abs_diff_eq!(convention.ln_per_degree(value), k, epsilon = 1e-12);
        }
    }

    #[test]
    fn a_coefficient_is_read_in_every_convention_and_never_bare() {
        for text in [
            "2.5/10C",
            "2.5 / 10 °C",
            "1.8993/7C",
            "1.09596/C",
            "1.09596/1C",
            "0.39794log/10C",
            "0.039794log/C",
            "2.5/18F",
        ] {
            let read: TypedCoefficient = text.parse().unwrap();
            assert_abs_diff_eq!(read.ln_per_degree(), 2.5_f64.ln() / 10.0, epsilon = 1e-4);
        }
        for text in
            ["2.5", "", "2.5/", "/10C", "2,5/10C", "2.5/10K", "nan/10C", "1e400/10C", "-2/10C", "2.5/0C"]
        {
            assert!(text.parse::<TypedCoefficient>().is_err(), "{text}");
        }
        assert!(matches!("0.5/10C".parse::<TypedCoefficient>(), Err(TimingError::CoefficientRange { .. })));
        assert!(matches!("2.5/C".parse::<TypedCoefficient>(), Err(TimingError::CoefficientRange { .. })));
    }
}
