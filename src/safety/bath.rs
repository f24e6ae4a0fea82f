//! The bath's own hazards: a solution with 2 g of borax in a litre is not the powder.
//!
//! Concentration limits and additivity of the mixture rules of the GHS as the EU applies them: Regulation (EC) 1272/2008, Annex I,
//! tables 1.1, 3.1.2, 3.2.3, 3.3.3, 3.4.5, 3.5.2, 3.6.2, 3.7.2, 3.8.3, 3.9.4 and 4.1.1 (figures from memory); where the table of
//! precautions has specific limits of a substance, those. Percent by mass is taken as grams in 100 mL, which is a little too much in a
//! solution heavier than water: on the safe side. Multiplying factors for water life are not in the data and not used; what follows
//! from that is said. What an extreme pH does is said by `extreme`. What the rules give no simple answer to is named as
//! not computed.

use std::fmt;

use super::extreme::{Acidity, CORROSIVE_ABOVE_PH, CORROSIVE_BELOW_PH, Extreme};
use super::precautions::Limits;
use super::rows::Rows;
use super::statements::{Statements, Wear, signal_of};
use crate::substance::{Class, Signal};
use crate::vessel::Content;

/// A pH as near as this to a limit could be beyond it: predictions err by so much.
const NEAR: f64 = 0.3;

/// A statement that the mixture rules give a bath.
#[derive(Debug, Clone, PartialEq)]
pub struct BathStatement {
    /// GHS code: `H315`, `EUH208`.
    pub code: String,
    /// Standard wording.
    pub text: String,
    /// Plain words.
    pub plain: String,
    /// Names of the substances behind it, or the pH.
    pub because: Vec<String>,
}

/// What the mixture rules give no simple answer to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotComputed {
    /// What it is about.
    pub what: String,
    /// Why, or because of which ingredients.
    pub because: String,
    /// What to do all the same.
    pub advice: Option<&'static str>,
}

impl NotComputed {
    /// Without the reason: `the whole effect on water life: keep it out of the drain`.
    pub fn in_short(&self) -> String {
        self.advice.map_or_else(|| self.what.clone(), |advice| format!("{}: {advice}", self.what))
    }
}

impl fmt::Display for NotComputed {
    /// With the reason: `the whole effect on water life (metol): keep it out of the drain`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} ({})", self.what, self.because)?;
        self.advice.map_or(Ok(()), |advice| write!(formatter, ": {advice}"))
    }
}

/// The hazards of a bath by the mixture rules.
#[derive(Debug, Clone, PartialEq)]
pub struct BathHazards {
    /// What it would be classified as.
    pub statements: Vec<BathStatement>,
    /// The signal word that goes with them.
    pub signal: Option<Signal>,
    /// The pH that was used.
    pub ph: Option<f64>,
    /// What could not be computed, and why.
    pub not_computed: Vec<NotComputed>,
    /// Names of substances in it of which no hazard is known.
    pub unknown: Vec<String>,
    /// What its statements ask to be worn; a solution raises no dust.
    pub wear: Vec<Wear>,
}

impl BathHazards {
    /// One line: the signal word and codes, or that no limit is reached, with what is not known.
    pub fn summary(&self) -> String {
        let codes: Vec<&str> = self.statements.iter().map(|statement| statement.code.as_str()).collect();
        match (self.signal, codes.is_empty()) {
            (Some(signal), _) => format!("{}: {}", signal.word(), codes.join(", ")),
            (None, false) => codes.join(", "),
            (None, true) if self.unknown.is_empty() && self.not_computed.is_empty() => {
                "none that the mixture rules name; keep it out of eyes all the same".to_owned()
            }
            (None, true) => "no limit of the mixture rules is reached as far as it is known".to_owned(),
        }
    }

    /// Whether the bath counts as corrosive.
    pub fn is_corrosive(&self) -> bool {
        self.statements.iter().any(|statement| statement.code == "H314")
    }
}

/// A classified chemical: its share in percent and its codes, whatever form it came in.
struct Share<'a> {
    parent: &'a str,
    name: &'a str,
    percent: f64,
    codes: Vec<&'a str>,
    limits: Option<&'a Limits>,
    is_extreme: bool,
    is_carbonate: bool,
}

