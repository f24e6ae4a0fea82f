//! What must not meet what: reads `tables/combinations.toml` and applies it to a vessel.
//!
//! A row fires when each of its groups finds a substance of its own and every amount that decides is reached. What is not known (an
//! amount, a molar mass) counts as enough to be dangerous and as too little to protect. What others make in the solution counts as a
//! member too, where chemicals meet in one vessel.

use std::{error, fmt};

use serde::Deserialize;

use super::amounts::{ANYTHING, Bounds, Equivalents, LimitUnit, READ, SPECIAL, Seen, is_named};
use super::extreme::Acidity;
use super::rows::Rows;
use crate::diagnostic::{Finding, read_table, read_toml};
use crate::packed::Packed;
use crate::substance::{Class, FORMAT, Form, State};
use crate::vessel::Content;

/// How grave a caution is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Good to know.
    Note,
    /// Can harm, or spoils the bath.
    Warning,
    /// Can harm badly.
    Danger,
}

impl Severity {
    /// The word printed and used in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Danger => "danger",
        }
    }
}

/// In what situation substances meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Situation {
    /// Chemicals as bought go into the vessel.
    Mixing,
    /// They are in one solution, however they came there.
    OneVessel,
    /// As weighed, on the bench or in a bin.
    Dry,
    /// One bath carried over into another, or both poured away together.
    BetweenBaths,
}

/// How a vessel is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Filling {
    /// With the chemicals of the recipe.
    FromChemicals,
    /// By pouring ready parts together.
    FromParts,
}

/// Something to tell before a step.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::struct_excessive_bools, reason = "each says something of its own of the row")]
pub struct Caution {
    /// Stable name of the rule.
    pub id: String,
    /// How grave.
    pub severity: Severity,
    /// What happens and what to do, in plain words.
    pub text: String,
    /// What forms, in a few words.
    pub product: String,
    /// The standard statement with its code.
    pub statement: Option<String>,
    /// The ids of the forms it is about, each once.
    pub about: Vec<String>,
    /// The same by group: the caution becomes true when one of each group is in the vessel.
    pub groups: Vec<Vec<String>>,
    /// The gas that comes off, by its id among the precautions.
    pub gas: Option<String>,
    /// Whether the formula works by it.
    pub is_principle: bool,
    /// It is true only where the step that completes it is warmer than this, °C.
    pub only_above_c: Option<f64>,
    /// The bath must never be closed in: an open tray, no bottle.
    pub is_open: bool,
    /// It is true of the solution as a whole (its pH, what arises in it), and not of what the members are.
    pub is_of_whole: bool,
    /// It makes heat of which no table says how much, so that nobody knows the temperature after it.
    pub heats: bool,
    /// Key of the source.
    pub source: String,
}

impl Caution {
    /// The place in an order of form ids at which the last needed member goes in; the caution belongs before that step.
    pub fn completed_at(&self, order: &[&str]) -> Option<usize> {
        let first_of = |group: &Vec<String>| order.iter().position(|id| group.iter().any(|own| own == id));
        self.groups.iter().map(first_of).collect::<Option<Vec<_>>>()?.into_iter().max()
    }
}

/// Why a vessel must not be filled so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// Stable name of the rule.
    pub id: String,
    /// What happens.
    pub text: String,
    /// What forms.
    pub product: String,
    /// What to do instead.
    pub instead: String,
    /// The ids of the forms it is about.
    pub about: Vec<String>,
    /// The standard statement with its code.
    pub statement: Option<String>,
    /// Key of the source.
    pub source: String,
}

impl fmt::Display for Refusal {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.text)
    }
}

impl error::Error for Refusal {}

impl Refusal {
    /// What to do about it.
    pub fn fix(&self) -> &str {
        &self.instead
    }
}

/// Least of what a bath makes of its own chemicals that counts when it is carried over, mol/L; our own limit.
const CARRIED_AT_LEAST: f64 = 0.1;

/// One of the groups that must meet.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Group {
    any: Vec<String>,
    #[serde(default)]
    except: Vec<String>,
    pub(super) words: Option<String>,
}

impl Group {
    pub(super) fn has(&self, form: &Form) -> bool {
        let named = |names: &[String]| names.iter().any(|name| is_named(form, name));
        named(&self.any) && !named(&self.except)
    }

    /// What of a solution belongs to it, each once; of what arises, only that of which there is so much, mol/L.
    fn members(&self, seen: &Seen<'_>, arising_at_least: f64) -> Vec<Member> {
        let mut members: Vec<Member> = Vec::new();
        for content in seen.contents.iter().filter(|content| self.has(&content.form)) {
            let id = &content.form.id;
            if !members.iter().any(|own| own.key == *id) {
                members.push(Member { key: id.clone(), of: vec![id.clone()] });
            }
        }
        let is_named = |names: &[String], class: &Class| names.iter().any(|name| name == class.word());
        let arisen = seen.arisen.iter().filter(|arisen| {
            arisen.moles.high >= arising_at_least
                && is_named(&self.any, &arisen.class)
                && !is_named(&self.except, &arisen.class)
        });
        members.extend(arisen.map(|own| Member { key: format!("={}", own.class), of: own.of.clone() }));
        members
    }

    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.any.iter().chain(&self.except).map(String::as_str)
    }
}

/// What fills a place of a group: a chemical of the vessel, or one that others make there.
#[derive(Debug, Clone)]
struct Member {
    /// What tells it from another.
    key: String,
    /// Ids of the forms that it is, or that make it.
    of: Vec<String>,
}

impl Member {
    fn is_arisen(&self) -> bool {
        self.key.starts_with('=')
    }
}

