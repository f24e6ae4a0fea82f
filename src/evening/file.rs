//! The file of an evening: its tanks, baths and times, with what it leaves out filled from the table and said.

use std::collections::BTreeMap;

use serde::Deserialize;
use toml::Spanned;

use super::clock::{Bath, Hands, MOST_TANKS, Softness, Tank};
use super::table::{HandsWord, StepRow, Table};
use crate::diagnostic::{Finding, line_of, read_toml};
use crate::quantity::{Duration, Films, QuantityError, Volume};
use crate::suggestion;

/// Version of the file format that this program reads.
pub const FORMAT: u32 = 1;
/// Longest time of a step, s: three hours.
const LONGEST_S: i64 = 3 * 3600;
/// Seconds of a day.
pub const DAY_S: i64 = 24 * 3600;

/// The file as written.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(crate) struct EveningFile {
    /// Version of the format: 1.
    #[cfg_attr(test, schemars(with = "Option<u32>", extend("const" = 1)))]
    format: Option<Spanned<u32>>,
    /// When the first developer goes in: "19:30".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    start: Option<Spanned<String>>,
    /// Time to pour in or out: "15s".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pour: Option<Spanned<String>>,
    /// Times of the steps after development; "0s" leaves one out.
    times: Option<TimesFile>,
    /// The baths of the evening.
    baths: Option<BathsFile>,
    /// The tanks, in the order in which they begin.
    #[cfg_attr(test, schemars(with = "Vec<TankFile>"))]
    tanks: Vec<Spanned<TankFile>>,
}

#[derive(Debug, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct TimesFile {
    /// Stop bath.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    stop: Option<Spanned<String>>,
    /// Fixer.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    fix: Option<Spanned<String>>,
    /// First rinse.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    rinse: Option<Spanned<String>>,
    /// Washing aid.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    aid: Option<Spanned<String>>,
    /// Wash.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    wash: Option<Spanned<String>>,
    /// Wetting agent.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    wetting: Option<Spanned<String>>,
    /// Hanging a film.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    hang: Option<Spanned<String>>,
}

#[derive(Debug, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct BathsFile {
    /// Stop bath: a formula, or { formula, bottle }.
    stop: Option<BathFile>,
    /// Fixer.
    fixer: Option<BathFile>,
    /// Washing aid.
    aid: Option<BathFile>,
    /// Wetting agent.
    wetting: Option<BathFile>,
}

#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(untagged, expecting = "a formula in quotes, or { formula = \"…\", bottle = \"…\" }")]
enum BathFile {
    Formula(String),
    Table(BathTable),
}

#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct BathTable {
    /// The formula.
    formula: Option<String>,
    /// The bottle it comes from.
    bottle: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct TankFile {
    /// Name: "A".
    name: Option<String>,
    /// The bottle of its developer.
    bottle: Option<String>,
    /// Its films: "2x135-36".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    films: Option<Spanned<String>>,
    /// The film in your own words.
    film: Option<String>,
    /// Numbers of the rolls.
    rolls: Option<Vec<String>>,
    /// How much fills it: "600ml".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    volume: Option<Spanned<String>>,
    /// The developer: a formula.
    developer: Option<String>,
    /// How it is used: "undiluted".
    #[serde(rename = "use")]
    use_name: Option<String>,
    /// Developing time: "8min".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    time: Option<Spanned<String>>,
    /// "tank", "rotary" or "hangers".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    way: Option<Spanned<String>>,
    /// "usual", "none", "continuous", or such as "5s each 30s".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    agitation: Option<Spanned<String>>,
    /// Water before the developer: "1min".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    presoak: Option<Spanned<String>>,
    /// A wish: its developer goes in then: "19:34".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    start: Option<Spanned<String>>,
}

/// How films are treated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// A daylight tank, inverted by hand.
    Tank,
    /// A drum turned by a motor.
    Rotary,
    /// Sheets in hangers, lifted.
    Hangers,
}

