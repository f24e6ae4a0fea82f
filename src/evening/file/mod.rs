//! The file of an evening: its tanks, baths and times, with what it leaves out filled from the table and said.

mod read;
mod shape;

use crate::diagnostic::{Finding, read_toml};
use crate::evening::clock::{Hands, MOST_TANKS, Softness, Tank, TankBath};
use crate::evening::table::{EveningTable, HandsWord, StepRow};
use crate::quantity::{Duration, Films, QuantityError, Temperature, Volume};
use read::Reader;
use shape::EveningFile;
use std::collections::{BTreeMap, BTreeSet};

/// Version of the file format that this program reads.
pub(crate) const FORMAT: u32 = 1;

/// Longest time of a step, s: three hours.
const LONGEST_S: i64 = 3 * 3600;

/// Seconds of a day.
pub(crate) const DAY_S: i64 = 24 * 3600;

/// How films are treated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// A daylight tank, inverted by hand.
    Tank,
    /// A drum turned by a motor.
    Rotary,
    /// Sheets in hangers, lifted.
    Hangers,
    /// Sheets in trays, turned over by hand in total darkness.
    Trays,
}

/// How the developer is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum TankAgitation {
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
pub(crate) struct TankSpec {
    pub name: String,
    pub films: Option<Films>,
    /// The film in the user's own words.
    pub film: Option<String>,
    /// Numbers of rolls.
    pub rolls: Vec<String>,
    /// What fills it.
    pub volume: Option<Volume>,
    /// The developer's formula.
    pub developer: Option<String>,
    pub use_name: Option<String>,
    pub bottle: Option<String>,
    /// Developing time, s: one, or one a bath; none where it is not given.
    pub times_s: Vec<i64>,
    /// A known time to work it out from.
    pub known: Option<KnownSpec>,
    /// Temperature of the developer, where given.
    pub temperature: Option<Temperature>,
    /// Its own steps, where given: name, and time in s where it is not the evening's.
    pub steps: Option<Vec<(String, Option<i64>)>>,
    /// Mixing its developer just before, s; 0 where it is poured from a bottle.
    pub mix_s: i64,
    /// It is stopped in water.
    pub has_water_stop: bool,
    /// Times of steps that differ from the evening's by what its developer is, s.
    pub own_s: BTreeMap<String, i64>,
    pub way: Way,
    /// Agitation in the developer.
    pub agitation: TankAgitation,
    /// Presoak, s; 0 for none.
    pub presoak_s: i64,
    /// A wish: time of the day, s.
    pub start_of_day_s: Option<i64>,
    /// Line in the file, from 1; 0 where there is none.
    pub line: usize,
}

/// A known time as given.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct KnownSpec {
    /// The time, s.
    pub seconds: i64,
    /// The developer's formula.
    pub developer: Option<String>,
    /// Its dilution, as written.
    pub dilution: Option<String>,
    /// Its temperature, as written.
    pub temperature: Option<String>,
    /// Its agitation, as written.
    pub agitation: Option<String>,
}

impl TankSpec {
    /// A tank of which only its name is known.
    pub(crate) fn named(name: String) -> Self {
        Self {
            name,
            films: None,
            film: None,
            rolls: Vec::new(),
            volume: None,
            developer: None,
            use_name: None,
            bottle: None,
            times_s: Vec::new(),
            known: None,
            temperature: None,
            steps: None,
            mix_s: 0,
            has_water_stop: false,
            own_s: BTreeMap::new(),
            way: Way::Tank,
            agitation: TankAgitation::Usual,
            presoak_s: 0,
            start_of_day_s: None,
            line: 0,
        }
    }

    /// In the developer in all, s.
    pub(crate) fn time_s(&self) -> i64 {
        self.times_s.iter().sum()
    }

    /// A film, or a sheet in trays, moves so long after the one before, s.
    pub(crate) fn sheet_s(&self, table: &EveningTable) -> i64 {
        if self.pieces() > table.hands.many_sheets { table.hands.sheet_of_many } else { table.hands.sheet }
    }

