//! Formulas by what a person wishes ("sharper", "keeps long"), from the table `tables/wishes.toml`.
//!
//! Words typed are read as wishes, as chemicals to leave out ("no hydroquinone"), as a kind, as something the program answers
//! elsewhere, or stay what they are: words that must occur. Each formula gets points for each wish, with the reasons; the ranking puts
//! those first that meet the most wishes.

mod stem;

use serde::Deserialize;

use crate::composition::Composer;
use crate::diagnostic::{Finding, TableSource, read_table};
use crate::formula::{Formula, Kind};
use crate::library::Library;
use crate::qualities::measure::{Measures, Test};
use crate::qualities::{Qualities, Rule};
use stem::{stem, words};

const FILE: &str = "wishes.toml";
/// Points for a formula whose own words speak for a wish; judgement, no source.
const MENTIONED: f64 = 2.0;
/// Points that one wish can bring at most, so that none outweighs the others; judgement, no source.
const MOST_POINTS: f64 = 6.0;

/// Something a person may wish.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wish {
    /// As printed.
    pub name: String,
    said: Vec<String>,
    /// In what it is looked for.
    pub kinds: Vec<Kind>,
    quality: Option<String>,
    #[serde(default)]
    turned: bool,
    at_least: f64,
    #[serde(default)]
    mentions: Vec<String>,
    #[serde(default)]
    because: Vec<Rule>,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct KindWords {
    said: Vec<String>,
    kinds: Vec<Kind>,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Elsewhere {
    said: Vec<String>,
    fix: String,
}

#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct WishesFile {
    #[serde(rename = "format")]
    _format: u32,
    #[serde(default)]
    kinds: Vec<KindWords>,
    #[serde(default)]
    idle: Vec<String>,
    #[serde(default)]
    wishes: Vec<Wish>,
    #[serde(default)]
    elsewhere: Vec<Elsewhere>,
}

/// The table of wishes.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Wishes(WishesFile);

/// What the words typed were read as.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Asked<'a> {
    /// Wishes, in the order typed.
    pub wishes: Vec<&'a Wish>,
    /// Kinds that were named.
    pub kinds: Vec<Kind>,
    /// Chemicals to leave out, as typed.
    pub without: Vec<String>,
    /// Where the program answers what is no formula.
    pub elsewhere: Vec<&'a str>,
    /// The other words.
    pub words: Vec<String>,
}

/// Why a formula has points for a wish.
#[derive(Debug, Clone, PartialEq)]
pub struct Because {
    /// Points, below zero where it speaks against it.
    pub score: f64,
    /// In words.
    pub why: String,
    /// Where that comes from.
    pub source: String,
}

/// One wish of one formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Granted<'a> {
    /// The wish.
    pub wish: &'a Wish,
    /// Points.
    pub points: f64,
    /// Whether that is enough.
    pub met: bool,
    /// Why, the weightiest first.
    pub because: Vec<Because>,
}

/// One formula among those found.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranked<'a, 'f> {
    /// The formula.
    pub formula: &'f Formula,
    /// Wish by wish, in the order typed.
    pub granted: Vec<Granted<'a>>,
}

impl Ranked<'_, '_> {
    /// How many wishes it meets.
    pub fn met(&self) -> usize {
        self.granted.iter().filter(|own| own.met).count()
    }

    fn points(&self) -> f64 {
        self.granted.iter().map(|own| own.points.min(MOST_POINTS)).sum()
    }
}

impl Wishes {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Finding> {
        Ok(Self(read_table(source, file)?))
    }

    /// The shipped table; a test proves it readable.
    pub fn shipped(library: &Library) -> Self {
        Self::parse(library.packed(FILE), FILE).unwrap_or_default()
    }