/// Ids of the forms of members, each once.
fn ids_of(members: &[Member]) -> Vec<String> {
    let mut ids: Vec<String> = Vec::new();
    for id in members.iter().flat_map(|member| &member.of) {
        if !ids.contains(id) {
            ids.push(id.clone());
        }
    }
    ids
}

/// An amount that decides.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Need {
    of: String,
    #[serde(default)]
    unit: LimitUnit,
    #[serde(rename = "in", default = "first")]
    group: usize,
    at_least: Option<f64>,
    less_than: Option<f64>,
    times: Option<String>,
    /// It holds where the amount would have to be read of the solution and nobody knows it.
    #[serde(default)]
    unknown: bool,
}

fn first() -> usize {
    1
}

impl Need {
    /// Whether it holds in a solution.
    pub(super) fn holds(&self, equivalents: &Equivalents, seen: &Seen<'_>) -> bool {
        let Some(amount) = equivalents.amount(&self.of, self.unit, seen) else { return self.unknown };
        let limit = |factor: f64| match &self.times {
            Some(other) => equivalents
                .amount(other, LimitUnit::MolesPerLitre, seen)
                .map_or(Bounds { low: 0.0, high: f64::INFINITY }, |own| own.times(factor)),
            None => Bounds { low: factor, high: factor },
        };
        !self.unknown
            && self.at_least.is_none_or(|factor| amount.high >= limit(factor).low)
            && self.less_than.is_none_or(|factor| amount.low < limit(factor).high)
    }

    /// Whether it is read of the solution.
    fn is_read(&self) -> bool {
        READ.contains(&self.of.as_str())
    }
}

/// Least of each of two chemicals whose reaction is felt in a litre, mol/L: 0.02 mol of 200 kJ/mol are one kelvin. Our own limit.
const FELT_FROM: f64 = 0.02;

/// How a mixture that is refused harms, the gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Harm {
    Explodes,
    Kills,
    Chokes,
    Else,
}

/// Gases of which a few breaths kill; common practice, no source.
const DEADLY: [&str; 4] = ["hydrogen-cyanide", "hydrogen-sulfide", "hydrogen-selenide", "carbon-monoxide"];

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(clippy::struct_excessive_bools, reason = "each is a key of its own in the table")]
pub(super) struct Row {
    id: String,
    #[serde(rename = "where")]
    situations: Vec<Situation>,
    // What the second member is where it is no ingredient; for readers of the file, the plain words say it too.
    #[serde(rename = "with")]
    with: Option<String>,
    members: Vec<Group>,
    #[serde(default)]
    needs: Vec<Need>,
    #[serde(default)]
    unless: Vec<String>,
    #[serde(default)]
    directed: bool,
    #[serde(default)]
    principle: bool,
    #[serde(default)]
    refuse: bool,
    severity: Severity,
    product: String,
    /// Of several reasons to refuse, what explodes is told first.
    #[serde(default)]
    explodes: bool,
    gas: Option<String>,
    plain: String,
    instead: Option<String>,
    statement: Option<String>,
    only_above_c: Option<f64>,
    #[serde(default)]
    open: bool,
    // Whether a bottle says that the other must not come beside it.
    #[serde(default = "yes")]
    beside: bool,
    #[serde(default)]
    replaces: Vec<String>,
    /// What arises in the vessel counts as a member only from so much on, mol/L.
    #[serde(default)]
    arising_at_least: f64,
    /// They react with heat of which no table says how much.
    #[serde(default)]
    heats: bool,
    source: String,
}

fn yes() -> bool {
    true
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CombinationsFile {
    format: u32,
    equivalents: Equivalents,
    #[serde(default)]
    combinations: Rows<Row>,
}

/// What is read at once of the packed table.
#[derive(Deserialize)]
struct Head {
    equivalents: Equivalents,
}

/// The table of combinations.
#[derive(Debug, Clone, Default)]
pub struct Combinations {
    pub(super) equivalents: Equivalents,
    pub(super) rows: Rows<Row>,
}

/// A row that fired, with its members by group.
pub(super) struct Hit<'a> {
    row: &'a Row,
    groups: Vec<Vec<String>>,
    /// Whether something that arises in the solution is among them.
    is_arisen: bool,
    heats: bool,
}

impl Hit<'_> {
    fn about(&self) -> Vec<String> {
        let mut about: Vec<String> = Vec::new();
        for id in self.groups.iter().flatten() {
            if !about.contains(id) {
                about.push(id.clone());
            }
        }
        about
    }

    fn caution(self, statement: impl Fn(&str) -> String) -> Caution {
        let row = self.row;
        Caution {
            id: row.id.clone(),
            severity: row.severity,
            text: row.plain.clone(),
            product: row.product.clone(),
            statement: row.statement.as_deref().map(statement),
            about: self.about(),
            groups: self.groups,
            gas: row.gas.clone(),
            is_principle: row.principle,
            only_above_c: row.only_above_c,
            is_open: row.open,
            is_of_whole: self.is_arisen || row.needs.iter().any(Need::is_read),
            heats: self.heats,
            source: row.source.clone(),
        }
    }

    fn refusal(self, statement: impl Fn(&str) -> String) -> Refusal {
        let row = self.row;
        Refusal {
            id: row.id.clone(),
            text: row.plain.clone(),
            product: row.product.clone(),
            instead: row.instead.clone().unwrap_or_default(),
            about: self.about(),
            statement: row.statement.as_deref().map(statement),
            source: row.source.clone(),
        }
    }
}

impl Combinations {
    /// Opens the packed table; a row is read when its members could be there.
    ///
    /// # Errors
    /// Its head is not of its shape.
    pub(super) fn open(table: Packed<'static>, file: &str) -> Result<Self, Finding> {
        let head: Head = read_table(table, file)?;
        Ok(Self { equivalents: head.equivalents, rows: Rows::of_packed(table, "combinations") })
    }

