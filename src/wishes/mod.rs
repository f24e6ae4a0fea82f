//! Formulas by what a person wishes ("sharper", "keeps long"), from the table `tables/wishes.toml`.
//!
//! Words typed are read as wishes, or what is not wished ("no staining"), as chemicals to leave out ("no hydroquinone"), as a kind, as
//! something the program answers elsewhere, or stay what they are: words that a formula must be called by. Each formula gets points for each wish, with the reasons; the ranking puts
//! those first that meet the most wishes.

mod card;
mod read;
mod stem;

use serde::Deserialize;

use crate::composition::Composer;
use crate::diagnostic::{Finding, TableSource, read_table};
use crate::formula::{Formula, Kind};
use crate::library::Library;
use crate::qualities::measure::Measures;
use crate::qualities::{Qualities, QualityRule};
pub(crate) use card::{is_called, names as names_of};
use stem::words;

const FILE: &str = "wishes.toml";
/// Points for a formula whose own words speak for a wish; judgement, no source.
const MENTIONED: f64 = 2.0;
/// The same where a quality is judged from the composition, which weighs more than words; judgement, no source.
const MENTIONED_BESIDE_QUALITY: f64 = 1.0;
/// Points that one wish can bring at most, so that none outweighs the others; judgement, no source.
const MOST_POINTS: f64 = 6.0;

/// Something a person may wish.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Wish {
    /// As printed.
    pub name: String,
    said: Vec<String>,
    /// Ways to say that it is not wished.
    #[serde(default)]
    against: Vec<String>,
    /// The wish that is its opposite, which answers its denial.
    opposite: Option<String>,
    /// In what it is looked for.
    pub kinds: Vec<Kind>,
    quality: Option<String>,
    #[serde(default)]
    turned: bool,
    at_least: f64,
    #[serde(default)]
    mentions: Vec<String>,
    #[serde(default)]
    because: Vec<QualityRule>,
    /// What must be told beside it where its tests hold; the scores count for nothing.
    #[serde(default)]
    caveats: Vec<QualityRule>,
    /// Whether a weaker use than the first can be what grants it.
    #[serde(default)]
    in_weaker_use: bool,
}

/// A wish as asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WantedWish<'a> {
    pub wish: &'a Wish,
    /// Whether it is what is not wished.
    pub not: bool,
}

impl WantedWish<'_> {
    /// As printed.
    pub(crate) fn name(&self) -> String {
        format!("{}{}", if self.not { "not " } else { "" }, self.wish.name)
    }
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct KindWords {
    said: Vec<String>,
    kinds: Vec<Kind>,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Group {
    said: Vec<String>,
    chemicals: Vec<String>,
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
    hints: Vec<KindWords>,
    #[serde(default)]
    idle: Vec<String>,
    #[serde(default)]
    denials: Vec<String>,
    #[serde(default)]
    groups: Vec<Group>,
    #[serde(default)]
    wishes: Vec<Wish>,
    #[serde(default)]
    elsewhere: Vec<Elsewhere>,
}

/// The table of wishes.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Wishes(WishesFile);

/// What the words typed were read as.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct AskedWishes<'a> {
    /// Wishes, in the order typed.
    pub wishes: Vec<WantedWish<'a>>,
    /// Kinds that were named.
    pub kinds: Vec<Kind>,
    /// Chemicals to leave out, as typed.
    pub without: Vec<String>,
    /// Where the program answers what is no formula.
    pub elsewhere: Vec<&'a str>,
    /// The other words.
    pub words: Vec<String>,
    /// Words that were stepped over.
    pub idle: Vec<String>,
    /// What was denied and is not known: `no colour`.
    pub not_understood: Vec<String>,
    hinted: Vec<Kind>,
}

/// Why a formula has points for a wish.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Because {
    /// Points, below zero where it speaks against it.
    pub score: f64,
    pub why: String,
    /// Where that comes from.
    pub source: String,
}

/// One wish of one formula.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Granted<'a> {
    pub wanted: WantedWish<'a>,
    pub points: f64,
    /// Whether that is enough.
    pub met: bool,
    /// Why, the weightiest first.
    pub because: Vec<Because>,
    /// What must be told beside it.
    pub caveats: Vec<Because>,
}

/// One formula among those found.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ranked<'a, 'f> {
    pub formula: &'f Formula,
    /// Wish by wish, in the order typed.
    pub granted: Vec<Granted<'a>>,
    /// Where no one use grants all that are met: the use that grants most of them, and the weaker one.
    pub apart: Option<(String, String)>,
}

impl Ranked<'_, '_> {
    /// How many wishes it meets.
    pub(crate) fn met(&self) -> usize {
        self.granted.iter().filter(|own| own.met).count()
    }