    /// The names of all wishes.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.wishes.iter().map(|wish| wish.name.as_str())
    }

    /// Every way to say a wish, word by word.
    pub fn vocabulary(&self) -> impl Iterator<Item = String> {
        self.0.wishes.iter().flat_map(|wish| &wish.said).flat_map(|said| words(said))
    }

    /// Reads words. The longest saying wins; `is_chemical` says whether words after "no" or "without" name one.
    pub fn read(&self, typed: &[String], is_chemical: &dyn Fn(&str) -> bool) -> Asked<'_> {
        let mut asked = Asked::default();
        let all: Vec<String> = typed.iter().flat_map(|text| words(text)).collect();
        let mut rest = all.as_slice();
        while let Some((first, tail)) = rest.split_first() {
            rest = if let Some((used, chemical)) = left_out(rest, is_chemical) {
                asked.without.push(chemical);
                rest.get(used..).unwrap_or_default()
            } else if let Some(used) = self.take(rest, &mut asked) {
                rest.get(used..).unwrap_or_default()
            } else {
                if !self.0.idle.contains(first) {
                    asked.words.push(first.clone());
                }
                tail
            };
        }
        asked
    }

    /// Takes the longest saying that the words begin with; how many words it used.
    fn take<'a>(&'a self, rest: &[String], asked: &mut Asked<'a>) -> Option<usize> {
        let longest = |said: &[String]| said.iter().filter_map(|said| begins(rest, said)).max();
        let wish = self.0.wishes.iter().filter_map(|own| Some((longest(&own.said)?, own)));
        let wish = wish.fold(None, |best: Option<(usize, &Wish)>, own| match best {
            Some(best) if best.0 >= own.0 => Some(best),
            _ => Some(own),
        });
        let kind =
            self.0.kinds.iter().filter_map(|own| Some((longest(&own.said)?, own))).max_by_key(|own| own.0);
        let elsewhere = self
            .0
            .elsewhere
            .iter()
            .filter_map(|own| Some((longest(&own.said)?, own)))
            .max_by_key(|own| own.0);
        let length = |used: Option<usize>| used.unwrap_or(0);
        let (by_wish, by_kind, by_else) = (
            length(wish.map(|own| own.0)),
            length(kind.map(|own| own.0)),
            length(elsewhere.map(|own| own.0)),
        );
        if by_wish > 0 && by_wish >= by_kind.max(by_else) {
            let (used, wish) = wish?;
            if !asked.wishes.iter().any(|own| own.name == wish.name) {
                asked.wishes.push(wish);
            }
            return Some(used);
        }
        if by_kind > 0 && by_kind >= by_else {
            let (used, kind) = kind?;
            asked.kinds.extend(&kind.kinds);
            return Some(used);
        }
        let (used, elsewhere) = elsewhere?;
        asked.elsewhere.push(&elsewhere.fix);
        Some(used)
    }

    /// The formulas that meet at least one of the wishes, those that meet most first, then by points, evidence and id.
    ///
    /// They are of the kinds named, else of those in which all wishes are looked for, else of those of any.
    pub fn rank<'a, 'f>(
        asked: &Asked<'a>,
        formulas: impl IntoIterator<Item = &'f Formula>,
        qualities: &Qualities,
        composer: &Composer<'_>,
    ) -> Vec<Ranked<'a, 'f>> {
        let kinds = sought_in(asked);
        let mut ranked: Vec<Ranked<'a, 'f>> = formulas
            .into_iter()
            .filter(|formula| kinds.contains(&formula.kind))
            .map(|formula| {
                let measures = Measures::of(formula, composer);
                let grant = |wish: &&'a Wish| wish.grant(formula, &measures, qualities);
                Ranked { formula, granted: asked.wishes.iter().map(grant).collect() }
            })
            .filter(|ranked| ranked.met() > 0)
            .collect();
        ranked.sort_by(|left, right| {
            right
                .met()
                .cmp(&left.met())
                .then(right.points().total_cmp(&left.points()))
                .then(trust(left.formula).cmp(&trust(right.formula)))
                .then(left.formula.id.cmp(&right.formula.id))
        });
        ranked
    }
}

/// Published and undoubted first.
fn trust(formula: &Formula) -> (u8, bool) {
    let kind = match formula.evidence.kind {
        crate::formula::EvidenceKind::Published => 0,
        crate::formula::EvidenceKind::CommonPractice => 1,
        crate::formula::EvidenceKind::Memory => 2,
    };
    (kind, formula.evidence.doubt.is_some())
}

/// The kinds in which wishes are looked for.
pub fn sought_in(asked: &Asked<'_>) -> Vec<Kind> {
    if !asked.kinds.is_empty() {
        return asked.kinds.clone();
    }
    let all: Vec<Kind> = Kind::ALL
        .into_iter()
        .filter(|kind| asked.wishes.iter().all(|wish| wish.kinds.contains(kind)))
        .collect();
    // A wish that can be asked of many kinds is meant of the first, unless another word says which.
    if let Some(first) = all.first() {
        let common = asked.wishes.iter().any(|wish| wish.kinds.len() > 1);
        let developers = *first == Kind::FilmDeveloper && common;
        return if developers { vec![*first] } else { all };
    }
    Kind::ALL.into_iter().filter(|kind| asked.wishes.iter().any(|wish| wish.kinds.contains(kind))).collect()
}

/// How many words a saying takes where the words begin with it.
fn begins(rest: &[String], said: &str) -> Option<usize> {
    let said = words(said);
    let fits = rest.len() >= said.len() && said.iter().zip(rest).all(|(own, word)| stem(own) == stem(word));
    fits.then_some(said.len())
}