impl Share<'_> {
    /// The specific limit of the substance for a code.
    fn specific(&self, code: &str) -> Option<f64> {
        self.limits?.percent.get(code).copied()
    }

    /// By how much of its limit for a code of skin or eyes the share counts: specific, else generic.
    fn part_of_limit(&self, code: &str) -> f64 {
        let generic = match code {
            "H314" if self.has("H314") => Some(5.0),
            "H315" if self.has("H314") => Some(1.0),
            "H315" if self.has("H315") => Some(10.0),
            "H318" if self.has("H314") || self.has("H318") => Some(3.0),
            "H319" if self.has("H314") || self.has("H318") => Some(1.0),
            "H319" if self.has("H319") => Some(10.0),
            _ => None,
        };
        self.specific(code).or(generic).map_or(0.0, |limit| self.percent / limit)
    }

    fn has(&self, prefix: &str) -> bool {
        self.codes.iter().any(|code| code.starts_with(prefix))
    }
}

/// What each hazard class adds up to.
struct Sum {
    percent: f64,
    because: Vec<String>,
}

struct Tally<'a> {
    parts: Vec<Share<'a>>,
    found: Vec<(String, Vec<String>)>,
    not_computed: Vec<NotComputed>,
}

impl Tally<'_> {
    fn leave_open(
        &mut self,
        what: impl Into<String>,
        because: impl Into<String>,
        advice: Option<&'static str>,
    ) {
        self.not_computed.push(NotComputed { what: what.into(), because: because.into(), advice });
    }

    /// Sum of the shares of the parts with any of these codes, each share at least `relevant` percent.
    fn sum(&self, codes: &[&str], relevant: f64) -> Sum {
        let those = self
            .parts
            .iter()
            .filter(|part| part.percent >= relevant && codes.iter().any(|code| part.has(code)));
        let mut sum = Sum { percent: 0.0, because: Vec::new() };
        for part in those {
            sum.percent += part.percent;
            sum.because.push(part.name.to_owned());
        }
        sum
    }

    /// Notes a code, if there is anything behind it.
    fn find(&mut self, code: &str, because: Vec<String>) {
        if because.is_empty() {
            return;
        }
        match self.found.iter_mut().find(|(own, _)| own == code) {
            Some((_, own)) => own.extend(because),
            None => self.found.push((code.to_owned(), because)),
        }
    }

    /// A class in which each ingredient counts by itself: its own code from a limit on.
    fn single(&mut self, code: &str, limit: f64) {
        let mut hits: Vec<(String, String)> = Vec::new();
        for part in self.parts.iter().filter(|part| part.percent >= part.specific(code).unwrap_or(limit)) {
            for own in part.codes.iter().filter(|own| own.starts_with(code)) {
                hits.push(((*own).to_owned(), part.name.to_owned()));
            }
        }
        for (own, name) in hits {
            self.find(&own, vec![name]);
        }
    }

    fn is_found(&self, prefix: &str) -> bool {
        self.found.iter().any(|(code, _)| code.starts_with(prefix))
    }
}