/// How the developer is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Agitation {
    /// As the way usually is.
    Usual,
    /// At first only.
    Stand,
    /// All the time.
    Continuous,
    /// So long each so often, s.
    Each(i64, i64),
}

/// A tank of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct TankSpec {
    /// Name.
    pub name: String,
    /// Films, where given.
    pub films: Option<Films>,
    /// The film in the user's own words.
    pub film: Option<String>,
    /// Numbers of rolls.
    pub rolls: Vec<String>,
    /// What fills it.
    pub volume: Option<Volume>,
    /// The developer's formula.
    pub developer: Option<String>,
    /// Its use.
    pub use_name: Option<String>,
    /// Its bottle.
    pub bottle: Option<String>,
    /// Developing time, s.
    pub time_s: i64,
    /// The way.
    pub way: Way,
    /// Agitation in the developer.
    pub agitation: Agitation,
    /// Presoak, s; 0 for none.
    pub presoak_s: i64,
    /// A wish: time of the day, s.
    pub start_of_day_s: Option<i64>,
}

impl TankSpec {
    /// Films to hang; one where nothing is said.
    pub fn pieces(&self) -> u32 {
        self.films.as_ref().map_or(1, Films::pieces)
    }
}

/// A bath of the evening as named.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BathSpec {
    /// Formula.
    pub formula: Option<String>,
    /// Bottle.
    pub bottle: Option<String>,
}

/// An evening as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Evening {
    /// First developer in: time of the day, s.
    pub start_of_day_s: Option<i64>,
    /// Pouring, s.
    pub pour_s: i64,
    /// Times after development by step, s; 0 leaves one out.
    pub times_s: BTreeMap<String, i64>,
    /// Hanging a film, s.
    pub hang_s: i64,
    /// Stop, fixer, aid, wetting as named.
    pub baths: BTreeMap<String, BathSpec>,
    /// Tanks.
    pub tanks: Vec<TankSpec>,
    /// What the file left out and the table gave.
    pub assumed: Vec<String>,
}