/// `no hydroquinone`, `without sodium sulfite`, `metol free`: the words used, and the chemical.
fn left_out(rest: &[String], is_chemical: &dyn Fn(&str) -> bool) -> Option<(usize, String)> {
    let named = |words: &[String]| {
        (1..=words.len().min(4)).rev().find_map(|count| {
            let name = words.get(..count)?.join("-");
            is_chemical(&name).then_some((count, name))
        })
    };
    match rest {
        [first, others @ ..] if first == "no" || first == "without" => {
            named(others).map(|(count, name)| (count + 1, name))
        }
        [chemical, free, ..] if free == "free" && is_chemical(chemical) => Some((2, chemical.clone())),
        _ => None,
    }
}

impl Wish {
    fn grant<'a>(&'a self, formula: &Formula, measures: &Measures<'_>, qualities: &Qualities) -> Granted<'a> {
        let mut because: Vec<Because> = Vec::new();
        let holds = |tests: &[Test]| tests.iter().all(|test| test.holds(measures));
        if let Some(quality) = self.quality.as_deref().and_then(|key| qualities.by_key(key))
            && let Some(judged) = quality.judge(measures)
        {
            let sign = if self.turned { -1.0 } else { 1.0 };
            because.extend(judged.reasons.iter().map(|rule| Because::of(rule, sign)));
        }
        because
            .extend(self.because.iter().filter(|rule| holds(&rule.tests)).map(|rule| Because::of(rule, 1.0)));
        let text = [&formula.id, &formula.title, &formula.summary].map(|text| text.to_lowercase());
        if self.mentions.iter().any(|word| text.iter().any(|text| text.contains(word))) {
            because.push(Because {
                score: MENTIONED,
                why: "its own card says so".to_owned(),
                source: "the formula".to_owned(),
            });
        }
        because.sort_by(|left, right| right.score.total_cmp(&left.score));
        let points: f64 = because.iter().map(|own| own.score).sum();
        Granted { wish: self, points, met: points >= self.at_least, because }
    }
}

impl Because {
    fn of(rule: &Rule, sign: f64) -> Self {
        Self { score: rule.score * sign, why: rule.why.clone(), source: rule.source.clone() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Vec<String>, Vec<String>, Vec<String>, usize) {
        let library = Library::shipped();
        let wishes = Wishes::shipped(&library);
        let typed: Vec<String> = text.split(' ').map(str::to_owned).collect();
        let is_chemical = |name: &str| ["hydroquinone", "sodium-sulfite"].contains(&name);
        let asked = wishes.read(&typed, &is_chemical);
        let names = asked.wishes.iter().map(|own| own.name.clone()).collect();
        (names, asked.without, asked.words, asked.elsewhere.len())
    }

    #[test]
    fn words_are_read_by_stem_and_the_longest_saying_wins() {
        assert_eq!(read("sharper soft highlights").0, ["sharper", "softer highlights"]);
        assert_eq!(read("finest grain").0, ["finer grain"]);
        assert_eq!(
            read("borax fine grain"),
            (vec!["finer grain".to_owned()], vec![], vec!["borax".to_owned()], 0)
        );
        let (wishes, without, words, _) = read("no hydroquinone without sodium sulfite");
        assert!(wishes.is_empty() && words.is_empty());
        assert_eq!(without, ["hydroquinone", "sodium-sulfite"]);
        assert_eq!(read("wetting").3, 1);
        assert_eq!(read("fixr").2, ["fixr"]);
    }

    #[test]
    fn every_figure_quality_and_chemical_of_the_table_exists() {
        let library = Library::shipped();
        let wishes = Wishes::parse(library.table(FILE).unwrap(), FILE).unwrap();
        let qualities = Qualities::shipped(&library);
        let composer = Composer::new(&library);
        let formula = library.formula("mq-borax-classic").unwrap().formula;
        let measures = Measures::of(&formula, &composer);
        for wish in &wishes.0.wishes {
            assert!(
                wish.quality.as_deref().is_none_or(|key| qualities.by_key(key).is_some()),
                "{}",
                wish.name
            );
            assert!(!wish.kinds.is_empty() && !wish.said.is_empty());
            for test in wish.because.iter().flat_map(|rule| &rule.tests) {
                assert!(measures.value(&test.of).is_some(), "{}: {}", wish.name, test.of);
                if let Some(parent) = test.of.strip_prefix("g:") {
                    assert!(library.substance(parent).unwrap().is_some(), "{parent}");
                }
            }
        }
    }
}