/// Classifies a bath; without a pH, strong acids and alkalis count by their share.
pub(super) fn hazards_of(
    contents: &[Content],
    acidity: Option<Acidity>,
    statements: &Statements,
    limits: &Rows<Limits>,
) -> BathHazards {
    let mut unknown = Vec::new();
    let mut unmeasured = Vec::new();
    let mut parts: Vec<Share<'_>> = Vec::new();
    for content in contents.iter().filter(|content| !content.is_water()) {
        let form = &content.form;
        if form.hazards.is_unknown() || form.is_unvouched() {
            unknown.push(form.name.clone());
        }
        let codes: Vec<&str> = form.judged.codes.iter().map(String::as_str).collect();
        if codes.is_empty() {
            continue;
        }
        if content.grams_per_litre.is_none() {
            unmeasured.push(form.name.as_str());
        }
        // What is not known counts as the most that it can be, where there is no bound as the chemical itself.
        let percent = content.at_most_judged_grams().map_or(100.0, |grams| grams / 10.0);
        match parts.iter_mut().find(|share: &&mut Share<'_>| share.parent == form.parent.id) {
            Some(share) => share.percent += percent,
            None => parts.push(Share {
                parent: &form.parent.id,
                name: &form.name,
                percent,
                codes,
                limits: limits.find(&form.parent.id),
                is_extreme: form.is_class(&Class::StrongAcid) || form.is_class(&Class::StrongAlkali),
                is_carbonate: form.is_class(&Class::Carbonate),
            }),
        }
    }
    let mut tally = Tally { parts, found: Vec::new(), not_computed: Vec::new() };
    if !unmeasured.is_empty() {
        let what = format!("the share of {}", unmeasured.join(", "));
        tally.leave_open(what, "amount not known", Some("treat the bath as hazardous as the chemical"));
    }
    skin_and_eyes(&mut tally, acidity);
    acute_toxicity(&mut tally);
    long_term(&mut tally);
    water_life(&mut tally);
    others(&mut tally);
    let Tally { found, mut not_computed, .. } = tally;
    if found.iter().any(|(code, _)| code == "H314") {
        // Then nothing is open there.
        not_computed.retain(|own| !BURNS_OR_NOT.contains(&own.what.as_str()));
    }
    BathHazards {
        signal: found.iter().filter_map(|(code, _)| signal_of(code)).max(),
        wear: found
            .iter()
            .filter_map(|(code, _)| statements.get(code))
            .flat_map(|statement| statement.wear.iter().copied())
            .filter(|wear| *wear != Wear::DustMask)
            .collect(),
        statements: found
            .into_iter()
            .map(|(code, because)| BathStatement {
                text: statements.get(&code).map_or_else(String::new, |own| own.text.clone()),
                plain: statements.plain(&code),
                because,
                code,
            })
            .collect(),
        ph: acidity.map(|own| own.ph),
        not_computed,
        unknown,
    }
}

/// What is left open where it is not known whether a bath burns.
const BURNS_OR_NOT: [&str; 3] = ["whether it burns", "whether it is corrosive", "corrosion by pH"];
/// From such a share on a carbonate of unknown pH is taken for caustic, %: 50 g/L of soda reads pH 11.66 by the model here and 11.67 by one
/// of another hand (Pitzer's), and the limit is 11.5.
const CARBONATE_PERCENT: f64 = 5.0;

/// Skin and eyes: pH and reserve first, then Σ share / limit ≥ 1. Generic limits: corrosive 5 % (1 % of a strong acid or alkali of unknown
/// pH), irritant 1 % corrosive or 10 % irritant; serious eye damage 3 %, eye irritation 1 % damaging or 10 % irritant. An extreme pH with
/// too little reserve to burn still counts as irritating, on the safe side.
fn skin_and_eyes(tally: &mut Tally<'_>, acidity: Option<Acidity>) {
    let verdict = acidity.map_or(Extreme::No, Acidity::extreme);
    let extreme = acidity.filter(|_| verdict != Extreme::No);
    match acidity {
        Some(acidity) if verdict == Extreme::Burns => {
            tally.find("H314", vec![acidity.words()]);
            return;
        }
        Some(acidity) if verdict == Extreme::Irritates => {
            let because = format!(
                "by the pH alone it would count as corrosive; {} per 100 g of bath does not reach the limit",
                acidity.words()
            );
            tally.leave_open("whether it burns", because, Some("gloves, and protect the eyes"));
        }
        // A pH between the two says that the strong acid or alkali has been taken up: it no longer counts for skin and eyes.
        Some(Acidity { ph, .. }) => {
            if ph <= CORROSIVE_BELOW_PH + NEAR || ph >= CORROSIVE_ABOVE_PH - NEAR {
                let because = format!("pH {ph:.1} is close to the limit");
                tally.leave_open("whether it is corrosive", because, Some("protect the eyes"));
            }
        }
        None => {
            let extreme = tally.parts.iter().filter(|part| part.is_extreme);
            let strong: Vec<_> =
                extreme.map(|part| (part.name.to_owned(), part.percent, part.has("H314"))).collect();
            let corrosive = strong.iter().filter(|(_, percent, corrosive)| *corrosive && *percent >= 1.0);
            let because: Vec<String> = corrosive.map(|(name, ..)| name.clone()).collect();
            if !because.is_empty() {
                tally.find("H314", because);
                return;
            }
            if !strong.is_empty() {
                tally.leave_open(
                    "corrosion by pH",
                    "the pH is not known",
                    Some("gloves, and protect the eyes"),
                );
            } else if tally.parts.iter().filter(|own| own.is_carbonate).map(|own| own.percent).sum::<f64>()
                >= CARBONATE_PERCENT
            {
                let advice = Some("treat it as caustic: gloves, and protect the eyes");
                tally.leave_open("corrosion by pH", "strong carbonate, its pH not computed", advice);
            }
        }
    }
    let neutralised = acidity.is_some() && extreme.is_none();
    let kept: Vec<Share<'_>> = std::mem::take(&mut tally.parts);
    let (skin, left): (Vec<_>, Vec<_>) = kept.into_iter().partition(|part| !(neutralised && part.is_extreme));
    tally.parts = skin;
    let reached = |tally: &Tally<'_>, code: &str| {
        let counted = tally.parts.iter().filter(|part| part.part_of_limit(code) > 0.0);
        let total: f64 = counted.clone().map(|part| part.part_of_limit(code)).sum();
        let because: Vec<String> = counted.map(|part| part.name.to_owned()).collect();
        (total >= 1.0).then_some(because)
    };
    if let Some(because) = reached(tally, "H314") {
        tally.find("H314", because);
    } else {
        if let Some(because) = reached(tally, "H315") {
            tally.find("H315", because);
        }
        if let Some((code, because)) =
            ["H318", "H319"].iter().find_map(|code| Some((*code, reached(tally, code)?)))
        {
            tally.find(code, because);
        }
        if let Some(acidity) = extreme {
            let because = || vec![acidity.words()];
            tally.find("H315", because());
            if !tally.is_found("H318") {
                tally.find("H319", because());
            }
        }
    }
    tally.parts.extend(left);
}