    /// Reads all of it.
    ///
    /// # Errors
    /// A row is not of its shape, or does not make sense.
    pub(super) fn parse(text: &str, file: &str) -> Result<Self, Finding> {
        let table: CombinationsFile = read_toml(text, file)?;
        super::check_format(table.format, FORMAT, file)?;
        let own = Self { equivalents: table.equivalents, rows: table.combinations };
        let ids: Vec<&str> = own.ids().collect();
        for (row, line) in own.rows.with_lines(text) {
            let wrong = |message: &str, fix: &str| {
                Finding::error("combination", file, Some(line), format!("`{}`: {message}", row.id), fix)
            };
            if let Some((message, fix)) = row.fault() {
                return Err(wrong(message, fix));
            }
            if ids.iter().filter(|id| **id == row.id).count() > 1 {
                return Err(wrong("stands twice", "give each row a name of its own"));
            }
            if let Some(lost) = row.replaces.iter().find(|id| !ids.contains(&id.as_str())) {
                return Err(wrong(&format!("replaces `{lost}`, which is no row"), "name an existing row"));
            }
        }
        Ok(own)
    }

    /// All names of classes, parents and forms in the table: what a class in a user's file is compared with.
    pub fn names(&self) -> Vec<&str> {
        let mut names: Vec<&str> =
            self.rows.all().flat_map(Row::names).chain(self.equivalents.names()).collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    /// Ids of all rows.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.rows.all().map(|row| row.id.as_str())
    }

    /// Keys of all sources and codes of all statements that the table names, for tests.
    pub fn references(&self) -> impl Iterator<Item = (&str, Option<&str>, Option<&str>)> {
        self.rows.all().map(|row| (row.source.as_str(), row.statement.as_deref(), row.gas.as_deref()))
    }

    /// What is to be said of a vessel while it is filled.
    ///
    /// # Errors
    /// What must never be in one vessel.
    pub(super) fn in_vessel(
        &self,
        vessel: &[Content],
        (litres, acidity): (f64, Option<Acidity>),
        filling: Filling,
        statement: impl Fn(&str) -> String,
    ) -> Result<Vec<Caution>, Box<Refusal>> {
        let whole = Seen { contents: vessel, arisen: self.equivalents.arisen(vessel), acidity, litres };
        // A rule of mixing alone is about the chemicals themselves, not about what goes in already dissolved or comes of them.
        let raw: Vec<Content> = vessel.iter().filter(|content| !content.as_solution).cloned().collect();
        let raw = Seen::plain(&raw);
        let mut names = names_of(vessel);
        names.extend(whole.arisen.iter().map(|arisen| arisen.class.word()));
        let here = |row: &&Row| -> bool {
            row.situations.contains(&Situation::OneVessel)
                || (filling == Filling::FromChemicals && row.situations.contains(&Situation::Mixing))
        };
        let mut hits = Vec::new();
        for row in self.rows.among(&names, false, &["one-vessel", "mixing"]).into_iter().filter(here) {
            let is_of_one = row.situations.contains(&Situation::OneVessel);
            let fires = row.needs.iter().all(|need| need.holds(&self.equivalents, &whole))
                && !row.is_lifted_by(vessel);
            hits.extend(row.hit(if is_of_one { &whole } else { &raw }).filter(|_| fires));
        }
        let is_replaced = |id: &str| hits.iter().any(|hit| hit.row.replaces.iter().any(|own| own == id));
        // Of several reasons the gravest is told; of equals, the first in the table.
        let refuses = |hit: &&Hit<'_>| hit.row.refuse;
        let worst = hits.iter().filter(refuses).min_by_key(|hit| (is_replaced(&hit.row.id), hit.row.harm()));
        let worst = worst.and_then(|worst| hits.iter().position(|hit| hit.row.id == worst.row.id));
        if let Some(worst) = worst {
            return Err(Box::new(hits.swap_remove(worst).refusal(statement)));
        }
        Ok(told(hits, statement))
    }

    /// What is to be said of chemicals as weighed, side by side.
    pub(super) fn dry(&self, contents: &[Content], statement: impl Fn(&str) -> String) -> Vec<Caution> {
        let bench: Vec<Content> =
            contents.iter().filter(|content| content.form.state != State::Solution).cloned().collect();
        let names = names_of(&bench);
        let here = self
            .rows
            .among(&names, false, &["dry"])
            .into_iter()
            .filter(|row| row.situations.contains(&Situation::Dry));
        let bench = Seen::plain(&bench);
        told(here.filter_map(|row| row.hit(&bench)).collect(), statement)
    }

    /// What is to be said of two baths of which the first is carried over into the second, or with which it is poured away.
    pub(super) fn between(
        &self,
        earlier: &[Content],
        later: &[Content],
        statement: impl Fn(&str) -> String,
    ) -> Vec<Caution> {
        // What a bath makes of its own chemicals is carried over too.
        let seen = |contents| Seen { arisen: self.equivalents.arisen(contents), ..Seen::plain(contents) };
        let (before, after) = (seen(earlier), seen(later));
        let arisen = before.arisen.iter().chain(&after.arisen).map(|own| own.class.word());
        let names: Vec<&str> = names_of(earlier).into_iter().chain(names_of(later)).chain(arisen).collect();
        let here = self.rows.among(&names, false, &["between-baths"]);
        let here = here.into_iter().filter(|row| row.situations.contains(&Situation::BetweenBaths));
        told(here.filter_map(|row| row.across(&before, &after, &self.equivalents)).collect(), statement)
    }

