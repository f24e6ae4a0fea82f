//! What several commands share of films, tanks and class rules.

use super::context::Context;
use super::error::CliError;
use super::values::volume;
use crate::bath::ClassRules;
use crate::bath::need::{CoveredTank, Need, need, smallest_tank};
use crate::formula::Formula;
use crate::quantity::{Films, Volume};

/// The table of class rules.
pub(super) fn class_rules(context: &Context<'_, '_>) -> Result<ClassRules, CliError> {
    ClassRules::parse(context.library.packed("class-rules.toml"), "tables/class-rules.toml")
        .map_err(|finding| CliError::Findings { findings: vec![finding] })
}

/// An amount of films.
pub(super) fn films(argument: &str, text: &str) -> Result<Films, CliError> {
    text.parse().map_err(|error| {
        CliError::argument(argument, error, "write 4films, 2x135, 2x135-36,1x120 or 6x4x5in")
    })
}

/// A bare number after `--films` means films of no named size; everything else carries its word.
pub(super) fn films_option(argument: &str, text: &str) -> Result<Films, CliError> {
    match text.trim().parse().ok().and_then(Films::of_units) {
        // 120, 127, 135 and 220 are sizes.
        Some(films) if text.trim().parse::<Films>().is_err() => Ok(films),
        _ => self::films(argument, text),
    }
}

/// A volume, or films in its place.
pub(super) enum WantedVolume {
    Volume(Volume),
    Films(Films),
}

pub(super) fn volume_or_films(argument: &str, text: &str) -> Result<WantedVolume, CliError> {
    if let Ok(films) = text.parse::<Films>() {
        return Ok(WantedVolume::Films(films));
    }
    // What looks like films is told as films.
    let plain = text.to_lowercase();
    if plain.contains("film") || plain.contains('x') && !plain.ends_with('l') || plain.starts_with("135-") {
        return films(argument, text).map(WantedVolume::Films);
    }
    volume(argument, text).map(WantedVolume::Volume)
}

/// A tank: the name of one in the configuration, or what covers its reels.
pub(super) fn tank(argument: &str, text: &str, context: &Context<'_, '_>) -> Result<CoveredTank, CliError> {
    let wanted = text.trim();
    if let Some(own) = context.settings.tanks().iter().find(|tank| tank.name.eq_ignore_ascii_case(wanted)) {
        return Ok(CoveredTank { name: Some(own.name.clone()), volume_ml: own.volume.as_ml() });
    }
    if let Some(volume_ml) = tray_ml(wanted) {
        return Ok(CoveredTank { name: Some(format!("tray {wanted}")), volume_ml });
    }
    match wanted.parse::<Volume>() {
        Ok(volume) => Ok(CoveredTank { name: None, volume_ml: volume.as_ml() }),
        Err(error) => {
            let names: Vec<&str> = context.settings.tanks().iter().map(|tank| tank.name.as_str()).collect();
            let fix = if names.is_empty() {
                "write what covers its reels, such as 600ml, a tray by its inside, such as 22x27cm, or name it under [tanks] in the configuration"
                    .to_owned()
            } else {
                format!("write what covers its reels, such as 600ml, or one of {}", names.join(", "))
            };
            Err(CliError::argument(argument, error, fix))
        }
    }
}

/// Least depth of developer in a tray, mm: half an inch (Army subcourse SS0509, lesson 1, page 24).
const TRAY_DEPTH_MM: f64 = 12.7;

/// What a tray of so much inside takes, mL: `220x270mm`, `22x27cm`, or with its depth `220x270x20mm`.
fn tray_ml(text: &str) -> Option<f64> {
    let units = [("mm", 1.0), ("cm", 10.0), ("in", 25.4)];
    let (sides, mm) = units.iter().find_map(|(unit, mm)| Some((text.trim().strip_suffix(unit)?, mm)))?;
    let side = |text: &str| text.trim().parse().ok().filter(|side: &f64| *side > 0.0 && *side < 1e4);
    let sides: Vec<f64> = sides.split('x').map(side).collect::<Option<_>>()?;
    let (area, depth) = match sides.as_slice() {
        [long, wide] => (long * wide * mm * mm, TRAY_DEPTH_MM),
        [long, wide, depth] => (long * wide * mm * mm, depth * mm),
        _ => return None,
    };
    Some(area * depth / 1000.0).filter(|ml| (10.0..1e6).contains(ml))
}

/// The batch that films ask for, in the tank named or the smallest that holds them.
pub(super) fn need_for(
    formula: &Formula,
    films: &Films,
    typed_tank: Option<&str>,
    context: &Context<'_, '_>,
) -> Result<Need, CliError> {
    let rules = class_rules(context)?;
    let tank = if let Some(text) = typed_tank {
        Some(tank("--tank", text, context)?)
    } else {
        let own = context.settings.tanks().iter();
        smallest_tank(films, own.map(|own| (own.name.as_str(), own.volume.as_ml(), own.reels)), &rules)
    };
    need(formula, films, tank, &rules).map_err(|error| CliError::Refused {
        code: "films-not-known",
        message: error.to_string(),
        fix: "give a volume, such as 500ml".to_owned(),
    })
}

/// Working solution that covers the reels for the films: of the tank named, else of the smallest that holds them.
pub(super) fn covering(
    films: &Films,
    typed: Option<&str>,
    rules: &ClassRules,
    context: &Context<'_, '_>,
) -> Result<Volume, CliError> {
    if let Some(text) = typed {
        return Ok(Volume::from_ml(tank("--tank", text, context)?.volume_ml));
    }
    let own = context.settings.tanks().iter();
    smallest_tank(films, own.map(|own| (own.name.as_str(), own.volume.as_ml(), own.reels)), rules)
        .map(|tank| Volume::from_ml(tank.volume_ml))
        .ok_or_else(|| {
            let message = "what covers sheets in a tank differs from tank to tank";
            CliError::argument("--tank", message, "give --tank 500ml, or the volume itself")
        })
}