impl Evening {
    /// Reads the file's text; `file` names it in messages.
    ///
    /// # Errors
    /// Everything that is wrong, with lines.
    pub fn parse(text: &str, file: &str, table: &Table) -> Result<Self, Vec<Finding>> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let shape: EveningFile = read_toml(text, file).map_err(|finding| vec![finding])?;
        let mut reader = Reader { text, file, findings: Vec::new() };
        if let Some(format) = shape.format.as_ref().filter(|format| *format.get_ref() != FORMAT) {
            let message = format!("format = {} is not known to this version", format.get_ref());
            reader.refuse(format.span().start, message, "write format = 1".to_owned());
        }
        let mut assumed = Vec::new();
        let start_of_day_s = reader.time_of_day("start", shape.start.as_ref());
        let given_pour = reader.time("pour", shape.pour.as_ref());
        let pour_s = given_pour.unwrap_or(table.hands.pour_in);
        if given_pour.is_none() {
            assumed.push(format!("pouring {} s ({})", pour_s, table.hands.mark.words()));
        } else if !(1..=120).contains(&pour_s) {
            let place = shape.pour.as_ref().map_or(0, |own| own.span().start);
            reader.refuse(place, format!("pouring takes {pour_s} s"), "give 1s to 120s".to_owned());
        }
        let times = shape.times.unwrap_or_default();
        let given = [
            ("stop", &times.stop),
            ("fix", &times.fix),
            ("rinse", &times.rinse),
            ("aid", &times.aid),
            ("wash", &times.wash),
            ("wetting", &times.wetting),
        ];
        let mut times_s = BTreeMap::new();
        for row in &table.steps {
            let value =
                given.iter().find(|(name, _)| *name == row.name).and_then(|(_, value)| value.as_ref());
            let seconds = reader.time(&row.name, value).unwrap_or_else(|| {
                let words = super::clock::Watch(row.seconds);
                assumed.push(format!("{} {words} ({})", row.name, row.mark.words()));
                row.seconds
            });
            times_s.insert(row.name.clone(), seconds);
        }
        let hang_s = reader.time("hang", times.hang.as_ref()).unwrap_or_else(|| {
            let seconds = table.hands.hang_a_film;
            assumed.push(format!("hanging {seconds} s a film ({})", table.hands.mark.words()));
            seconds
        });
        let baths = baths(shape.baths.unwrap_or_default());
        let mut tanks: Vec<TankSpec> = Vec::new();
        if shape.tanks.is_empty() || shape.tanks.len() > MOST_TANKS {
            let message = format!("{} tanks are no evening for one person", shape.tanks.len());
            let finding = Finding::error("evening", file, None, message, "write 1 to 6 [[tanks]]");
            reader.findings.push(finding);
        }
        for (index, spanned) in shape.tanks.into_iter().enumerate().take(MOST_TANKS) {
            if let Some(own) = reader.tank(index, spanned, &mut assumed) {
                if tanks.iter().any(|other| other.name == own.name) {
                    let message = format!("two tanks are named {}", own.name);
                    let fix = "give each a name of its own".to_owned();
                    reader.findings.push(Finding::error("evening", file, None, message, fix));
                }
                tanks.push(own);
            }
        }
        if !reader.findings.is_empty() {
            return Err(reader.findings);
        }
        Ok(Self { start_of_day_s, pour_s, times_s, hang_s, baths, tanks, assumed })
    }

    /// Time of a step, s; 0 where it is left out.
    pub fn time_s(&self, step: &str) -> i64 {
        self.times_s.get(step).copied().unwrap_or(0)
    }

    /// The tanks as baths and hands. `changes_s` are the fills of a wash in the tank, none for a hose.
    pub fn tanks(&self, table: &Table, changes_s: Option<&[i64]>) -> Vec<Tank> {
        let first = self.start_of_day_s.or_else(|| self.tanks.iter().find_map(|own| own.start_of_day_s));
        self.tanks
            .iter()
            .map(|spec| {
                let mut baths = Vec::new();
                if spec.presoak_s > 0 {
                    baths.push(rigid("presoak", spec.presoak_s, Hands::Poured, false));
                }
                baths.push(rigid("develop", spec.time_s, developing(spec, table), true));
                for row in &table.steps {
                    let seconds = self.time_s(&row.name);
                    if seconds == 0 {
                        continue;
                    }
                    match changes_s.filter(|_| row.name == "wash") {
                        Some(changes) => baths.extend(dumped(row, changes)),
                        None => baths.push(row.bath(seconds, hands_in(row, spec, table))),
                    }
                }
                Tank {
                    name: spec.name.clone(),
                    baths,
                    hang_s: self.hang_s * i64::from(spec.pieces()),
                    wish_s: spec
                        .start_of_day_s
                        .zip(first)
                        .map(|(own, first)| (own - first).rem_euclid(DAY_S)),
                }
            })
            .collect()
    }

    /// Time of the day of the first developer, s: as given, else the first tank's wish.
    pub fn first_of_day_s(&self) -> Option<i64> {
        self.start_of_day_s.or_else(|| self.tanks.iter().find_map(|own| own.start_of_day_s))
    }
}

/// A wash of fills: each ends by the hand, and only the last may wait.
fn dumped(row: &StepRow, changes: &[i64]) -> Vec<Bath> {
    let mut fills: Vec<Bath> = changes
        .iter()
        .map(|seconds| Bath { is_hose: false, ..rigid(&row.name, *seconds, Hands::Poured, false) })
        .collect();
    if let Some(last) = fills.last_mut() {
        last.softness = row.bath(last.seconds, Hands::Poured).softness;
    }
    fills
}

fn rigid(name: &str, seconds: i64, hands: Hands, is_developer: bool) -> Bath {
    let softness = Softness { calm_s: seconds, tight_s: seconds };
    Bath { name: name.to_owned(), seconds, softness, hands, is_developer, is_hose: false }
}