    /// What a bath must not meet without a wash, in words, with how grave it would be; the gravest first.
    pub(super) fn never_beside(&self, bath: &[Content]) -> Vec<(Severity, String)> {
        let mut all: Vec<(Severity, String)> = Vec::new();
        for row in self.rows.among(&names_of(bath), true, &["between-baths"]) {
            let is_between = row.situations.contains(&Situation::BetweenBaths);
            if !is_between || row.severity < Severity::Warning || row.is_lifted_by(bath) {
                continue;
            }
            let holds = |group: usize| {
                row.needs
                    .iter()
                    .filter(|need| need.group == group)
                    .all(|need| need.holds(&self.equivalents, &Seen::plain(bath)))
            };
            let inside: Vec<bool> = row
                .members
                .iter()
                .enumerate()
                .map(|(index, group)| bath.iter().any(|content| group.has(&content.form)) && holds(index + 1))
                .collect();
            if !inside.contains(&true) || !inside.contains(&false) {
                continue;
            }
            // The household bleach itself says it of all.
            if !row.beside && inside.first() != Some(&true) {
                continue;
            }
            let others = row.members.iter().zip(&inside).filter(|(_, inside)| !**inside);
            let words: Vec<&str> = others.filter_map(|(group, _)| group.words.as_deref()).collect();
            let words = words.join(" and ");
            if !words.is_empty() && !all.iter().any(|(_, own)| *own == words) {
                all.push((row.severity, words));
            }
        }
        all.sort_by_key(|(severity, _)| std::cmp::Reverse(*severity));
        all
    }
}

/// All names by which a row could mean what is in a vessel: forms, parents, classes, codes of statements.
pub(super) fn names_of(vessel: &[Content]) -> Vec<&str> {
    let mut names = vec![ANYTHING];
    for content in vessel {
        let parent = &content.form.parent;
        names.extend([content.form.id.as_str(), parent.id.as_str()]);
        names.extend(parent.classes.iter().flatten().map(Class::word));
        names.extend(content.form.hazards.codes());
    }
    names
}

/// Hits as cautions, without those that a graver one replaces; the gravest first.
fn told(hits: Vec<Hit<'_>>, statement: impl Fn(&str) -> String) -> Vec<Caution> {
    let replaced: Vec<String> = hits.iter().flat_map(|hit| hit.row.replaces.clone()).collect();
    let mut cautions: Vec<Caution> = hits
        .into_iter()
        .filter(|hit| !replaced.contains(&hit.row.id))
        .map(|hit| hit.caution(&statement))
        .collect();
    cautions.sort_by_key(|caution| std::cmp::Reverse(caution.severity));
    cautions
}

impl Row {
    fn names(&self) -> impl Iterator<Item = &str> {
        let of_needs =
            self.needs.iter().flat_map(|need| [Some(need.of.as_str()), need.times.as_deref()]).flatten();
        let of_groups = self.members.iter().flat_map(Group::names);
        of_groups
            .chain(of_needs)
            .chain(self.unless.iter().map(String::as_str))
            .filter(|name| !SPECIAL.contains(name))
    }

    /// What does not make sense in a row, with how to mend it.
    fn fault(&self) -> Option<(&'static str, &'static str)> {
        let between = self.situations.contains(&Situation::BetweenBaths);
        if self.situations.is_empty() {
            return Some(("applies nowhere", "name a situation in `where`"));
        }
        let fewest = if self.with.is_some() { 1 } else { 2 };
        if !(fewest..=3).contains(&self.members.len()) {
            return Some((
                "has too few or too many members",
                "write two or three groups, or one group and `with`",
            ));
        }
        if self.refuse && (self.instead.is_none() || self.principle) {
            return Some(("refuses without a way out", "say `instead`, and refuse no working principle"));
        }
        if between && self.members.iter().any(|group| group.words.is_none()) {
            return Some(("has a bath without a name", "give each group `words`"));
        }
        let sane = |need: &Need| {
            (1..=self.members.len()).contains(&need.group)
                && (if need.unknown {
                    need.is_read() && need.at_least.is_none() && need.less_than.is_none()
                } else {
                    need.at_least.is_some() != need.less_than.is_some()
                })
        };
        if !self.needs.iter().all(sane) {
            return Some((
                "has an amount that decides nothing",
                "write at_least or less_than, of an existing group",
            ));
        }
        None
    }

    /// How it harms, the gravest first: what explodes, what kills or chokes as a gas, the rest.
    fn harm(&self) -> Harm {
        if self.explodes {
            Harm::Explodes
        } else if self.gas.as_deref().is_some_and(|gas| DEADLY.contains(&gas)) {
            Harm::Kills
        } else if self.gas.is_some() {
            Harm::Chokes
        } else {
            Harm::Else
        }
    }

    fn is_lifted_by(&self, vessel: &[Content]) -> bool {
        vessel.iter().any(|content| self.unless.iter().any(|name| is_named(&content.form, name)))
    }

