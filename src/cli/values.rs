//! Values typed on the command line or in a shelf's file, each with the ways to write it where it cannot be read.

use std::sync::Arc;

use super::context::Context;
use super::error::CliError;
use crate::formula::{Chemicals as _, Formula};
use crate::journal::Date;
use crate::quantity::{Mass, MixRatio, QuantityError, Temperature, Volume, rounding};
use crate::scale::Have;
use crate::substance::Form;

/// `FORM` or `FORM=AMOUNT`, of `--have` and of the shelf file.
pub(super) fn on_shelf(context: &Context<'_, '_>, argument: &str, text: &str) -> Result<Have, CliError> {
    let (name, amount) = match text.split_once('=') {
        Some((name, amount)) => (name, Some(mass(argument, amount)?)),
        None => (text, None),
    };
    Ok(Have { form: form(context, name)?, amount, is_limit: false })
}

/// A form by its id.
pub(super) fn form(context: &Context<'_, '_>, name: &str) -> Result<Arc<Form>, CliError> {
    Ok(context.library.form(name.trim())?)
}

/// A mass argument, above zero.
pub(super) fn mass(argument: &str, text: &str) -> Result<Mass, CliError> {
    let fix = "write the mass with its unit: 2.5g, 500mg, 20grain";
    let mass: Mass = text.parse().map_err(|error| CliError::argument(argument, error, fix))?;
    if mass.as_g() == 0.0 {
        let error = QuantityError::Zero { kind: "mass", text: text.trim().to_owned() };
        return Err(CliError::argument(argument, error, "leave out what is not there"));
    }
    Ok(mass)
}

pub(super) fn volume(argument: &str, text: &str) -> Result<Volume, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(argument, error, "write the volume with its unit: 500ml, 1L, 1us-qt")
    })
}

/// A bare number, of a quantity that has no unit or one of its own.
pub(super) fn number(argument: &str, text: &str, fix: &str) -> Result<f64, CliError> {
    crate::quantity::parse_number(text).map_err(|error| CliError::argument(argument, error, fix))
}

pub(super) fn temperature(argument: &str, text: &str) -> Result<Temperature, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(argument, error, "write the temperature with its unit: 20C or 68F")
    })
}

/// A temperature argument, or another temperature in °C where none was typed.
pub(super) fn temperature_or(
    argument: &str,
    typed: Option<&str>,
    celsius: f64,
) -> Result<Temperature, CliError> {
    typed.map_or(Ok(Temperature::from_c(celsius)), |text| temperature(argument, text))
}

/// A dilution argument.
pub(super) fn ratio(argument: &str, text: &str) -> Result<MixRatio, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(
            argument,
            error,
            "write the parts with a plus sign, water last: 1+1, 1+1+8; or stock",
        )
    })
}

/// A dilution argument, or a use of the formula by the name or the phrase that its card prints: `one-shot`, `1 A + 1 B + 8 water`.
pub(super) fn ratio_of(argument: &str, text: &str, formula: &Formula) -> Result<MixRatio, CliError> {
    let Some(named_use) = formula.uses.iter().find(|listed_use| listed_use.is_called(text)) else {
        return ratio(argument, text).map_err(|error| {
            let names: Vec<&str> = formula.uses.iter().map(|listed_use| listed_use.name.as_str()).collect();
            // What begins with a letter is meant as a name.
            if names.is_empty() || text.trim().starts_with(|own: char| own.is_ascii_digit()) {
                return error;
            }
            let message = format!("`{}` is no use of {}", text.trim(), formula.id);
            CliError::argument(argument, message, format!("name one of its uses: {}", names.join(", ")))
        });
    };
    let [bath] = named_use.baths.as_slice() else {
        let message = format!("`{}` is several baths one after the other", named_use.name);
        return Err(CliError::argument(
            argument,
            message,
            "mix them one by one: write the parts, such as 1+1",
        ));
    };
    let names = formula.parts.iter().map(|part| part.name.as_deref().unwrap_or("stock"));
    let mut parts: Vec<String> = names
        .map(|name| {
            let share = bath.shares.iter().find(|(own, _)| own == name).map_or(0.0, |(_, share)| *share);
            rounding::show_short(share, 3)
        })
        .collect();
    if bath.water > 0.0 {
        parts.push(rounding::show_short(bath.water, 3));
    }
    match parts.as_slice() {
        [_] => ratio(argument, "stock"),
        parts => ratio(argument, &parts.join("+")),
    }
}

pub(super) fn date(argument: &str, text: &str) -> Result<Date, CliError> {
    text.parse().map_err(|error| CliError::argument(argument, error, "write it as 2026-11-25"))
}
