//! The user's configuration file: what holds for every command unless an option or the environment says otherwise.
//!
//! Only the file's meaning is here; where it lies, and what goes before it, is the command line's business. Every value carries its
//! unit, unknown keys are refused, and all that is wrong is told at once, with lines.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::{Spanned, Value};

use crate::diagnostic::{Finding, line_of, read_toml};
use crate::exposure::Clock;
pub use crate::lettering::Paper;
use crate::quantity::{Mass, Strength, Temperature, Volume};
use crate::suggestion;

/// Version of the file format that this program reads.
pub const FORMAT: u32 = 1;

/// Least assay of a product, %; far less would ask for tonnes of it.
const LEAST_ASSAY_PERCENT: f64 = 0.1;

/// A value with the line it stands on.
#[derive(Debug, Clone, PartialEq)]
pub struct Configured<T> {
    /// Checked and in the program's own type.
    pub value: T,
    /// Line in the file, from 1.
    pub line: usize,
}

/// The user's settings.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Configuration {
    /// Smallest step of the balance.
    pub balance: Option<Configured<Mass>>,
    /// Most that the balance carries.
    pub balance_max: Option<Configured<Mass>>,
    /// Paper of printed pages.
    pub paper: Option<Configured<Paper>>,
    /// Step of the enlarger's timer.
    pub clock: Option<Configured<Clock>>,
    /// Hottest water that comes without a kettle.
    pub hot_tap: Option<Configured<Temperature>>,
    /// Coldest water that comes without ice.
    pub cold_tap: Option<Configured<Temperature>>,
    /// Folders with formulas and substances, as written; the last wins.
    pub library: Vec<Configured<String>>,
    /// Form (as written) and its assay as a fraction by mass.
    pub assay: Vec<(String, Configured<f64>)>,
    /// The user's tanks by name.
    pub tanks: Vec<TankSetting>,
}

/// A tank of the user's.
#[derive(Debug, Clone, PartialEq)]
pub struct TankSetting {
    /// By which `--tank` finds it; of any letters.
    pub name: String,
    /// What covers its reels.
    pub volume: Volume,
    /// Reels of 135 that it holds.
    pub reels: u32,
}

/// The file as written.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct ConfigurationFile {
    /// Version of the format: 1.
    #[cfg_attr(test, schemars(with = "Option<u32>", extend("const" = 1)))]
    format: Option<Spanned<u32>>,
    /// Smallest step of your balance, such as "0.01 g".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    balance: Option<Spanned<Value>>,
    /// Most that your balance carries, such as "200 g".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    balance_max: Option<Spanned<Value>>,
    /// Paper of printed pages: "a4" or "letter".
    #[cfg_attr(test, schemars(with = "Option<String>", extend("enum" = ["a4", "letter"])))]
    paper: Option<Spanned<Value>>,
    /// Step of your enlarger's timer: "0.1 s" or "1 s".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    clock: Option<Spanned<Value>>,
    /// Temperature of your hot tap, such as "48 C".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    hot_tap: Option<Spanned<Value>>,
    /// Temperature of your cold tap, such as "12 C".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    cold_tap: Option<Spanned<Value>>,
    /// Folders with formulas and substances of your own; relative ones from the folder of this file.
    #[cfg_attr(test, schemars(with = "Option<Vec<String>>"))]
    library: Option<Spanned<Vec<Spanned<Value>>>>,
    /// How pure your products are, by mass: "potassium-hydroxide" = "88 %".
    #[cfg_attr(test, schemars(with = "Option<BTreeMap<String, String>>"))]
    assay: Option<BTreeMap<String, Spanned<Value>>>,
    /// Your tanks by name: what covers the reels, and how many reels of 135 go in.
    tanks: Option<BTreeMap<String, TankFile>>,
}

/// A tank as written.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct TankFile {
    /// What covers the reels, such as "600 ml".
    #[cfg_attr(test, schemars(with = "String"))]
    volume: Spanned<Value>,
    /// Reels of 135 that go in; a 120 takes the room of two.
    #[cfg_attr(test, schemars(with = "u32"))]
    reels: Spanned<Value>,
}

impl Configuration {
    /// Reads the file's text; `file` names it in messages.
    ///
    /// # Errors
    /// Everything that is wrong, with lines.
    pub fn parse(text: &str, file: &str) -> Result<Self, Vec<Finding>> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let shape: ConfigurationFile = read_toml(text, file).map_err(|finding| vec![finding])?;
        let mut reader = Reader { text, file, findings: Vec::new() };
        if let Some(format) = shape.format.filter(|format| *format.get_ref() != FORMAT) {
            let message = format!("format = {} is not known to this version", format.get_ref());
            let line = line_of(text, format.span().start);
            reader.findings.push(Finding::error("format", file, Some(line), message, "write format = 1"));
        }
        let configuration = Self {
            balance: reader.one("balance", shape.balance, balance_step),
            balance_max: reader.one("balance_max", shape.balance_max, balance_load),
            paper: reader.one("paper", shape.paper, paper),
            clock: reader.one("clock", shape.clock, clock),
            hot_tap: reader.one("hot_tap", shape.hot_tap, tap),
            cold_tap: reader.one("cold_tap", shape.cold_tap, tap),
            library: shape
                .library
                .map_or_else(Vec::new, Spanned::into_inner)
                .into_iter()
                .filter_map(|folder| reader.one("library", Some(folder), folder_name))
                .collect(),
            assay: shape
                .assay
                .unwrap_or_default()
                .into_iter()
                .filter_map(|(form, value)| Some((form, reader.one("assay", Some(value), assay)?)))
                .collect(),
            tanks: shape
                .tanks
                .unwrap_or_default()
                .into_iter()
                .filter_map(|(name, own)| reader.tank(name, own))
                .collect(),
        };
        if reader.findings.is_empty() { Ok(configuration) } else { Err(reader.findings) }
    }
}