    /// The row as it fires by what is in a solution, if every group has one of its own.
    fn hit(&self, seen: &Seen<'_>) -> Option<Hit<'_>> {
        let members: Vec<Vec<Member>> =
            self.members.iter().map(|group| group.members(seen, self.arising_at_least)).collect();
        let keys: Vec<Vec<String>> =
            members.iter().map(|group| group.iter().map(|own| own.key.clone()).collect()).collect();
        each_has_its_own(&keys, &mut Vec::new()).then(|| Hit {
            row: self,
            is_arisen: members.iter().flatten().any(Member::is_arisen),
            heats: self.heats && self.is_much(seen),
            groups: members.iter().map(|group| ids_of(group)).collect(),
        })
    }

    /// Whether there is so much of each group that the heat of their reaction is felt; what is not known counts as much.
    fn is_much(&self, seen: &Seen<'_>) -> bool {
        self.members.iter().all(|group| {
            let own = seen.contents.iter().filter(|content| group.has(&content.form));
            own.map(Content::at_most_moles).sum::<Option<f64>>().is_none_or(|moles| moles >= FELT_FROM)
        })
    }

    /// Whether the row fires across two baths, with at least one of its groups in each.
    fn across(&self, earlier: &Seen<'_>, later: &Seen<'_>, equivalents: &Equivalents) -> Option<Hit<'_>> {
        let count = self.members.len();
        let all = (1usize << count) - 1;
        // Bit n of the choice: whether group n is looked for in the earlier bath. All in one bath is not between baths.
        let mut choices = (1..all).filter(|choice| !self.directed || *choice == 1);
        let least = self.arising_at_least.max(CARRIED_AT_LEAST);
        let groups = choices.find_map(|choice| {
            let bath = |group: usize| if choice & (1 << group) == 0 { later } else { earlier };
            let holds = self.needs.iter().all(|need| need.holds(equivalents, bath(need.group - 1)));
            let of = |(index, group): (usize, &Group)| ids_of(&group.members(bath(index), least));
            let groups: Vec<Vec<String>> = self.members.iter().enumerate().map(of).collect();
            (holds && groups.iter().all(|group| !group.is_empty())).then_some(groups)
        })?;
        (!self.is_lifted_by(later.contents)).then_some(Hit {
            row: self,
            groups,
            is_arisen: false,
            heats: false,
        })
    }
}