    fn points(&self) -> f64 {
        // One wish alone needs no limit, and is ranked by all that speaks for it.
        let most = if self.granted.len() > 1 { MOST_POINTS } else { f64::INFINITY };
        self.granted.iter().map(|own| own.points.min(most)).sum()
    }
}

impl Wishes {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape.
    pub(crate) fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Finding> {
        Ok(Self(read_table(source, file)?))
    }

    /// The shipped table; a test proves it readable.
    pub(crate) fn shipped(library: &Library) -> Self {
        Self::parse(library.packed(FILE), FILE).unwrap_or_default()
    }

    pub(crate) fn names(&self) -> impl Iterator<Item = &str> {
        self.0.wishes.iter().map(|wish| wish.name.as_str())
    }

    /// Every way to say a wish, word by word.
    pub(crate) fn vocabulary(&self) -> impl Iterator<Item = String> {
        self.0.wishes.iter().flat_map(|wish| &wish.said).flat_map(|said| words(said))
    }

    /// The formulas that meet at least one of the wishes, those that meet most first, then by points, evidence and id.
    ///
    /// They are of the kinds named, else of those in which all wishes are looked for, else of those of any.
    pub(crate) fn rank<'a, 'f>(
        asked: &AskedWishes<'a>,
        formulas: impl IntoIterator<Item = &'f Formula>,
        qualities: &Qualities,
        composer: &Composer<'_>,
    ) -> Vec<Ranked<'a, 'f>> {
        let kinds = sought_in(asked);
        let mut ranked: Vec<Ranked<'a, 'f>> = formulas
            .into_iter()
            .filter(|formula| kinds.contains(&formula.kind))
            .filter_map(|formula| {
                let measures = Measures::of(formula, composer);
                // The developers of iron prints hold no developing agent: whoever wishes for prints means silver paper.
                let iron = formula.kind == Kind::PaperDeveloper && measures.value("agents") == Some(0.0);
                if iron {
                    return None;
                }
                let grant = |wanted: &WantedWish<'a>| wanted.grant(formula, &measures, qualities);
                let granted: Vec<Granted<'a>> = asked.wishes.iter().map(grant).collect();
                let apart = apart(asked, formula, &granted, qualities, composer);
                Some(Ranked { formula, granted, apart })
            })
            .filter(|ranked| ranked.met() > 0)
            .collect();
        ranked.sort_by(|left, right| {
            right
                .met()
                .cmp(&left.met())
                .then(left.apart.is_some().cmp(&right.apart.is_some()))
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
pub(crate) fn sought_in(asked: &AskedWishes<'_>) -> Vec<Kind> {
    if !asked.kinds.is_empty() {
        return asked.kinds.clone();
    }
    let all: Vec<Kind> = Kind::ALL
        .into_iter()
        .filter(|kind| asked.wishes.iter().all(|wish| wish.wish.kinds.contains(kind)))
        .collect();
    // A wish that can be asked of many kinds is meant of the first, unless another word says which.
    if let Some(first) = all.first() {
        let common = asked.wishes.iter().any(|wish| wish.wish.kinds.len() > 1);
        let developers = *first == Kind::FilmDeveloper && common;
        return if developers { vec![*first] } else { all };
    }
    Kind::ALL
        .into_iter()
        .filter(|kind| asked.wishes.iter().any(|wish| wish.wish.kinds.contains(kind)))
        .collect()
}

/// Where a weaker use than the first is what grants one wish, and grants not all the others that the first does: both uses in words.
fn apart(
    asked: &AskedWishes<'_>,
    formula: &Formula,
    granted: &[Granted<'_>],
    qualities: &Qualities,
    composer: &Composer<'_>,
) -> Option<(String, String)> {
    let by_weaker = granted.iter().any(|own| own.met && !own.wanted.not && own.wanted.wish.in_weaker_use);
    let (first, others) = formula.uses.split_first()?;
    if !by_weaker || granted.len() < 2 || first.baths.iter().any(|bath| bath.water > 0.0) {
        return None;
    }
    let diluted = others.iter().filter(|own| own.baths.iter().any(|bath| bath.water > 0.0));
    let mut weaker = None;
    for diluted_quality in diluted {
        let measures = Measures::at(formula, &diluted_quality.baths, composer);
        let holds = |(wanted, first): (&WantedWish<'_>, &Granted<'_>)| {
            !first.met || wanted.wish.in_weaker_use || wanted.grant(formula, &measures, qualities).met
        };
        if asked.wishes.iter().zip(granted).all(holds) {
            return None;
        }
        weaker = weaker.or(Some(diluted_quality.phrase()));
    }
    weaker.map(|weaker| (first.phrase(), weaker))
}

impl<'a> WantedWish<'a> {
    fn grant(&self, formula: &Formula, measures: &Measures<'_>, qualities: &Qualities) -> Granted<'a> {
        let granted = self.wish.grant(formula, measures, qualities);
        let met = (granted.points >= self.wish.at_least) != self.not;
        if !self.not {
            return Granted { wanted: *self, met, ..granted };
        }
        // What speaks against the wish speaks for its denial.
        let turn = |reason: &Because| Because { score: -reason.score, ..reason.clone() };
        let mut because: Vec<Because> = granted.because.iter().rev().map(turn).collect();
        if met && !because.iter().any(|own| own.score > 0.0) {
            because.insert(
                0,
                Because {
                    score: 1.0,
                    why: format!("too little in it speaks for {}", self.wish.name),
                    source: "its composition".to_owned(),
                },
            );
        }
        let points = (self.wish.at_least - granted.points).max(0.0);
        Granted { wanted: *self, points, met, because, caveats: Vec::new() }
    }
}

impl Wish {
    fn grant<'a>(&'a self, formula: &Formula, measures: &Measures<'_>, qualities: &Qualities) -> Granted<'a> {
        let mut because: Vec<Because> = Vec::new();
        let holds = |rule: &&QualityRule| rule.tests.iter().all(|test| test.holds(measures));
        let looked_for = self.kinds.contains(&formula.kind);
        let quality = self.quality.as_deref().and_then(|key| qualities.by_key(key));
        if let Some(judged) = quality.filter(|_| looked_for).and_then(|quality| quality.judge(measures)) {
            let sign = if self.turned { -1.0 } else { 1.0 };
            because.extend(judged.reasons.iter().map(|rule| Because::of(rule, sign)));
        }
        // In a kind in which it is not looked for, only the card's own words count.
        if looked_for {
            because.extend(self.because.iter().filter(holds).map(|rule| Because::of(rule, 1.0)));
        }
        if card::says(formula, &self.mentions) {
            because.push(Because {
                score: if quality.is_some() { MENTIONED_BESIDE_QUALITY } else { MENTIONED },
                why: "its own card says so".to_owned(),
                source: "the formula".to_owned(),
            });
        }
        because.sort_by(|left, right| right.score.total_cmp(&left.score));
        let points: f64 = because.iter().map(|own| own.score).sum();
        let caveats = self.caveats.iter().filter(holds).map(|rule| Because::of(rule, 1.0)).collect();
        let wanted = WantedWish { wish: self, not: false };
        Granted { wanted, points, met: points >= self.at_least, because, caveats }
    }
}

impl Because {
    fn of(rule: &QualityRule, sign: f64) -> Self {
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
        let names = asked.wishes.iter().map(WantedWish::name).collect();
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
    fn a_denial_asks_for_the_opposite_or_for_what_does_not_meet_the_wish() {
        for (typed, read_as) in [
            ("less contrast", "little contrast"),
            ("not so contrasty", "little contrast"),
            ("too soft", "much contrast"),
            ("no staining", "not staining"),
            ("not one-shot", "not one-shot"),
            ("keeps short", "not keeps long"),
            ("stain free", "not staining"),
            ("not grainy", "finer grain"),
            ("no hardener", "non-hardening"),
            ("not hot weather", "not tropical"),
        ] {
            assert_eq!(read(typed).0, [read_as], "{typed}");
        }
    }

    #[test]
    fn every_name_that_is_printed_finds_its_wish_also_denied() {
        let wishes = Wishes::shipped(&Library::shipped());
        for wish in &wishes.0.wishes {
            for not in [false, true] {
                let name = WantedWish { wish, not }.name();
                let asked = wishes.read(std::slice::from_ref(&name), &|_| false);
                let read: Vec<String> = asked.wishes.iter().map(WantedWish::name).collect();
                let answers = if not { wish.opposite.clone().unwrap_or(name.clone()) } else { name.clone() };
                assert_eq!(read, [answers], "{name}");
                assert!(asked.words.is_empty() && asked.elsewhere.is_empty(), "{name}: {asked:?}");
            }
        }
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
            let has_opposite = |name: &String| wishes.0.wishes.iter().any(|wish| wish.name == *name);
            assert!(wish.opposite.as_ref().is_none_or(has_opposite), "{}", wish.name);
            for test in wish.because.iter().chain(&wish.caveats).flat_map(|rule| &rule.tests) {
                assert!(measures.value(&test.of).is_some(), "{}: {}", wish.name, test.of);
                if let Some(parent) = test.of.strip_prefix("g:") {
                    assert!(library.substance(parent).unwrap().is_some(), "{parent}");
                }
            }
        }
    }
}
