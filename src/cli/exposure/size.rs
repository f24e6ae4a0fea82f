//! `exposure size`.

use clap::{Args, ValueEnum};

use super::super::context::Context;
use super::super::error::CliError;
use super::{figure, maybe_figure, maybe_length, maybe_seconds, stops, tell};
use crate::exposure::{EnlargerHead, EnlargerSide, Length, SizeChange, Stops, resize};
use crate::render::exposure::json::ExposureBody;
use crate::render::exposure::words;

const EXAMPLES: &str = "\
Examples:
  soupcon exposure size 10s --from 4x --to 8x
  soupcon exposure size 10s --negative 36mm --from-image 180mm --to-image 288mm
  soupcon exposure size 8s --focal 50mm --from-height 350mm --to-height 600mm   negative to paper
  soupcon exposure size 9s --from-lens 300mm --to-lens 420mm                    lens to paper
  soupcon exposure size 20s --from-f 8 --to-f 5.6
  soupcon exposure size --focal 50mm --from-height 350mm                        the magnification

The image side is that of the whole negative on the easel, not of the paper.";

/// Arguments of `exposure size`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct SizeArguments {
    /// The exposure at the first size; without it the factor is told
    time: Option<String>,
    /// Magnification before
    #[arg(long, value_name = "SIZE", conflicts_with = "from_image", help_heading = "Before")]
    from: Option<String>,
    /// Side of the negative on the easel before
    #[arg(long, value_name = "LENGTH", requires = "negative", help_heading = "Before")]
    from_image: Option<String>,
    /// Negative to paper before
    #[arg(long, value_name = "LENGTH", help_heading = "Before")]
    from_height: Option<String>,
    /// Lens to paper before
    #[arg(long, value_name = "LENGTH", help_heading = "Before")]
    from_lens: Option<String>,
    /// Diaphragm before
    #[arg(long, value_name = "F-NUMBER", requires = "to_f", help_heading = "Before")]
    from_f: Option<String>,
    /// Magnification after
    #[arg(long, value_name = "SIZE", conflicts_with = "to_image", help_heading = "After")]
    to: Option<String>,
    /// Side of the negative on the easel after
    #[arg(long, value_name = "LENGTH", requires = "negative", help_heading = "After")]
    to_image: Option<String>,
    /// Negative to paper after
    #[arg(long, value_name = "LENGTH", help_heading = "After")]
    to_height: Option<String>,
    /// Lens to paper after
    #[arg(long, value_name = "LENGTH", help_heading = "After")]
    to_lens: Option<String>,
    /// Diaphragm after
    #[arg(long, value_name = "F-NUMBER", requires = "from_f", help_heading = "After")]
    to_f: Option<String>,
    /// Stops by which the lens is opened; below zero closed
    #[arg(
        long,
        value_name = "STOPS",
        allow_hyphen_values = true,
        conflicts_with = "from_f",
        help_heading = "After"
    )]
    open: Option<String>,
    /// Side of the negative
    #[arg(long, value_name = "LENGTH", help_heading = "Enlarger")]
    negative: Option<String>,
    /// Focal length of the lens
    #[arg(long, value_name = "LENGTH", help_heading = "Enlarger")]
    focal: Option<String>,
    /// Pupil magnification of an unsymmetrical lens [default: 1]
    #[arg(long, value_name = "RATIO", help_heading = "Enlarger")]
    pupil: Option<String>,
    /// The light: diffuse or condenser
    #[arg(long, value_enum, hide_possible_values = true, help_heading = "Enlarger")]
    head: Option<HeadName>,
    /// The paper's exponent of reciprocity, if you have measured it [default: 1]
    #[arg(long, value_name = "EXPONENT", help_heading = "Enlarger")]
    reciprocity: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum HeadName {
    /// Diffuse
    Diffuse,
    /// Condenser
    Condenser,
}

/// `4x`, `4`.
fn times(argument: &str, text: &str) -> Result<f64, CliError> {
    let trimmed = text.trim();
    figure(argument, trimmed.strip_suffix(['x', 'X', '×']).unwrap_or(trimmed), "4x")
}

/// `8`, `f/8`.
fn f_number(argument: &str, text: &str) -> Result<f64, CliError> {
    let trimmed = text.trim();
    figure(argument, trimmed.strip_prefix("f/").unwrap_or(trimmed), "5.6")
}

pub(super) fn run(arguments: &SizeArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let negative = maybe_length("--negative", arguments.negative.as_deref())?;
    let side = |names: [&'static str; 5], texts: [&Option<String>; 5]| {
        let [size, image, height, lens, diaphragm] = texts;
        let typed = size.as_deref().map(|text| times(names[0], text)).transpose()?;
        let image = maybe_length(names[1], image.as_deref())?;
        let of_image =
            image.zip(negative).map(|(image, negative): (Length, Length)| image.as_mm() / negative.as_mm());
        Ok::<_, CliError>(EnlargerSide {
            magnification: typed.or(of_image),
            height: maybe_length(names[2], height.as_deref())?,
            lens: maybe_length(names[3], lens.as_deref())?,
            f_number: diaphragm.as_deref().map(|text| f_number(names[4], text)).transpose()?,
        })
    };
    let from = side(
        ["--from", "--from-image", "--from-height", "--from-lens", "--from-f"],
        [
            &arguments.from,
            &arguments.from_image,
            &arguments.from_height,
            &arguments.from_lens,
            &arguments.from_f,
        ],
    )?;
    let to = side(
        ["--to", "--to-image", "--to-height", "--to-lens", "--to-f"],
        [&arguments.to, &arguments.to_image, &arguments.to_height, &arguments.to_lens, &arguments.to_f],
    )?;
    let change = SizeChange {
        time: maybe_seconds("TIME", arguments.time.as_deref())?,
        from,
        to,
        focal: maybe_length("--focal", arguments.focal.as_deref())?,
        pupil: maybe_figure("--pupil", arguments.pupil.as_deref(), "0.9")?.unwrap_or(1.0),
        opened: arguments.open.as_deref().map_or(Ok(Stops::new(0.0)), |text| stops("--open", text))?,
        reciprocity: maybe_figure("--reciprocity", arguments.reciprocity.as_deref(), "0.95")?.unwrap_or(1.0),
        head: arguments.head.map(|name| match name {
            HeadName::Diffuse => EnlargerHead::Diffuse,
            HeadName::Condenser => EnlargerHead::Condenser,
        }),
    };
    if change.from == EnlargerSide::default()
        && change.to == EnlargerSide::default()
        && arguments.open.is_none()
    {
        let fix =
            "give two sizes (--from 4x --to 8x), two distances, or two diaphragms (--from-f 8 --to-f 11)";
        return Err(CliError::argument("exposure size", "nothing changes", fix));
    }
    let own = resize(&change)?;
    tell(context, &own.warnings, || words::size(&own), || ExposureBody::size(&own))
}