/// Whether each group can be given a member that no other group needs.
fn each_has_its_own<'a>(groups: &'a [Vec<String>], taken: &mut Vec<&'a str>) -> bool {
    let Some((group, rest)) = groups.split_first() else { return true };
    group.iter().any(|id| {
        if taken.contains(&id.as_str()) {
            return false;
        }
        taken.push(id);
        let fits = each_has_its_own(rest, taken);
        taken.pop();
        fits
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;
    use crate::safety::SafetyData;
    use crate::safety::baths::BathSummary;
    use crate::vessel::Vessel;

    #[test]
    fn what_is_looked_at_before_a_row_is_read_is_what_stands_in_it() {
        let packed = crate::library::Library::shipped().packed("combinations.toml");
        let table = Combinations::open(packed, "combinations.toml").unwrap();
        for (row, lists) in table.rows.with_lists() {
            let members: Vec<Vec<&str>> =
                row.members.iter().map(|group| group.any.iter().map(String::as_str).collect()).collect();
            assert_eq!(lists, members, "{}", row.id);
        }
    }

    #[test]
    fn a_chemical_that_two_groups_mean_does_not_meet_itself() {
        let each = |groups: &[&[&str]]| {
            let groups: Vec<Vec<String>> =
                groups.iter().map(|group| group.iter().map(|id| (*id).to_owned()).collect()).collect();
            each_has_its_own(&groups, &mut Vec::new())
        };
        // Sodium hypochlorite is alkaline, metabisulfite both acid and sulfite: alone in a vessel neither is a mixture.
        assert!(!each(&[&["metabisulfite"], &["metabisulfite"]]));
        assert!(each(&[&["metabisulfite"], &["metabisulfite", "sulfite"]]));
        assert!(each(&[&["metabisulfite", "acid"], &["metabisulfite"]]), "whichever group is asked first");
        // Two chemicals are not enough for three groups.
        assert!(!each(&[&["a", "b"], &["a", "b"], &["a", "b"]]));
        assert!(each(&[&["a", "b"], &["a", "b"], &["b", "c"]]));
        assert!(!each(&[&["a"], &[]]), "a group that nothing in the vessel belongs to");
    }

    const SALT: &str = "sodium-chloride";
    const BROMIDE: &str = "potassium-bromide";
    const BORAX: &str = "borax-decahydrate";

    /// A row of an invented table: its name, where it applies, its members by form, and further keys.
    fn row(id: &str, places: &str, members: &[&str], more: &str) -> String {
        let groups: Vec<String> = members
            .iter()
            .map(|own| format!("{{ any = [\"{own}\"], words = \"baths with {own}\" }}"))
            .collect();
        let severity = if more.contains("severity") { "" } else { "severity = \"warning\"\n" };
        format!(
            "[[combinations]]\nid = \"{id}\"\nwhere = [{places}]\nmembers = [{}]\n{severity}product = \"p\"\nplain = \"t\"\nsource = \"memory\"\n{more}\n",
            groups.join(", ")
        )
    }

    fn table(rows: &[String]) -> Result<Combinations, Finding> {
        let head = "format = 1\n[equivalents]\nsource = \"memory\"\nacid = {}\nalkali = {}\nsulfite = {}\n";
        Combinations::parse(&(head.to_owned() + &rows.concat()), "combinations.toml")
    }

    fn vessel(contents: &[(&str, f64)]) -> Vessel {
        let library = Library::shipped();
        contents.iter().map(|(id, grams)| Content::grams(&library.form(id).unwrap(), *grams)).collect()
    }

    fn ids(cautions: &[Caution]) -> Vec<&str> {
        cautions.iter().map(|own| own.id.as_str()).collect()
    }

    /// The rows told of a vessel of a litre filled with chemicals, or the row that refuses it.
    fn told_of(rows: &[String], contents: &[Content], litres: f64) -> Vec<String> {
        match table(rows).unwrap().in_vessel(contents, (litres, None), Filling::FromChemicals, str::to_owned)
        {
            Ok(cautions) => ids(&cautions).into_iter().map(str::to_owned).collect(),
            Err(refusal) => vec![format!("refused: {}", refusal.id)],
        }
    }

    #[test]
    fn a_row_that_makes_no_sense_is_refused_with_what_is_wrong() {
        let two = [SALT, BROMIDE];
        let wrong = |row: String| table(&[row]).err().map(|finding| finding.message);
        let mixing = "\"mixing\"";
        assert_eq!(wrong(row("x", mixing, &two, "")), None);
        assert_eq!(wrong(row("x", mixing, &[SALT], "with = \"water\"")), None);
        assert_eq!(wrong(row("x", mixing, &[SALT, BROMIDE, BORAX], "")), None);
        assert_eq!(wrong(row("x", mixing, &two, "refuse = true\ninstead = \"i\"")), None);
        let need = |need: &str| row("x", mixing, &two, &format!("needs = [{{ of = \"{SALT}\", {need} }}]"));
        for good in ["at_least = 1", "less_than = 1", "at_least = 1, in = 2"] {
            assert_eq!(wrong(need(good)), None, "{good}");
        }
        for (bad, words) in [
            (row("x", "", &two, ""), "applies nowhere"),
            (row("x", mixing, &[SALT], ""), "too few"),
            (row("x", mixing, &[], "with = \"water\""), "too few"),
            (row("x", mixing, &[SALT, BROMIDE, BORAX, "metol"], ""), "too few or too many"),
            (row("x", mixing, &two, "refuse = true"), "without a way out"),
            (row("x", mixing, &two, "refuse = true\ninstead = \"i\"\nprinciple = true"), "without a way out"),
            (
                row("x", "\"between-baths\"", &two, "").replacen(
                    ", words = \"baths with sodium-chloride\"",
                    "",
                    1,
                ),
                "without a name",
            ),
            (need("unit = \"g/L\""), "decides nothing"),
            (need("at_least = 1, less_than = 2"), "decides nothing"),
            (need("at_least = 1, in = 3"), "decides nothing"),
            (need("at_least = 1, in = 0"), "decides nothing"),
            (row("x", mixing, &two, "replaces = [\"y\"]"), "which is no row"),
            (row("x", mixing, &two, "") + &row("x", mixing, &two, ""), "stands twice"),
        ] {
            assert!(wrong(bad.clone()).is_some_and(|message| message.contains(words)), "{words}: {bad}");
        }
        let unnamed = row("x", mixing, &two, "").replace(", words = \"baths with sodium-chloride\"", "");
        assert_eq!(wrong(unnamed), None, "no bath is named where none follows");
    }

    #[test]
    fn a_rule_of_mixing_is_about_chemicals_and_one_of_a_vessel_about_all_in_it() {
        let rows = [
            row("mixing", "\"mixing\"", &[SALT, BROMIDE], ""),
            row("vessel", "\"one-vessel\"", &[SALT, BROMIDE], ""),
        ];
        let mut contents: Vec<Content> = vessel(&[(SALT, 10.0), (BROMIDE, 10.0)]).into_iter().collect();
        let table = table(&rows).unwrap();
        let filled = |contents: &[Content], filling| -> Vec<String> {
            let told = table.in_vessel(contents, (1.0, None), filling, str::to_owned).unwrap();
            ids(&told).into_iter().map(str::to_owned).collect()
        };
        assert_eq!(filled(&contents, Filling::FromChemicals), ["mixing", "vessel"]);
        assert_eq!(filled(&contents, Filling::FromParts), ["vessel"]);
        contents[0].as_solution = true;
        assert_eq!(filled(&contents, Filling::FromChemicals), ["vessel"], "it is dissolved already");
        assert!(filled(&contents[..1], Filling::FromChemicals).is_empty());
    }

    #[test]
    fn an_amount_decides_from_its_limit_on_and_what_is_not_known_is_enough() {
        let of = |need: &str, salt: f64, litres: f64| {
            let rows = [row(
                "x",
                "\"mixing\"",
                &[SALT, BROMIDE],
                &format!("needs = [{{ of = \"{SALT}\", {need} }}]"),
            )];
            !told_of(&rows, &vessel(&[(SALT, salt), (BROMIDE, 11.9)]), litres).is_empty()
        };
        let grams = "unit = \"g/L\"";
        assert!(
            of(&format!("at_least = 5, {grams}"), 5.0, 1.0)
                && !of(&format!("at_least = 5, {grams}"), 4.9, 1.0)
        );
        assert!(
            of(&format!("less_than = 5, {grams}"), 4.9, 1.0)
                && !of(&format!("less_than = 5, {grams}"), 5.0, 1.0)
        );
        // In the whole batch.
        assert!(of("at_least = 10, unit = \"g\"", 5.0, 2.0) && !of("at_least = 10, unit = \"g\"", 5.0, 1.9));
        // 58.44 g/mol of salt and 119.00 of bromide (IUPAC): 11.9 g are 0.1 mol, twice that are 11.69 g of salt.
        let twice = |salt| of(&format!("at_least = 2, times = \"{BROMIDE}\""), salt, 1.0);
        assert!(twice(11.7) && !twice(11.6));
        assert!(of("at_least = 0.1", 5.85, 1.0) && !of("at_least = 0.1", 5.83, 1.0));
        // An unknown amount is enough to be dangerous and too little to protect.
        let unknown = |need: &str| {
            let rows = [row(
                "x",
                "\"mixing\"",
                &[SALT, BROMIDE],
                &format!("needs = [{{ of = \"{SALT}\", {need}, {grams} }}]"),
            )];
            let mut contents: Vec<Content> = vessel(&[(SALT, 1.0), (BROMIDE, 10.0)]).into_iter().collect();
            contents[0].grams_per_litre = None;
            !told_of(&rows, &contents, 1.0).is_empty()
        };
        assert!(unknown("at_least = 500") && unknown("less_than = 0.001"));
        // Every line of needs has to hold.
        let both = [row(
            "x",
            "\"mixing\"",
            &[SALT, BROMIDE],
            &format!(
                "needs = [{{ of = \"{SALT}\", at_least = 5, {grams} }}, {{ of = \"{BROMIDE}\", at_least = 50, {grams} }}]"
            ),
        )];
        assert!(told_of(&both, &vessel(&[(SALT, 10.0), (BROMIDE, 10.0)]), 1.0).is_empty());
        assert!(!told_of(&both, &vessel(&[(SALT, 10.0), (BROMIDE, 50.0)]), 1.0).is_empty());
    }

    #[test]
    fn what_lifts_a_row_lifts_it_and_what_replaces_one_takes_its_place() {
        let lifted = [row("x", "\"mixing\"", &[SALT, BROMIDE], &format!("unless = [\"{BORAX}\"]"))];
        assert_eq!(told_of(&lifted, &vessel(&[(SALT, 10.0), (BROMIDE, 10.0)]), 1.0), ["x"]);
        assert!(told_of(&lifted, &vessel(&[(SALT, 10.0), (BROMIDE, 10.0), (BORAX, 1.0)]), 1.0).is_empty());
        let rows = [
            row("weak", "\"mixing\"", &[SALT, BROMIDE], ""),
            row("strong", "\"mixing\"", &[SALT, BROMIDE], "severity = \"danger\"\nreplaces = [\"weak\"]"),
            row("note", "\"mixing\"", &[SALT, BROMIDE], "severity = \"note\""),
            row("grave", "\"mixing\"", &[SALT, BROMIDE], "severity = \"danger\""),
        ];
        assert_eq!(
            told_of(&rows, &vessel(&[(SALT, 10.0), (BROMIDE, 10.0)]), 1.0),
            ["strong", "grave", "note"],
            "the gravest first"
        );
    }

    #[test]
    fn of_several_reasons_to_refuse_the_gravest_is_told() {
        let refuse = |id: &str, more: &str| {
            row(id, "\"mixing\"", &[SALT, BROMIDE], &format!("refuse = true\ninstead = \"i\"\n{more}"))
        };
        let told = row("told", "\"mixing\"", &[SALT, BROMIDE], "severity = \"danger\"");
        let spoils = refuse("spoils", "");
        let chokes = refuse("chokes", "gas = \"chlorine\"");
        let kills = refuse("kills", "gas = \"hydrogen-sulfide\"");
        let explodes = refuse("explodes", "explodes = true");
        let contents = vessel(&[(SALT, 10.0), (BROMIDE, 10.0)]);
        let all = [told, spoils, chokes, kills, explodes];
        for (count, gravest) in [(2, "spoils"), (3, "chokes"), (4, "kills"), (5, "explodes")] {
            assert_eq!(told_of(&all[..count], &contents, 1.0), [format!("refused: {gravest}")]);
        }
        assert_eq!(told_of(&all[..1], &contents, 1.0), ["told"]);
        // What another row stands in for is not the reason.
        let instead = refuse("instead", "replaces = [\"explodes\"]");
        assert_eq!(told_of(&[all[4].clone(), instead], &contents, 1.0), ["refused: instead"]);
    }

    #[test]
    fn side_by_side_lie_only_what_is_weighed() {
        let acid = "acetic-acid-28";
        let rows = [
            row("dry", "\"dry\"", &[SALT, BROMIDE], ""),
            row("acid", "\"dry\"", &[SALT, acid], ""),
            row("wet", "\"mixing\"", &[SALT, BROMIDE], ""),
        ];
        let table = table(&rows).unwrap();
        let contents = vessel(&[(SALT, 10.0), (BROMIDE, 10.0), (acid, 50.0)]);
        assert_eq!(ids(&table.dry(&contents, str::to_owned)), ["dry"]);
        assert!(table.dry(&contents[..1], str::to_owned).is_empty());
    }

    #[test]
    fn between_two_baths_each_brings_something_and_the_direction_can_matter() {
        let between = |more: &str, members: &[&str], earlier: &[(&str, f64)], later: &[(&str, f64)]| {
            let table = table(&[row("x", "\"between-baths\"", members, more)]).unwrap();
            !table.between(&vessel(earlier), &vessel(later), str::to_owned).is_empty()
        };
        let (salt, bromide, borax) = ((SALT, 10.0), (BROMIDE, 10.0), (BORAX, 10.0));
        let two = [SALT, BROMIDE];
        assert!(between("", &two, &[salt], &[bromide]) && between("", &two, &[bromide], &[salt]));
        assert!(between("directed = true", &two, &[salt], &[bromide]));
        assert!(!between("directed = true", &two, &[bromide], &[salt]));
        // All of it in one bath was told when that was mixed.
        assert!(
            !between("", &two, &[salt, bromide], &[borax]) && !between("", &two, &[borax], &[salt, bromide])
        );
        assert!(!between("", &two, &[salt], &[borax]) && !between("", &two, &[salt], &[salt]));
        // Of three, one on this side and two on the other.
        let three = [SALT, BROMIDE, BORAX];
        for (earlier, later) in [
            (&[salt][..], &[bromide, borax][..]),
            (&[bromide, borax], &[salt]),
            (&[borax], &[salt, bromide]),
            (&[salt, borax], &[bromide]),
        ] {
            assert!(between("", &three, earlier, later), "{earlier:?} {later:?}");
        }
        assert!(!between("", &three, &[salt, bromide, borax], &[("metol", 1.0)]));
        // An amount is looked for in the bath of its group; what lifts it has to be in the later one.
        let need = format!("needs = [{{ of = \"{BROMIDE}\", unit = \"g/L\", at_least = 20, in = 2 }}]");
        assert!(
            between(&need, &two, &[salt], &[(BROMIDE, 20.0)])
                && between(&need, &two, &[(BROMIDE, 20.0)], &[salt])
        );
        assert!(!between(&need, &two, &[salt, (BROMIDE, 30.0)], &[bromide]));
        let unless = format!("unless = [\"{BORAX}\"]");
        assert!(
            !between(&unless, &two, &[salt], &[bromide, borax])
                && between(&unless, &two, &[salt, borax], &[bromide])
        );
        let elsewhere = table(&[row("x", "\"mixing\"", &two, "")]).unwrap();
        assert!(elsewhere.between(&vessel(&[salt]), &vessel(&[bromide]), str::to_owned).is_empty());
    }

    #[test]
    fn a_bottle_names_the_baths_that_must_not_come_beside_it() {
        let beside = |rows: &[String], bath: &[(&str, f64)]| -> Vec<String> {
            table(rows).unwrap().never_beside(&vessel(bath)).into_iter().map(|(_, words)| words).collect()
        };
        let place = "\"between-baths\"";
        let (salt, bromide) = ((SALT, 10.0), (BROMIDE, 10.0));
        let plain = row("x", place, &[SALT, BROMIDE], "");
        assert_eq!(beside(std::slice::from_ref(&plain), &[salt]), [format!("baths with {BROMIDE}")]);
        assert_eq!(beside(std::slice::from_ref(&plain), &[bromide]), [format!("baths with {SALT}")]);
        assert!(beside(std::slice::from_ref(&plain), &[salt, bromide]).is_empty(), "both are in it");
        assert!(beside(std::slice::from_ref(&plain), &[("metol", 1.0)]).is_empty());
        assert!(beside(&[row("x", place, &[SALT, BROMIDE], "severity = \"note\"")], &[salt]).is_empty());
        assert!(beside(&[row("x", "\"mixing\"", &[SALT, BROMIDE], "")], &[salt]).is_empty());
        assert!(
            beside(&[row("x", place, &[SALT, BROMIDE], &format!("unless = [\"{SALT}\"]"))], &[salt])
                .is_empty()
        );
        // Household bleach says it of all: the others need not say it of household bleach.
        let bleach = row("x", place, &[SALT, BROMIDE], "beside = false");
        assert_eq!(beside(std::slice::from_ref(&bleach), &[salt]).len(), 1);
        assert!(beside(&[bleach], &[bromide]).is_empty());
        // Too little of it is no member.
        let need = row(
            "x",
            place,
            &[SALT, BROMIDE],
            &format!("needs = [{{ of = \"{SALT}\", unit = \"g/L\", at_least = 20 }}]"),
        );
        assert!(beside(std::slice::from_ref(&need), &[salt]).is_empty());
        assert_eq!(beside(std::slice::from_ref(&need), &[(SALT, 20.0)]).len(), 1);
        assert_eq!(beside(&[need], &[bromide]).len(), 1, "the other need not know how much");
        // The gravest first, and each once.
        let danger = row("z", place, &[SALT, BORAX], "severity = \"danger\"");
        let again = row("y", place, &[SALT, BROMIDE], "");
        let all = beside(&[plain, again, danger], &[salt]);
        assert_eq!(all, [format!("baths with {BORAX}"), format!("baths with {BROMIDE}")]);
        let three = row("x", place, &[SALT, BROMIDE, BORAX], "");
        assert_eq!(beside(&[three], &[salt]), [format!("baths with {BROMIDE} and baths with {BORAX}")]);
    }

    #[test]
    fn two_baths_apart_in_a_sequence_are_told_of_only_where_it_is_grave() {
        let library = Library::shipped();
        let bath = |id: &str| BathSummary { name: id.to_owned(), contents: vessel(&[(id, 10.0)]) };
        let told = |severity: &str, baths: &[BathSummary]| {
            let rows =
                [row("x", "\"between-baths\"", &[SALT, BROMIDE], &format!("severity = \"{severity}\""))];
            let data = SafetyData { combinations: table(&rows).unwrap(), ..SafetyData::shipped(&library) };
            let all = data.between(&baths.iter().collect::<Vec<_>>());
            all.into_iter().map(|own| (own.earlier, own.later, own.is_next)).collect::<Vec<_>>()
        };
        let (next, apart) = ([bath(SALT), bath(BROMIDE)], [bath(SALT), BathSummary::wash(), bath(BROMIDE)]);
        assert_eq!(told("warning", &next), [(0, 1, true)]);
        assert!(told("warning", &apart).is_empty());
        assert_eq!(told("danger", &apart), [(0, 2, false)]);
        assert!(BathSummary::wash().is_wash() && !bath(SALT).is_wash());
    }

    #[test]
    fn a_caution_stands_before_the_step_that_completes_it_and_names_each_thing_once() {
        let rows = [row("x", "\"mixing\"", &[SALT, BROMIDE], "")];
        let twice: Vec<Content> = vessel(&[(SALT, 5.0), (BROMIDE, 5.0), (SALT, 5.0)]).into_iter().collect();
        let told = table(&rows)
            .unwrap()
            .in_vessel(&twice, (1.0, None), Filling::FromChemicals, str::to_owned)
            .unwrap();
        assert_eq!(told[0].about, [SALT, BROMIDE]);
        assert_eq!(told[0].groups, [vec![SALT.to_owned()], vec![BROMIDE.to_owned()]]);
        for (order, place) in [
            (&[SALT, BORAX, BROMIDE][..], Some(2)),
            (&[BROMIDE, SALT, BORAX], Some(1)),
            (&[SALT, BROMIDE, SALT], Some(1)),
            (&[SALT, BORAX], None),
        ] {
            assert_eq!(told[0].completed_at(order), place, "{order:?}");
        }
    }
}