fn developing(spec: &TankSpec, table: &Table) -> Hands {
    let hands = &table.hands;
    let first_s = if spec.way == Way::Hangers { hands.hanger_first } else { hands.first_turning };
    match (spec.way, spec.agitation) {
        (Way::Rotary, _) => Hands::Poured,
        (_, Agitation::Continuous) => Hands::Continuous,
        (_, Agitation::Stand) => Hands::Turned { first_s, each_s: 0, every_s: None },
        (_, Agitation::Each(each_s, every_s)) => Hands::Turned { first_s, each_s, every_s: Some(every_s) },
        (_, Agitation::Usual) => {
            Hands::Turned { first_s, each_s: hands.each_turning, every_s: Some(hands.every) }
        }
    }
}

fn hands_in(row: &StepRow, spec: &TankSpec, table: &Table) -> Hands {
    let hands = &table.hands;
    match (spec.way, row.hands) {
        (Way::Rotary, _) | (_, HandsWord::Poured) => Hands::Poured,
        (_, HandsWord::Continuous) => Hands::Continuous,
        (_, HandsWord::Turned) => Hands::Turned {
            first_s: if spec.way == Way::Hangers { hands.hanger_first } else { hands.first_turning },
            each_s: hands.each_turning,
            every_s: Some(hands.every),
        },
    }
}

fn baths(file: BathsFile) -> BTreeMap<String, BathSpec> {
    let all = [("stop", file.stop), ("fixer", file.fixer), ("aid", file.aid), ("wetting", file.wetting)];
    all.into_iter()
        .filter_map(|(name, own)| {
            let spec = match own? {
                BathFile::Formula(formula) => BathSpec { formula: Some(formula), bottle: None },
                BathFile::Table(table) => BathSpec { formula: table.formula, bottle: table.bottle },
            };
            Some((name.to_owned(), spec))
        })
        .collect()
}

/// Time of the day: `19:30`, in seconds.
pub fn time_of_day(text: &str) -> Option<i64> {
    let (hours, minutes) = text.trim().split_once(':')?;
    let digits = |part: &str| (1..=2).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(hours) || !digits(minutes) || minutes.len() != 2 {
        return None;
    }
    let (hours, minutes): (i64, i64) = (hours.parse().ok()?, minutes.parse().ok()?);
    (hours < 24 && minutes < 60).then_some(hours * 3600 + minutes * 60)
}

/// Whole seconds of a time that may be nothing.
fn seconds(text: &str) -> Result<i64, (String, String)> {
    #[allow(clippy::cast_possible_truncation, reason = "a time typed is far below the largest whole number")]
    let value = match text.parse::<Duration>() {
        Ok(time) => time.as_s().round() as i64,
        Err(QuantityError::Zero { .. }) => 0,
        Err(error) => {
            return Err((error.to_string(), "write it as \"5min\", \"30s\" or \"8:30\"".to_owned()));
        }
    };
    if value > LONGEST_S {
        return Err((format!("{text} is longer than three hours"), "give at most 3h".to_owned()));
    }
    Ok(value)
}

fn agitation(text: &str) -> Option<Agitation> {
    match text.trim() {
        "usual" => return Some(Agitation::Usual),
        "none" => return Some(Agitation::Stand),
        "continuous" => return Some(Agitation::Continuous),
        _ => {}
    }
    let (each, every) = text.split_once(" each ")?;
    let (each, every) = (seconds(each).ok()?, seconds(every).ok()?);
    (each > 0 && every >= 10 && each < every).then_some(Agitation::Each(each, every))
}

struct Reader<'a> {
    text: &'a str,
    file: &'a str,
    findings: Vec<Finding>,
}