    /// Films to hang; one where nothing is said.
    pub(crate) fn pieces(&self) -> u32 {
        self.films.as_ref().map_or(1, Films::pieces)
    }
}

/// A bath of the evening as named.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct BathSpec {
    pub formula: Option<String>,
    pub bottle: Option<String>,
}

/// An evening as read.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Evening {
    /// First developer in: time of the day, s.
    pub start_of_day_s: Option<i64>,
    /// How warm the bottles stand before, where known.
    pub bottles_at: Option<Temperature>,
    pub pour_s: i64,
    /// Steps whose time is given.
    pub given: BTreeSet<String>,
    /// Times after development by step, s; 0 leaves one out.
    pub times_s: BTreeMap<String, i64>,
    /// Hanging a film, s.
    pub hang_s: i64,
    /// Stop, fixer, aid, wetting as named.
    pub baths: BTreeMap<String, BathSpec>,
    pub tanks: Vec<TankSpec>,
    /// What the file left out and the table gave.
    pub assumed: Vec<String>,
}

impl Evening {
    /// Reads the file's text; `file` names it in messages.
    ///
    /// # Errors
    /// Everything that is wrong, with lines.
    pub(crate) fn parse(text: &str, file: &str, table: &EveningTable) -> Result<Self, Vec<Finding>> {
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
        let steps_given = given.iter().filter(|(_, value)| value.is_some());
        let given_names: BTreeSet<String> = steps_given.map(|(name, _)| (*name).to_owned()).collect();
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
        let bottles_at =
            reader.parsed::<Temperature>("bottles_at", shape.bottles_at.as_ref(), "write such as \"14C\"");
        let mut tanks: Vec<TankSpec> = Vec::new();
        if shape.tanks.is_empty() || shape.tanks.len() > MOST_TANKS {
            let message = format!("{} tanks are no evening for one person", shape.tanks.len());
            let finding = Finding::error("evening", file, None, message, "write 1 to 6 [[tanks]]");
            reader.findings.push(finding);
        }
        for (index, spanned) in shape.tanks.into_iter().enumerate().take(MOST_TANKS) {
            let tank = reader.tank(index, spanned, &mut assumed);
            if tanks.iter().any(|other| other.name == tank.name) {
                let message = format!("two tanks are named {}", tank.name);
                let fix = "give each a name of its own".to_owned();
                reader.findings.push(Finding::error("evening", file, None, message, fix));
            }
            tanks.push(tank);
        }
        let baths = reader.baths(shape.baths.unwrap_or_default(), &tanks);
        if !reader.findings.is_empty() {
            return Err(reader.findings);
        }
        let given = given_names;
        Ok(Self { start_of_day_s, bottles_at, pour_s, given, times_s, hang_s, baths, tanks, assumed })
    }

    /// Time of a step, s; 0 where it is left out.
    pub(crate) fn time_s(&self, step: &str) -> i64 {
        self.times_s.get(step).copied().unwrap_or(0)
    }

    pub(crate) fn time_in_s(&self, tank: &TankSpec, step: &str) -> i64 {
        tank.own_s.get(step).copied().unwrap_or_else(|| self.time_s(step))
    }

    /// Whether any tank has this step.
    pub(crate) fn has(&self, step: &str) -> bool {
        self.tanks.iter().any(|tank| match &tank.steps {
            Some(steps) => steps.iter().any(|(name, own)| {
                table_name(name) == step && own.unwrap_or_else(|| self.time_in_s(tank, step)) > 0
            }),
            None => self.time_in_s(tank, step) > 0,
        })
    }

