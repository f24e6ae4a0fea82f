//! `soupcon cool`: how long a batch takes to the temperature of use, and how much ice does it at once.

use clap::{Args, ValueEnum};

use super::arguments::{mass, temperature, volume};
use super::conditions::duration;
use super::context::Context;
use super::error::CliError;
use crate::cooling::{
    Around, BottleMaterial, CoolingBottle, CoolingCourse, CoolingError, Ice, bath_ending_at_ml, ice_g,
    mixed_c, water_j_per_k,
};
use crate::quantity::Temperature;
use crate::quantity::rounding::show_short;
use crate::render::cool::{CoolAnswer, CoolBody, cool_document};
use crate::render::json::document;

const EXAMPLES: &str = "\
Examples:
  soupcon cool 1L --from 46C --to 25C --in air --around 18C --bottle glass
  soupcon cool 1L --from 46C --to 20C --in water --around 15C --bottle plastic
  soupcon cool 1L --from 46C --in water --around 15C --bath 3L
  soupcon cool 1L --from 26C --to 20C --ice -18C
  soupcon cool 600ml --from 20C --into steel=420g --around 26C

Newton's law; the heat transfer is worked out from bottle and surroundings. Honest to ±30 % in air, ±40 % in water: the thermometer decides.";

/// What stands around the bottle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum AroundArgument {
    /// Still air
    Air,
    /// A fan
    MovingAir,
    /// Quiet water
    Water,
    /// Moving water, the bottle swirled
    MovingWater,
}

/// What the bottle is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum BottleArgument {
    /// Glass, 3 mm
    Glass,
    /// Plastic, 1 mm
    Plastic,
    /// Steel
    Steel,
}

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct CoolArguments {
    /// How much there is
    volume: String,
    /// Its temperature now
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    from: String,
    /// The temperature wanted
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    to: Option<String>,
    /// What stands around it [default: air]
    #[arg(long = "in", value_enum, hide_default_value = true, default_value = "air")]
    surroundings: AroundArgument,
    /// Temperature around it: of the room, or of the water bath
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    around: Option<String>,
    /// What the bottle is made of [default: glass]
    #[arg(long, value_enum)]
    bottle: Option<BottleArgument>,
    /// Volume of a water bath that is not renewed [default: held at its temperature]
    #[arg(long, value_name = "VOLUME")]
    bath: Option<String>,
    /// How near is near enough, where it is to come to what stands around it: 0.5C
    #[arg(long, value_name = "DEGREES")]
    within: Option<String>,
    /// The temperature after a time, in place of the time
    #[arg(long, value_name = "TIME", conflicts_with = "to")]
    after: Option<String>,
    /// A time constant of your own bottle, measured (the time to 37 % of the difference)
    #[arg(long, value_name = "TIME")]
    time_constant: Option<String>,
    /// How much ice of this temperature brings it down at once: 0C, or -18C from a freezer
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    ice: Option<String>,
    /// The ice becomes part of the batch, whose volume is that of both
    #[arg(long, requires = "ice")]
    ice_counts: bool,
    /// The temperature in a vessel it is poured into: glass, plastic or steel with its mass, at the temperature around it
    #[arg(long, value_name = "MATERIAL=MASS", conflicts_with_all = ["to", "after", "ice"])]
    into: Option<String>,
}

impl From<AroundArgument> for Around {
    fn from(own: AroundArgument) -> Self {
        match own {
            AroundArgument::Air => Self::Air,
            AroundArgument::MovingAir => Self::MovingAir,
            AroundArgument::Water => Self::Water,
            AroundArgument::MovingWater => Self::MovingWater,
        }
    }
}

impl From<BottleArgument> for BottleMaterial {
    fn from(own: BottleArgument) -> Self {
        match own {
            BottleArgument::Glass => Self::Glass,
            BottleArgument::Plastic => Self::Plastic,
            BottleArgument::Steel => Self::Steel,
        }
    }
}

pub(super) fn run(arguments: &CoolArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let answer = answer(arguments)?;
    context.answer(|| cool_document(&answer), || document(CoolBody::new(&answer)))?;
    Ok(0)
}