/// What is wrong with a value, and what to write.
pub type Refused = (String, String);

/// Reads values and collects what is wrong.
struct Reader<'t> {
    text: &'t str,
    file: &'t str,
    findings: Vec<Finding>,
}

impl Reader<'_> {
    fn one<T>(
        &mut self,
        key: &str,
        value: Option<Spanned<Value>>,
        parse: impl Fn(&str) -> Result<T, Refused>,
    ) -> Option<Configured<T>> {
        let value = value?;
        let line = line_of(self.text, value.span().start);
        let parsed = match value.get_ref() {
            Value::String(text) => parse(text),
            other => {
                let message = format!("`{other}` stands where a text is needed");
                Err((
                    message,
                    format!("put it in quotes, with its unit where it has one: \"{}\"", example(key)),
                ))
            }
        };
        match parsed {
            Ok(value) => Some(Configured { value, line }),
            Err((message, fix)) => {
                let message = format!("{key}: {message}");
                self.findings.push(Finding::error("configuration", self.file, Some(line), message, fix));
                None
            }
        }
    }
}

impl Reader<'_> {
    fn tank(&mut self, name: String, tank_file: TankFile) -> Option<TankSetting> {
        let line = line_of(self.text, tank_file.reels.span().start);
        let reels = match tank_file.reels.get_ref() {
            Value::Integer(reels) => u32::try_from(*reels).ok().filter(|reels| (1..=100).contains(reels)),
            _ => None,
        };
        if reels.is_none() {
            let message = format!("tanks.{name}: reels is not a number from 1 to 100");
            let fix = "write how many reels of 135 it holds: reels = 2";
            self.findings.push(Finding::error("configuration", self.file, Some(line), message, fix));
        }
        let volume = self.one("tanks", Some(tank_file.volume), volume)?.value;
        Some(TankSetting { name, volume, reels: reels? })
    }
}

/// A value as it is written.
fn example(key: &str) -> &'static str {
    match key {
        "balance" => "0.01 g",
        "balance_max" => "200 g",
        "hot_tap" => "48 C",
        "cold_tap" => "12 C",
        "assay" => "88 %",
        "paper" => "a4",
        "tanks" => "600 ml",
        "clock" => "0.1 s",
        _ => "darkroom",
    }
}

/// The smallest step of a balance.
///
/// # Errors
/// Not a mass above zero.
pub fn balance_step(text: &str) -> Result<Mass, Refused> {
    let step = mass(text)?;
    if step.as_g() <= 0.0 {
        return Err(("a step of zero is no balance".to_owned(), "write 0.1g or 0.01g".to_owned()));
    }
    Ok(step)
}

/// The most that a balance carries.
///
/// # Errors
/// Not a mass above zero.
pub fn balance_load(text: &str) -> Result<Mass, Refused> {
    let load = mass(text)?;
    if load.as_g() <= 0.0 {
        return Err(("a balance that carries nothing is none".to_owned(), "write such as 200g".to_owned()));
    }
    Ok(load)
}

fn mass(text: &str) -> Result<Mass, Refused> {
    let fix = "write the mass with its unit: 2.5g, 500mg, 20grain";
    text.parse().map_err(|error: crate::quantity::QuantityError| (error.to_string(), fix.to_owned()))
}

fn volume(text: &str) -> Result<Volume, Refused> {
    let fix = "write the volume with its unit: 600ml, 1L";
    text.parse().map_err(|error: crate::quantity::QuantityError| (error.to_string(), fix.to_owned()))
}

/// The temperature of a tap.
///
/// # Errors
/// Not a temperature of liquid water.
pub fn tap(text: &str) -> Result<Temperature, Refused> {
    let fix = "write the temperature with its unit: 20C or 68F";
    let celsius: Temperature =
        text.parse().map_err(|error: crate::quantity::QuantityError| (error.to_string(), fix.to_owned()))?;
    if !(0.0..=100.0).contains(&celsius.as_c()) {
        let message = format!("water of {celsius} does not come from a tap");
        return Err((message, "give a temperature between 0C and 100C".to_owned()));
    }
    Ok(celsius)
}