    /// The tanks as baths and hands. `changes_s` are the fills of a wash in the tank, none for a hose.
    pub(crate) fn tanks(
        &self,
        table: &EveningTable,
        changes: impl Fn(&TankSpec) -> Option<Vec<i64>>,
    ) -> Vec<Tank> {
        let first = self.first_of_day_s();
        let mut all: Vec<Tank> = Vec::new();
        let mut first_lead = None;
        for spec in &self.tanks {
            let fills = changes(spec);
            let baths = self.baths_of(spec, table, fills.as_deref());
            let lead: i64 = baths
                .iter()
                .take_while(|bath| !bath.is_developer)
                .map(|bath| bath.seconds + bath.out_s(self.pour_s))
                .sum();
            let first_lead = *first_lead.get_or_insert(lead);
            let wish = spec.start_of_day_s.zip(first).map(|(own, first)| (own - first).rem_euclid(DAY_S));
            all.push(Tank {
                name: spec.name.clone(),
                baths,
                hang_s: self.hang_s * i64::from(spec.pieces()),
                pieces: spec.pieces(),
                wish_s: wish.map(|wish| wish + first_lead - lead),
            });
        }
        all
    }

    fn baths_of(&self, spec: &TankSpec, table: &EveningTable, fills: Option<&[i64]>) -> Vec<TankBath> {
        let mut baths: Vec<TankBath> = Vec::new();
        // A pile of sheets has no shorter bath than moving all of it takes.
        let least = if spec.way == Way::Trays { i64::from(spec.pieces()) * spec.sheet_s(table) } else { 0 };
        let mix =
            |seconds: i64| TankBath { is_in_tank: false, ..rigid("mix", seconds, Hands::Continuous, false) };
        let developer = |name: &str, seconds: i64| rigid(name, seconds, developing(spec, table), true);
        let after = |row: &StepRow, name: &str, seconds: i64, baths: &mut Vec<TankBath>| match fills
            .filter(|_| row.name == "wash")
        {
            Some(changes) => baths.extend(dumped(row, changes)),
            None => baths.push(TankBath {
                name: name.to_owned(),
                ..row.bath(seconds.max(least), hands_in(row, spec, table))
            }),
        };
        if let Some(steps) = &spec.steps {
            let mut times = spec.times_s.iter().copied();
            for (name, given) in steps {
                let known = table_name(name);
                let row = table.step(known);
                let seconds = match (given, row) {
                    (Some(own), _) => *own,
                    (None, Some(_)) => self.time_in_s(spec, known),
                    (None, None) if known == "develop" => times.next().unwrap_or(0),
                    (None, None) => table.hands.mix,
                };
                if seconds == 0 {
                    continue;
                }
                match (known, row) {
                    ("mix", _) => baths.push(mix(seconds)),
                    ("develop", _) => baths.push(developer(name, seconds)),
                    ("presoak", _) => baths.push(presoak(spec, name, seconds)),
                    (_, Some(row)) => after(row, name, seconds, &mut baths),
                    // A step of one's own is moved like the developer, and ends when its time is over.
                    (_, None) => baths.push(rigid(name, seconds, developing(spec, table), false)),
                }
            }
            return baths;
        }
        if spec.presoak_s > 0 {
            baths.push(presoak(spec, "presoak", spec.presoak_s.max(least)));
        }
        if spec.mix_s > 0 {
            // What lives for minutes is mixed first; a presoak then runs beside nothing.
            baths.insert(0, mix(spec.mix_s));
        }
        match spec.times_s.as_slice() {
            [one] => baths.push(developer("develop", *one)),
            several => {
                for (place, seconds) in (b'A'..=b'Z').zip(several) {
                    baths.push(developer(&format!("develop {}", char::from(place)), *seconds));
                }
            }
        }
        for row in &table.steps {
            let seconds = self.time_in_s(spec, &row.name);
            if seconds > 0 {
                after(row, &row.name, seconds, &mut baths);
            }
        }
        baths
    }

    /// Time of the day of the first developer, s: as given, else the first tank's wish.
    pub(crate) fn first_of_day_s(&self) -> Option<i64> {
        self.start_of_day_s.or_else(|| self.tanks.iter().find_map(|tank| tank.start_of_day_s))
    }
}