/// Code, converted point estimate in mg per kg of body mass, and the share in percent from which it counts.
type Estimates = [(&'static str, f64, f64); 3];
/// Highest estimate of a mixture, mg per kg, and its code.
type Categories = [(f64, &'static str); 3];
const ORAL_ESTIMATES: Estimates = [("H300", 0.5, 0.1), ("H301", 100.0, 0.1), ("H302", 500.0, 1.0)];
const ORAL_CATEGORIES: Categories = [(50.0, "H300"), (300.0, "H301"), (2000.0, "H302")];
const SKIN_ESTIMATES: Estimates = [("H310", 5.0, 0.1), ("H311", 300.0, 0.1), ("H312", 1100.0, 1.0)];
const SKIN_CATEGORIES: Categories = [(200.0, "H310"), (1000.0, "H311"), (2000.0, "H312")];

/// Acute toxicity by estimates: 100 / ATE(mixture) = Σ share / ATE. The estimate of a category is the converted point value of table
/// 3.1.2; where one code stands for two categories, the more poisonous one. Categories 1 to 3 count from 0.1 %, 4 from 1 %.
fn acute_toxicity(tally: &mut Tally<'_>) {
    for (estimates, categories) in [(ORAL_ESTIMATES, ORAL_CATEGORIES), (SKIN_ESTIMATES, SKIN_CATEGORIES)] {
        let mut toxicity = 0.0;
        let mut because = Vec::new();
        for part in &tally.parts {
            let estimate =
                estimates.iter().find(|(code, _, relevant)| part.has(code) && part.percent >= *relevant);
            if let Some((_, milligrams_per_kilogram, _)) = estimate {
                toxicity += part.percent / milligrams_per_kilogram;
                because.push(part.name.to_owned());
            }
        }
        let category = categories.iter().find(|(limit, _)| 100.0 / toxicity <= *limit);
        if let Some((_, code)) = category {
            tally.find(code, because);
        }
    }
    let breathed = tally.sum(&["H330", "H331", "H332"], 0.1);
    if !breathed.because.is_empty() {
        let because = breathed.because.join(", ");
        tally.leave_open("poisoning by vapour or spray", because, Some("make no spray, air the room"));
    }
}

/// Cancer, genes, fertility, allergy, single organs: each ingredient by itself. Carcinogens and mutagens 0.1 % (suspected 1 %), for
/// reproduction 0.3 % (suspected 3 %), breast milk 0.3 %, sensitisers 1 %, organs 10 % (1 % for the lesser statement), airways and
/// drowsiness 20 %.
fn long_term(tally: &mut Tally<'_>) {
    for (code, limit) in [
        ("H340", 0.1),
        ("H350", 0.1),
        ("H341", 1.0),
        ("H351", 1.0),
        ("H360", 0.3),
        ("H361", 3.0),
        ("H362", 0.3),
        ("H334", 1.0),
        ("H317", 1.0),
        ("H370", 10.0),
        ("H371", 10.0),
        ("H372", 10.0),
        ("H373", 10.0),
    ] {
        tally.single(code, limit);
    }
    for (strong, weak) in [("H370", "H371"), ("H372", "H373")] {
        let between = tally.parts.iter().filter(|part| {
            let (low, high) = (part.specific(weak).unwrap_or(1.0), part.specific(strong).unwrap_or(10.0));
            part.has(strong) && (low..high).contains(&part.percent)
        });
        let because = between.map(|part| part.name.to_owned()).collect();
        tally.find(weak, because);
    }
    for code in ["H335", "H336"] {
        let own =
            tally.parts.iter().filter(|part| part.specific(code).is_some_and(|limit| part.percent >= limit));
        let own = own.map(|part| part.name.to_owned()).collect();
        let sum = tally.sum(&[code], 0.0);
        tally.find(code, if sum.percent >= 20.0 { sum.because } else { own });
    }
    // A tenth of the limit: told to those who are allergic already.
    let elicits = tally.parts.iter().filter(|part| {
        ["H317", "H334"].iter().any(|code| {
            let limit = part.specific(code).unwrap_or(1.0);
            part.has(code) && (limit / 10.0..limit).contains(&part.percent)
        })
    });
    let because = elicits.map(|part| part.name.to_owned()).collect();
    tally.find("EUH208", because);
}

/// Water life by the summation method, with multiplying factors of 1 for want of better: at least as bad as told.
fn water_life(tally: &mut Tally<'_>) {
    let acute = tally.sum(&["H400", "H410"], 0.0);
    let [first, second, third, fourth] = ["H410", "H411", "H412", "H413"].map(|code| tally.sum(&[code], 0.0));
    let found = if first.percent >= 25.0 {
        Some(("H410", vec![&first]))
    } else if 10.0 * first.percent + second.percent >= 25.0 {
        Some(("H411", vec![&first, &second]))
    } else if 100.0 * first.percent + 10.0 * second.percent + third.percent >= 25.0 {
        Some(("H412", vec![&first, &second, &third]))
    } else if first.percent + second.percent + third.percent + fourth.percent >= 25.0 {
        Some(("H413", vec![&first, &second, &third, &fourth]))
    } else {
        None
    };
    if let Some((code, sums)) = found {
        tally.find(code, sums.into_iter().flat_map(|sum| sum.because.clone()).collect());
    }
    if acute.percent >= 25.0 && !tally.is_found("H410") {
        tally.find("H400", acute.because.clone());
    }
    if !acute.because.is_empty() && !tally.is_found("H410") {
        let because = acute.because.join(", ");
        tally.leave_open("the whole effect on water life", because, Some("keep it out of the drain"));
    }
}

/// What the mixture rules leave to tests: fire, oxidisers, metals; and gases with acid.
fn others(tally: &mut Tally<'_>) {
    for (codes, from_percent, what, advice) in [
        (&["H225", "H226", "H228"][..], 10.0, "fire", None),
        (
            &["H270", "H271", "H272"][..],
            1.0,
            "feeding a fire",
            Some("wipe spills up wet, and let no wiping cloth dry"),
        ),
        (&["H290"][..], 1.0, "corrosion of metal", Some("use plastic or glass")),
    ] {
        let sum = tally.sum(codes, from_percent);
        if !sum.because.is_empty() {
            tally.leave_open(what, sum.because.join(", "), advice);
        }
    }
    for code in ["EUH031", "EUH032"] {
        tally.single(code, 1.0);
    }
}

#[cfg(test)]
mod tests;