/// A paper by its name.
///
/// # Errors
/// Not a known paper.
pub fn paper(text: &str) -> Result<Paper, Refused> {
    let plain = text.trim().to_lowercase();
    let known = [Paper::A4, Paper::Letter];
    known.into_iter().find(|paper| paper.word() == plain).ok_or_else(|| {
        let fix = match suggestion::nearest(&plain, known.iter().map(|paper| paper.word())) {
            Some(near) => format!("did you mean {near}?"),
            None => "write a4 or letter".to_owned(),
        };
        (format!("`{text}` is not a paper known here"), fix)
    })
}

/// The step of an enlarger's timer.
///
/// # Errors
/// Neither a tenth of a second nor a second.
pub fn clock(text: &str) -> Result<Clock, Refused> {
    text.parse().map_err(|error: crate::exposure::ExposureError| {
        (error.to_string(), "a timer steps by 0.1s or by 1s".to_owned())
    })
}

/// An assay in percent by mass, as a fraction.
///
/// # Errors
/// Not a percentage above 0 and up to 100.
pub fn assay(text: &str) -> Result<f64, Refused> {
    let fix = "write it as 88 %, by mass";
    let (percent, basis) =
        Strength::parse_loose(text).map_err(|error| (error.to_string(), fix.to_owned()))?;
    if percent < LEAST_ASSAY_PERCENT {
        let message = format!("a product with {percent} % of its chemical is none");
        return Err((message, fix.to_owned()));
    }
    match basis {
        None | Some(crate::quantity::StrengthBasis::WeightInWeight) => Ok(percent / 100.0),
        Some(basis) => Err((format!("an assay is by mass, not {}", basis.symbol()), fix.to_owned())),
    }
}

fn folder_name(text: &str) -> Result<String, Refused> {
    if text.trim().is_empty() {
        return Err(("a folder has no name".to_owned(), "name a folder, or delete it".to_owned()));
    }
    Ok(text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_is_read_with_its_line() {
        let text = "format = 1\nbalance = \"0.01 g\"\nbalance_max = \"200g\"\npaper = \"letter\"\nhot_tap = \"118F\"\n\
                    cold_tap = \"12 C\"\nlibrary = [\n  \"a\",\n  \"b\",\n]\n[assay]\npotassium-hydroxide = \"88 %\"\n";
        let read = Configuration::parse(text, "config.toml").unwrap();
        assert_eq!(read.balance, Some(Configured { value: Mass::from_g(0.01), line: 2 }));
        assert_eq!(read.paper, Some(Configured { value: Paper::Letter, line: 4 }));
        assert_eq!(read.cold_tap, Some(Configured { value: Temperature::from_c(12.0), line: 6 }));
        assert_eq!(read.library.iter().map(|own| own.line).collect::<Vec<_>>(), [8, 9]);
        assert_eq!(read.assay, [("potassium-hydroxide".to_owned(), Configured { value: 0.88, line: 12 })]);
        assert_eq!(Configuration::parse("", "config.toml").unwrap(), Configuration::default());
    }

    #[test]
    fn everything_wrong_is_told_at_once_with_lines() {
        let text = "balance = 0.1\nhot_tap = \"warm\"\npaper = \"lettre\"\nlibrary = [\"\", 3]\n[assay]\nborax = \"120 %\"\n";
        let wrong = Configuration::parse(text, "config.toml").unwrap_err();
        let lines: Vec<_> = wrong.iter().map(|own| own.line.unwrap()).collect();
        assert_eq!(lines, [1, 3, 2, 4, 4, 6]);
        // So little that a division by it has no result.
        assert!(Configuration::parse("assay.borax = \"5e-324 %\"", "config.toml").is_err());
        assert!(wrong.iter().all(|own| !own.fix.is_empty()), "{wrong:?}");
    }

    #[test]
    fn a_mistyped_key_gets_a_suggestion() {
        let wrong = Configuration::parse("\nbalence = \"0.1 g\"\n", "config.toml").unwrap_err();
        assert_eq!(wrong[0].line, Some(2));
        assert_eq!(wrong[0].fix, "did you mean `balance`?");
        assert_eq!(Configuration::parse("format = 2", "config.toml").unwrap_err()[0].code, "format");
    }

    #[test]
    fn tanks_have_a_name_a_volume_and_reels() {
        let text = "[tanks.small]\nvolume = \"290 ml\"\nreels = 1\n[tanks.\"big one\"]\nvolume = \"1L\"\nreels = 3\n";
        let read = Configuration::parse(text, "config.toml").unwrap();
        let told: Vec<_> =
            read.tanks.iter().map(|tank| (tank.name.as_str(), tank.volume.as_ml(), tank.reels)).collect();
        assert_eq!(told, [("big one", 1000.0, 3), ("small", 290.0, 1)]);
        let text = "[tanks.a]\nvolume = 600\nreels = 0\n[tanks.b]\nvolume = \"600\"\nreels = \"two\"\n";
        let wrong = Configuration::parse(text, "config.toml").unwrap_err();
        assert_eq!(wrong.iter().map(|own| own.line.unwrap()).collect::<Vec<_>>(), [3, 2, 6, 5]);
    }

    #[test]
    fn the_schema_is_current() {
        crate::schema::tests::assert_file_schema::<ConfigurationFile>("configuration");
    }
}