/// The step whose figures an open name takes over: `fix 2` those of `fix`, `develop A` those of the developer.
pub(crate) fn table_name(name: &str) -> &str {
    name.split_whitespace().next().unwrap_or(name)
}

fn presoak(spec: &TankSpec, name: &str, seconds: i64) -> TankBath {
    let hands = match spec.way {
        Way::Trays => Hands::Continuous,
        Way::Rotary => Hands::Motor,
        Way::Tank | Way::Hangers => Hands::Poured,
    };
    rigid(name, seconds, hands, false)
}

/// A wash of fills: each ends by the hand, and only the last may wait.
fn dumped(row: &StepRow, changes: &[i64]) -> Vec<TankBath> {
    let mut fills: Vec<TankBath> = changes
        .iter()
        .map(|seconds| TankBath { is_hose: false, ..rigid(&row.name, *seconds, Hands::Poured, false) })
        .collect();
    if let Some(last) = fills.last_mut() {
        last.softness = row.bath(last.seconds, Hands::Poured).softness;
    }
    fills
}

fn rigid(name: &str, seconds: i64, hands: Hands, is_developer: bool) -> TankBath {
    let softness = Softness { calm_s: seconds, tight_s: seconds };
    TankBath {
        name: name.to_owned(),
        seconds,
        softness,
        hands,
        is_developer,
        is_hose: false,
        is_in_tank: true,
    }
}

fn developing(spec: &TankSpec, table: &EveningTable) -> Hands {
    let hands = &table.hands;
    let first_s = if spec.way == Way::Hangers { hands.hanger_first } else { hands.first_turning };
    match (spec.way, spec.agitation) {
        (Way::Rotary, _) => Hands::Motor,
        (Way::Trays, _) | (_, TankAgitation::Continuous) => Hands::Continuous,
        (_, TankAgitation::Stand) => Hands::Turned { first_s, each_s: 0, every_s: None },
        (_, TankAgitation::Each(each_s, every_s)) => {
            Hands::Turned { first_s, each_s, every_s: Some(every_s) }
        }
        (_, TankAgitation::Usual) => {
            Hands::Turned { first_s, each_s: hands.each_turning, every_s: Some(hands.every) }
        }
    }
}

fn hands_in(row: &StepRow, spec: &TankSpec, table: &EveningTable) -> Hands {
    let hands = &table.hands;
    match (spec.way, row.hands) {
        (_, HandsWord::Poured) => Hands::Poured,
        (Way::Rotary, _) => Hands::Motor,
        (Way::Trays, _) | (_, HandsWord::Continuous) => Hands::Continuous,
        (_, HandsWord::Turned) => Hands::Turned {
            first_s: if spec.way == Way::Hangers { hands.hanger_first } else { hands.first_turning },
            each_s: hands.each_turning,
            every_s: Some(hands.every),
        },
    }
}

/// A step of a tank: its name, and its time where the last word is one.
fn step(text: &str) -> Option<(String, Option<i64>)> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (last, before) = words.split_last()?;
    match seconds(last) {
        Ok(own)
            if !before.is_empty() && last.bytes().any(|byte| byte.is_ascii_alphabetic() || byte == b':') =>
        {
            Some((before.join(" "), Some(own)))
        }
        _ => Some((words.join(" "), None)),
    }
}

/// Time of the day: `19:30`, in seconds.
pub(crate) fn time_of_day(text: &str) -> Option<i64> {
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

fn agitation(text: &str) -> Option<TankAgitation> {
    match text.trim() {
        "usual" => return Some(TankAgitation::Usual),
        "none" => return Some(TankAgitation::Stand),
        "continuous" => return Some(TankAgitation::Continuous),
        _ => {}
    }
    let (each, every) = text.split_once(" each ")?;
    let (each, every) = (seconds(each).ok()?, seconds(every).ok()?);
    (each > 0 && every >= 10 && each < every).then_some(TankAgitation::Each(each, every))
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_schema_is_current() {
        crate::schema::tests::assert_file_schema::<super::EveningFile>("evening-file");
    }
}