fn answer(arguments: &CoolArguments) -> Result<CoolAnswer, CliError> {
    let volume = volume("VOLUME", &arguments.volume)?;
    let from = temperature("--from", &arguments.from)?;
    let to = arguments.to.as_deref().map(|text| temperature("--to", text)).transpose()?;
    let around = arguments.around.as_deref().map(|text| temperature("--around", text)).transpose()?;
    let wanted = |option: &str, what: &str, fix: &str| CliError::argument(option, what, fix);
    if let Some(text) = &arguments.ice {
        let ice = temperature("--ice", text)?;
        let to = to.ok_or_else(|| {
            wanted("--to", "the temperature wanted is missing", "give it, such as --to 20C")
        })?;
        let becomes = if arguments.ice_counts { Ice::PartOfIt } else { Ice::InABag };
        // Of a batch that is the ice too, what is there now is the rest.
        let grams = ice_g(volume.as_ml(), from.as_c(), to.as_c(), ice.as_c(), becomes).map_err(refused)?;
        return Ok(CoolAnswer::Ice { volume, from, to, ice, grams, becomes });
    }
    let around = around.ok_or_else(|| {
        wanted(
            "--around",
            "the temperature around it is missing",
            "give that of the room or the bath, such as --around 18C",
        )
    })?;
    if let Some(text) = &arguments.into {
        let (material, grams) = vessel(text)?;
        let capacity = grams * material.specific_heat_j_per_g_k();
        let celsius = mixed_c(&[(water_j_per_k(volume.as_ml()), from.as_c()), (capacity, around.as_c())]);
        return Ok(CoolAnswer::Poured { volume, from, around, celsius });
    }
    let bath = arguments.bath.as_deref().map(|text| super::arguments::volume("--bath", text)).transpose()?;
    let time_constant =
        arguments.time_constant.as_deref().map(|text| duration("--time-constant", text)).transpose()?;
    let course = CoolingCourse {
        bottle: CoolingBottle {
            volume_ml: volume.as_ml(),
            material: arguments.bottle.map_or(BottleMaterial::Glass, Into::into),
            around: arguments.surroundings.into(),
        },
        from_c: from.as_c(),
        around_c: around.as_c(),
        bath_ml: bath.map(crate::quantity::Volume::as_ml),
        time_constant_minutes: time_constant.map(|time_constant| time_constant.as_s() / 60.0),
    };
    if let Some(text) = &arguments.after {
        let after = duration("--after", text)?;
        let celsius = course.celsius_after(after.as_s() / 60.0).map_err(refused)?;
        return Ok(CoolAnswer::After { course, volume, after, celsius });
    }
    let Some(to) = to else {
        if let Some(bath) = bath {
            // Without a bottle named it is the sum of two bodies of water.
            let celsius = match arguments.bottle {
                Some(_) => course.settles_c(),
                None => mixed_c(&[
                    (water_j_per_k(volume.as_ml()), from.as_c()),
                    (water_j_per_k(bath.as_ml()), around.as_c()),
                ]),
            };
            return Ok(CoolAnswer::Settles { course, volume, celsius });
        }
        return Err(wanted(
            "--to",
            "the temperature wanted is missing",
            "give it (--to 20C), or a time (--after 8min), or the bath's volume (--bath 3L)",
        ));
    };
    let to = match &arguments.within {
        None => to,
        Some(text) => Temperature::from_c(near(to.as_c(), course.settles_c(), from.as_c(), within(text)?)),
    };
    let minutes = course.minutes_to(to.as_c()).map_err(refused)?;
    let by_itself_ml = matches!(course.bottle.around, Around::Water | Around::MovingWater)
        .then(|| bath_ending_at_ml(&course.bottle, from.as_c(), to.as_c(), around.as_c()))
        .flatten();
    Ok(CoolAnswer::Until { course, volume, to, minutes, by_itself_ml })
}

/// The target, or where the last degrees to what stands around it begin.
fn near(to_c: f64, settles_c: f64, from_c: f64, within_k: f64) -> f64 {
    if (to_c - settles_c).abs() < within_k {
        settles_c + within_k * (from_c - settles_c).signum()
    } else {
        to_c
    }
}

/// A difference of temperatures: `0.5C`, `1F`.
fn within(text: &str) -> Result<f64, CliError> {
    let fix = "write how near is near enough with its unit: 0.5C or 1F";
    let plain = text.trim().trim_end_matches('°');
    let (figure, unit) = match (plain.strip_suffix(['c', 'C', 'k', 'K']), plain.strip_suffix(['f', 'F'])) {
        (Some(figure), _) => (figure, 1.0),
        (None, Some(figure)) => (figure, 5.0 / 9.0),
        (None, None) => return Err(CliError::argument("--within", format!("`{text}` has no unit"), fix)),
    };
    let degrees = super::arguments::number("--within", figure.trim_end_matches('°'), fix)? * unit;
    if degrees > 0.0 && degrees <= 10.0 {
        Ok(degrees)
    } else {
        Err(CliError::argument("--within", format!("{text} is not near"), "give up to 10C"))
    }
}

/// `steel=420g`.
fn vessel(text: &str) -> Result<(BottleMaterial, f64), CliError> {
    let fix = "write material and mass: steel=420g, plastic=300g, glass=500g";
    let (name, amount) = text
        .split_once('=')
        .ok_or_else(|| CliError::argument("--into", format!("`{text}` has no `=`"), fix))?;
    let material = match name.trim() {
        "steel" => BottleMaterial::Steel,
        "plastic" => BottleMaterial::Plastic,
        "glass" => BottleMaterial::Glass,
        other => {
            return Err(CliError::argument("--into", format!("`{other}` is no material known here"), fix));
        }
    };
    Ok((material, mass("--into", amount)?.as_g()))
}

fn refused(error: CoolingError) -> CliError {
    let message = match &error {
        CoolingError::WrongWay { from_c, to_c, around_c } => {
            let show = |celsius: &f64| show_short(*celsius, 1);
            format!(
                "{} °C around it cannot bring it from {} °C to {} °C",
                show(around_c),
                show(from_c),
                show(to_c)
            )
        }
        other => other.to_string(),
    };
    CliError::Refused { code: "cool", message, fix: error.fix().to_owned() }
}