impl Reader<'_> {
    fn refuse(&mut self, at: usize, message: String, fix: String) {
        let line = line_of(self.text, at);
        self.findings.push(Finding::error("evening", self.file, Some(line), message, fix));
    }

    fn time(&mut self, key: &str, value: Option<&Spanned<String>>) -> Option<i64> {
        let value = value?;
        match seconds(value.get_ref()) {
            Ok(own) => Some(own),
            Err((message, fix)) => {
                self.refuse(value.span().start, format!("{key}: {message}"), fix);
                Some(0)
            }
        }
    }

    fn time_of_day(&mut self, key: &str, value: Option<&Spanned<String>>) -> Option<i64> {
        let value = value?;
        let found = time_of_day(value.get_ref());
        if found.is_none() {
            let message = format!("{key}: `{}` is no time of the day", value.get_ref());
            self.refuse(value.span().start, message, "write it as \"19:30\"".to_owned());
        }
        found
    }

    fn parsed<T: std::str::FromStr>(
        &mut self,
        key: &str,
        value: Option<&Spanned<String>>,
        fix: &str,
    ) -> Option<T>
    where
        T::Err: std::fmt::Display,
    {
        let value = value?;
        match value.get_ref().parse() {
            Ok(own) => Some(own),
            Err(error) => {
                self.refuse(value.span().start, format!("{key}: {error}"), fix.to_owned());
                None
            }
        }
    }

    fn one_of<T>(
        &mut self,
        key: &str,
        value: Option<&Spanned<String>>,
        known: impl Fn(&str) -> Option<T>,
        words: &[&str],
    ) -> Option<T> {
        let value = value?;
        let found = known(value.get_ref());
        if found.is_none() {
            let near = suggestion::nearest(value.get_ref(), words.iter().copied());
            let fix = near.map_or_else(
                || format!("write one of {}", words.join(", ")),
                |near| format!("did you mean \"{near}\"?"),
            );
            self.refuse(value.span().start, format!("{key}: `{}` is not known", value.get_ref()), fix);
        }
        found
    }

    fn tank(
        &mut self,
        index: usize,
        spanned: Spanned<TankFile>,
        assumed: &mut Vec<String>,
    ) -> Option<TankSpec> {
        let place = spanned.span().start;
        let file = spanned.into_inner();
        let letter = char::from(b'A' + u8::try_from(index % 26).unwrap_or(0)).to_string();
        let name = file.name.filter(|own| !own.trim().is_empty()).unwrap_or(letter);
        let films = self.parsed::<Films>("films", file.films.as_ref(), "write such as \"2x135-36\"");
        if file.films.is_none() {
            assumed.push(format!("one film in tank {name}"));
        }
        let volume = self.parsed::<Volume>("volume", file.volume.as_ref(), "write such as \"600ml\"");
        let way = self.one_of(
            "way",
            file.way.as_ref(),
            |own| match own {
                "tank" => Some(Way::Tank),
                "rotary" => Some(Way::Rotary),
                "hangers" => Some(Way::Hangers),
                _ => None,
            },
            &["tank", "rotary", "hangers"],
        );
        let agitation = self.one_of(
            "agitation",
            file.agitation.as_ref(),
            agitation,
            &["usual", "none", "continuous", "5s each 30s"],
        );
        let presoak_s = self.time("presoak", file.presoak.as_ref()).unwrap_or(0);
        let start_of_day_s = self.time_of_day("start", file.start.as_ref());
        let time_s = self.time("time", file.time.as_ref()).filter(|own| *own > 0);
        let Some(time_s) = time_s else {
            let message = format!("tank {name} has no developing time");
            self.refuse(
                place,
                message,
                "give it one, such as time = \"8min\"; `soupcon time` works it out".to_owned(),
            );
            return None;
        };
        Some(TankSpec {
            name,
            films,
            film: file.film,
            rolls: file.rolls.unwrap_or_default(),
            volume,
            developer: file.developer,
            use_name: file.use_name,
            bottle: file.bottle,
            time_s,
            way: way.unwrap_or(Way::Tank),
            agitation: agitation.unwrap_or(Agitation::Usual),
            presoak_s,
            start_of_day_s,
        })
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_schema_is_current() {
        crate::schema::tests::assert_file_schema::<super::EveningFile>("evening-file");
    }
}
