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
struct Row {
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
    rows: Rows<Row>,
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
        let names: Vec<&str> = names_of(earlier).into_iter().chain(names_of(later)).collect();
        let here = self.rows.among(&names, false, &["between-baths"]);
        let here = here.into_iter().filter(|row| row.situations.contains(&Situation::BetweenBaths));
        told(here.filter_map(|row| row.across(earlier, later, &self.equivalents)).collect(), statement)
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

/// All names by which a row could mean what is in a vessel: forms, parents, classes.
pub(super) fn names_of(vessel: &[Content]) -> Vec<&str> {
    let mut names = vec![ANYTHING];
    for content in vessel {
        let parent = &content.form.parent;
        names.extend([content.form.id.as_str(), parent.id.as_str()]);
        names.extend(parent.classes.iter().flatten().map(Class::word));
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
    fn across(&self, earlier: &[Content], later: &[Content], equivalents: &Equivalents) -> Option<Hit<'_>> {
        let count = self.members.len();
        let all = (1usize << count) - 1;
        // Bit n of the choice: whether group n is looked for in the earlier bath. All in one bath is not between baths.
        let mut choices = (1..all).filter(|choice| !self.directed || *choice == 1);
        let groups = choices.find_map(|choice| {
            let bath = |group: usize| if choice & (1 << group) == 0 { later } else { earlier };
            let holds =
                self.needs.iter().all(|need| need.holds(equivalents, &Seen::plain(bath(need.group - 1))));
            let of = |(index, group): (usize, &Group)| ids_of(&group.members(&Seen::plain(bath(index)), 0.0));
            let groups: Vec<Vec<String>> = self.members.iter().enumerate().map(of).collect();
            (holds && groups.iter().all(|group| !group.is_empty())).then_some(groups)
        })?;
        (!self.is_lifted_by(later)).then_some(Hit { row: self, groups, is_arisen: false, heats: false })
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
}
