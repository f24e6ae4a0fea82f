//! What own records are worth: a simulation with known truth, and published pairs of times through the command line.

use std::collections::BTreeMap;
use std::sync::Arc;

use soupcon::journal::Highlights;
use soupcon::library::Library;
use soupcon::quantity::{Duration, Temperature};
use soupcon::timing::{
    Developer, Developers, GammaLaw, Measured, Model, NegativeWish, Record, Setup, TimeQuestion, TimingTable,
};

use crate::common::soupcon;

struct Shelf {
    library: Library,
    table: TimingTable,
}

impl Developers for Shelf {
    fn developer(&self, id: &str) -> Option<Developer> {
        let found = self.library.formula(id).ok()?;
        Some(Developer::of(&found.formula, true, &self.table))
    }
}

fn shelf() -> Shelf {
    let library = Library::shipped();
    let table = TimingTable::parse(library.table("timing.toml").unwrap(), "timing.toml").unwrap();
    Shelf { library, table }
}

/// Random numbers, the same each time: `SplitMix64` (G. Steele and others, 2014), normal ones by Box and Muller.
struct Chance(u64);

impl Chance {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
        f64::from(u32::try_from(mixed >> 32).unwrap()) / 4_294_967_296.0
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }

    fn below(&mut self, count: u32) -> u32 {
        (0..count).rfind(|step| self.uniform() < 1.0 / f64::from(step + 1)).unwrap_or(0)
    }
}

const CLASSIC: &str = "mq-borax-classic";
/// How well a time judged right by eye is known: nine in ten to 7 %.
const JUDGING: f64 = 0.07 / 1.645;

fn record(celsius: f64, minutes: f64, highlights: Highlights) -> Record {
    Record {
        date: "2026-01-02".parse().unwrap(),
        film: "film".to_owned(),
        formula: CLASSIC.to_owned(),
        dilution: "stock".parse().unwrap(),
        temperature: Temperature::from_c(celsius),
        agitation: "inversion".to_owned(),
        minutes,
        gradient: None,
        speed: None,
        shadows: None,
        highlights: Some(highlights),
    }
}

fn at(shelf: &Shelf, celsius: f64) -> Setup {
    let developer = shelf.developer(CLASSIC).unwrap();
    Setup {
        working: developer.working(None).unwrap(),
        developer: Arc::new(developer),
        temperature: Temperature::from_c(celsius),
        agitation: "inversion".to_owned(),
    }
}

/// What a simulation came to.
#[derive(Default)]
struct Outcome {
    films: f64,
    inside: f64,
    error: f64,
    fit_error: f64,
    best_error: f64,
}

/// The best that can be said of the time asked, in ln t about the truth, by whoever knows how k is spread over films but not the k of this
/// one: the mean of the posterior, which for normal errors has the least error of all estimators. Each record gives how far it lies from
/// the temperature asked, and its error.
fn best_possible(records: &[(f64, f64)], (mean, spread): (f64, f64), true_k: f64) -> f64 {
    let precision = 1.0 / (JUDGING * JUDGING);
    let (mut count, mut degrees, mut squares, mut sum, mut product) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (away, error) in records {
        let told = error - true_k * away;
        count += precision;
        degrees -= precision * away;
        squares += precision * away * away;
        sum += precision * told;
        product -= precision * away * told;
    }
    squares += 1.0 / (spread * spread);
    product += mean / (spread * spread);
    ((sum * squares - degrees * product) / (count * squares - degrees * degrees)).abs()
}

/// Films with known truth: the temperature coefficient k of each drawn about a mean, one to six records with the error of judging at
/// temperatures between two, the time in the middle of them asked. The fit it is held against knows the true k.
fn simulate(first: u64, films: u32, (mean, spread): (f64, f64), (cold, warm): (f64, f64)) -> Outcome {
    let shelf = shelf();
    let mut chance = Chance(first);
    let mut outcome = Outcome::default();
    for _ in 0..films {
        let ln_20 = (8.0_f64).ln() + 0.3 * chance.normal();
        let k = (mean + spread * chance.normal()).max(0.01);
        let truth = |celsius: f64| ln_20 - k * (celsius - 20.0);
        let count = 1 + chance.below(6);
        let (mut records, mut errors) = (Vec::new(), Vec::new());
        let mut sum = 0.0;
        let asked = f64::midpoint(cold, warm);
        for _ in 0..count {
            let celsius = cold + (warm - cold) * chance.uniform();
            let error = JUDGING * chance.normal();
            let ln = truth(celsius) + error;
            errors.push((celsius - asked, error));
            sum += ln + k * (celsius - 20.0);
            records.push(record(celsius, ln.exp(), Highlights::Right));
        }
        let model = Model::new(&shelf.table, &shelf).with_own("film", &records);
        let found = model.adjust_from_own(&at(&shelf, asked), &NegativeWish::default(), None).unwrap();
        let fit = sum / f64::from(count) - k * (asked - 20.0);
        let right = truth(asked).exp();
        outcome.films += 1.0;
        outcome.inside += f64::from(u8::from((found.low.as_min()..=found.high.as_min()).contains(&right)));
        outcome.error += (found.time.as_min().ln() - truth(asked)).abs();
        outcome.fit_error += (fit - truth(asked)).abs();
        outcome.best_error += best_possible(&errors, (mean, spread), k);
    }
    outcome
}

// Source: the model's own statement, nine in ten. k as in the table (2.0 for 10 °C with the spread of films), and a film whose k is
// known better and lies elsewhere.
//
// A worker tempers his developer to one temperature, to a quarter of a degree in most books, and over a year the bath drifts a degree or so
// either way of it (common practice): his records lie within 1.5 °C of the temperature asked. There the mean error must be at most 1.1 times
// that of a least-squares fit that knows the film's own k.
//
// Records strewn evenly over 18 to 24 °C ask for a k that nobody knows. One record 1.7 °C away (their root mean square) is uncertain by
// 1.7 × 0.0255 = 4.4 % for k alone, as much as by judging (4.3 %); only a fit that was told k escapes it. That 1.1 cannot be had there is
// shown by the bound: `best_possible`, which knows the true mean and spread of k over films and has the least error of all estimators that
// do not know this film's k, has itself 1.25 times the error of that fit (20,000 films by a script apart from this program: 1.047 for
// 19.5 to 21.5 °C, 1.10 for 19 to 22, 1.14 for 18.5 to 22.5, 1.255 for 18 to 24). What is asked there is to be within 5 % of that bound.
#[test]
fn nine_in_ten_truths_lie_in_the_range_and_the_error_is_near_the_least_possible() {
    for (name, k, range, most) in [
        ("19.5 to 21.5 °C, k as in the table", (0.069, 0.0255), (19.5, 21.5), Some(1.1)),
        ("19.5 to 21.5 °C, k 0.09 ± 0.01", (0.09, 0.01), (19.5, 21.5), Some(1.1)),
        ("19 to 22 °C, k as in the table", (0.069, 0.0255), (19.0, 22.0), Some(1.1)),
        ("19 to 22 °C, k 0.09 ± 0.01", (0.09, 0.01), (19.0, 22.0), Some(1.1)),
        ("18 to 24 °C, k as in the table", (0.069, 0.0255), (18.0, 24.0), None),
    ] {
        let found = simulate(20_261_126, 150, k, range);
        let (inside, ratio) = (found.inside / found.films, found.error / found.fit_error);
        let (bound, above) = (found.best_error / found.fit_error, found.error / found.best_error);
        println!(
            "{name}: inside {inside:.3}, error {ratio:.3} times that of a fit with the true k, which the best possible has {bound:.3} times"
        );
        assert!((0.85..=0.95).contains(&inside), "{name}: {inside}");
        match most {
            Some(most) => assert!(ratio <= most, "{name}: {ratio}"),
            None => assert!(bound > 1.1 && above <= 1.05, "{name}: {bound}, {above}"),
        }
    }
    // A film whose k lies elsewhere than in the table is still covered over six degrees.
    let found = simulate(20_261_126, 150, (0.09, 0.01), (18.0, 24.0));
    let inside = found.inside / found.films;
    println!(
        "18 to 24 °C, k 0.09 ± 0.01: inside {inside:.3}, error {:.3} times",
        found.error / found.fit_error
    );
    assert!((0.85..=0.95).contains(&inside), "{inside}");
}

// ------------------------------------------------------------------------------------------------- published pairs of times

/// A pair of times of one film from a document.
struct Pair {
    id: String,
    group: String,
    film: String,
    cells: Vec<String>,
    source: String,
}

impl Pair {
    /// A cell of the conditions: 0 to 5 of the known time, 6 to 11 of the one wanted.
    fn cell(&self, index: usize) -> &str {
        &self.cells[index]
    }

    fn figure(&self, index: usize) -> f64 {
        self.cell(index).parse().unwrap()
    }

    fn known(&self) -> f64 {
        self.figure(5)
    }

    fn wanted(&self) -> f64 {
        self.figure(11)
    }

    fn degrees(&self) -> f64 {
        self.figure(8) - self.figure(2)
    }

    fn gradients(&self) -> Option<(f64, f64)> {
        Some((self.cell(4).parse().ok()?, self.cell(10).parse().ok()?))
    }
}

/// Source: the column of the file. Left out there: one traced curve whose own reader calls its foot too steep to be right.
fn pairs() -> Vec<Pair> {
    let text = include_str!("../data/development-times.csv");
    let rows = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    rows.map(|line| {
        let cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        assert_eq!(cells.len(), 16, "{line}");
        Pair {
            id: cells[0].clone(),
            group: cells[1].clone(),
            film: cells[2].clone(),
            cells: cells[3..15].to_vec(),
            source: cells[15].clone(),
        }
    })
    .collect()
}

/// ln of the answer over the printed time, and the range about it.
struct Answer {
    error: f64,
    down: f64,
    up: f64,
}

impl Answer {
    fn is_inside(&self) -> bool {
        self.error - self.down <= 0.0 && self.error + self.up >= 0.0
    }

    /// Interval score at nine in ten (T. Gneiting and A. Raftery, Journal of the American Statistical Association 102 (2007) 359):
    /// width, and twenty times by how much it misses.
    fn score(&self) -> f64 {
        let (low, high) = (self.error - self.down, self.error + self.up);
        self.down + self.up + 20.0 * low.max(0.0) + 20.0 * (-high).max(0.0)
    }
}

fn of_times(seconds: f64, low: f64, high: f64, printed_minutes: f64) -> Answer {
    let error = (seconds / (60.0 * printed_minutes)).ln();
    Answer { error, down: (seconds / low).ln(), up: (high / seconds).ln() }
}

/// A pair through the command line; none where it is refused.
fn through_the_command_line(pair: &Pair) -> Option<Answer> {
    let mut line: Vec<String> = vec!["time".to_owned(), format!("{}min", pair.cell(5))];
    let mut add = |option: &str, value: String| line.extend([option.to_owned(), value]);
    add("--from", pair.cell(0).to_owned());
    add("--from-dilution", pair.cell(1).to_owned());
    add("--from-temp", format!("{}C", pair.cell(2)));
    add("--from-agitation", pair.cell(3).to_owned());
    add("--to", pair.cell(6).to_owned());
    add("--to-dilution", pair.cell(7).to_owned());
    add("--to-temp", format!("{}C", pair.cell(8)));
    add("--to-agitation", pair.cell(9).to_owned());
    if pair.gradients().is_some() {
        add("--from-gradient", pair.cell(4).to_owned());
        add("--gradient", pair.cell(10).to_owned());
    }
    if pair.group == "push" {
        add("--push", "1".to_owned());
    }
    line.push("--json".to_owned());
    let ran = soupcon(&line.iter().map(String::as_str).collect::<Vec<_>>());
    if ran.code != 0 {
        assert_eq!(ran.json()["refusals"][0]["code"], "gradient-beyond-reach", "{}", pair.id);
        return None;
    }
    let json = ran.json();
    let seconds = |field: &str| json[field].as_f64().unwrap();
    Some(of_times(seconds("seconds"), seconds("low_seconds"), seconds("high_seconds"), pair.wanted()))
}

/// What a group came to.
#[derive(Default)]
struct Group {
    count: f64,
    inside: f64,
    bias: f64,
    width: f64,
    score: f64,
}

impl Group {
    fn add(&mut self, answer: &Answer) {
        self.count += 1.0;
        self.inside += f64::from(u8::from(answer.is_inside()));
        self.bias += answer.error;
        self.width += answer.down + answer.up;
        self.score += answer.score();
    }

    fn report(&self, name: &str) {
        let mean = |sum: f64| sum / self.count;
        println!(
            "{name:12} {:4.0} pairs: inside {:5.1} %, mean ln error {:+.3}, width x{:.2}, score {:.3}",
            self.count,
            100.0 * mean(self.inside),
            mean(self.bias),
            mean(self.width).exp(),
            mean(self.score)
        );
    }
}

/// A simple rule: ln of the factor it takes.
type Rule = fn(&Pair) -> f64;

/// The four simple rules: no change, a tenth less for each degree, 2.5 for 10 °C, and the best constant of each group, which is computed
/// from the very pairs it judges. Each gets the one range of each group that makes its score best: more than a rule of thumb knows.
const RULES: [(&str, Rule); 3] = [
    ("no change", |_| 0.0),
    ("x0.9 a degree", |pair| pair.degrees() * 0.9_f64.ln()),
    ("2.5 for 10 °C", |pair| -pair.degrees() * 2.5_f64.ln() / 10.0),
];

/// The mean score of errors with the half-width that makes it least.
fn best_score(errors: &[f64]) -> f64 {
    let score = |half: f64| {
        errors.iter().map(|error| Answer { error: *error, down: half, up: half }.score()).sum::<f64>()
    };
    (1..=150).map(|step| score(0.01 * f64::from(step))).fold(f64::INFINITY, f64::min)
}

fn judge(name: &str, answers: &[(&Pair, Answer)]) {
    println!("--- {name}");
    let mut groups: BTreeMap<&str, Group> = BTreeMap::new();
    let mut all = Group::default();
    for (pair, answer) in answers {
        groups.entry(&pair.group).or_default().add(answer);
        all.add(answer);
    }
    for (name, group) in &groups {
        group.report(name);
    }
    all.report("all");
    for (pair, answer) in answers.iter().filter(|(_, answer)| !answer.is_inside()) {
        println!("  outside: {} {} {} ({:+.2})", pair.id, pair.group, pair.cell(11), answer.error);
    }
    assert!((0.88..=0.95).contains(&(all.inside / all.count)), "{}", all.inside / all.count);
    assert!((all.bias / all.count).abs() <= 0.08, "{}", all.bias / all.count);
    // Against the rules.
    let errors = |rule: &dyn Fn(&Pair) -> f64| -> f64 {
        let mut by_group: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
        for (pair, _) in answers {
            let error = (pair.known() / pair.wanted()).ln() + rule(pair);
            by_group.entry(&pair.group).or_default().push(error);
        }
        by_group.values().map(|errors| best_score(errors)).sum::<f64>() / all.count
    };
    let own = all.score / all.count;
    let mut constants: BTreeMap<&str, (f64, f64)> = BTreeMap::new();
    for (pair, _) in answers {
        let (sum, count) = constants.entry(&pair.group).or_default();
        *sum += (pair.wanted() / pair.known()).ln();
        *count += 1.0;
    }
    let constant =
        errors(&|pair: &Pair| constants.get(pair.group.as_str()).map_or(0.0, |(sum, count)| sum / count));
    println!("score {own:.3}; best constant of each group {constant:.3}");
    assert!(own < constant, "{own} against {constant}");
    for (name, rule) in RULES {
        let score = errors(&rule);
        println!("  {name}: {score:.3}");
        assert!(own < score, "{own} against {score} of {name}");
    }
}

// Source: the documents of the column `source`, 1942 to 2025.
#[test]
fn nine_in_ten_published_pairs_lie_in_the_range_through_the_command_line() {
    let pairs = pairs();
    assert!(pairs.iter().all(|pair| pair.source.len() > 20) && pairs.len() > 150);
    let answers: Vec<(&Pair, Answer)> =
        pairs.iter().filter_map(|pair| Some((pair, through_the_command_line(pair)?))).collect();
    judge("all pairs, the table as it is", &answers);
}

// ------------------------------------------------------------------------------------ each film judged without its own figures

/// Films of a group with what each says of a figure, in the scale in which the figure is a mean.
type Votes = BTreeMap<String, Vec<f64>>;

fn votes<'p>(pairs: impl Iterator<Item = (&'p Pair, f64)>) -> Votes {
    let mut votes = Votes::new();
    for (pair, value) in pairs {
        votes.entry(pair.film.clone()).or_default().push(value);
    }
    votes
}

/// By how much the mean over all moves when one film's figures are left out; `others` votes stand beside them and stay.
fn moved(votes: &Votes, film: &str, others: f64) -> f64 {
    let (mut sum, mut count, mut own_sum, mut own_count) = (0.0, others, 0.0, 0.0);
    for (name, values) in votes {
        for value in values {
            sum += value;
            count += 1.0;
            if name == film {
                own_sum += value;
                own_count += 1.0;
            }
        }
    }
    if own_count == 0.0 || count <= own_count {
        return 0.0;
    }
    // The other votes are taken to stand at the mean.
    let mean = sum / (count - others);
    (sum - own_sum + others * mean) / (count - own_count) - mean
}

/// The table with the three values of one row put through a function.
fn with_row(text: &str, header: &str, turn: &dyn Fn(f64) -> f64) -> String {
    let start = text.find(header).unwrap_or_else(|| panic!("{header}"));
    let mut out = text[..start].to_owned();
    let mut left = 3;
    for line in text[start..].split_inclusive('\n') {
        let value = ["low = ", "central = ", "high = "].iter().find_map(|key| {
            let number = line.strip_prefix(key)?.trim().parse::<f64>().ok()?;
            Some((key, number))
        });
        match value {
            Some((key, number)) if left > 0 => {
                left -= 1;
                out.push_str(&format!("{key}{}\n", turn(number)));
            }
            _ => out.push_str(line),
        }
    }
    out
}

/// Same for the bend in the borax row.
fn with_bend(text: &str, by: f64) -> String {
    let line = "bend = { low = 0.735, central = 0.90, high = 1.10 }";
    assert!(text.contains(line));
    let turn = |value: f64| value * by.exp();
    let new = format!("bend = {{ low = {}, central = {}, high = {} }}", turn(0.735), turn(0.90), turn(1.10));
    text.replacen(line, &new, 1)
}

/// The shipped table without what a pair's own film says of the figures that judge it.
fn without_the_film(text: &str, pair: &Pair, pairs: &[Pair]) -> String {
    let same = |other: &&Pair| other.group == pair.group && other.cell(0) == pair.cell(0);
    let ratio = |other: &Pair| (other.wanted() / other.known()).ln();
    let concentrate = "p-aminophenol-potassium-hydroxide-concentrate";
    match (pair.group.as_str(), pair.cell(0)) {
        ("dilution", CLASSIC) => {
            let of = |from: &str, to: &str| {
                let chosen =
                    pairs.iter().filter(same).filter(|other| other.cell(1) == from && other.cell(7) == to);
                votes(chosen.map(|other| (other, ratio(other))))
            };
            let p = moved(&of("stock", "1+3"), &pair.film, 0.0) / 4.0_f64.ln();
            let once = moved(&of("stock", "1+1"), &pair.film, 0.0);
            let text = with_row(text, "[[dilution]]\nname = \"hydroquinone with borax", &|value| value + p);
            with_bend(&text, once - p * std::f64::consts::LN_2)
        }
        ("dilution", id) if id == concentrate => {
            let chosen =
                pairs.iter().filter(same).map(|other| (other, ratio(other) / (51.0_f64 / 26.0).ln()));
            let by = moved(&votes(chosen), &pair.film, 0.0);
            with_row(text, "[[dilution]]\nname = \"p-aminophenol", &|value| value + by)
        }
        ("temperature", id) => {
            let chosen = pairs.iter().filter(same).map(|other| (other, -ratio(other) / other.degrees()));
            // The classic developer's mean has four other votes beside the two films here.
            let others = if id == CLASSIC { 4.0 } else { 0.0 };
            let mut by_film = votes(chosen);
            for values in by_film.values_mut() {
                let count = f64::from(u32::try_from(values.len()).unwrap());
                *values = vec![values.iter().sum::<f64>() / count];
            }
            let by = moved(&by_film, &pair.film, others);
            let header = match id {
                CLASSIC => "[[temperature]]\nname = \"classic",
                id if id == concentrate => "[[temperature]]\nname = \"p-aminophenol",
                _ => "[[temperature]]\nname = \"metol-hydroquinone carbonate",
            };
            with_row(text, header, &|value| (value.ln() + 10.0 * by).exp())
        }
        ("push", _) => {
            // Four steps of the other makers' packs stand beside these.
            let by =
                moved(&votes(pairs.iter().filter(same).map(|other| (other, ratio(other)))), &pair.film, 4.0);
            with_row(text, "[push]", &|value| value * by.exp())
        }
        ("agitation", _) => {
            // Eleven other pairs of the sheet stand beside these.
            let by =
                moved(&votes(pairs.iter().filter(same).map(|other| (other, ratio(other)))), &pair.film, 11.0);
            with_row(text, "name = \"rotary\"", &|value| value * by.exp())
        }
        ("developer", _) => {
            let chosen = pairs.iter().filter(same).filter(|other| other.cell(7) == "1+50");
            let by = moved(&votes(chosen.map(|other| (other, ratio(other)))), &pair.film, 0.0);
            with_row(text, "dilution = \"1+50\", celsius = 20 }\nlow = 1.55", &|value| value * by.exp())
        }
        ("contrast", id) => {
            // What each series says of the law's figure: the end of its gamma law, or its power.
            let is_power = id == concentrate;
            let figure = |film: &str, id_of: &str| -> Option<f64> {
                let rows: Vec<&Pair> = pairs
                    .iter()
                    .filter(|other| other.group == "contrast" && other.film == film && other.id == id_of)
                    .collect();
                let first = rows.first()?;
                let mut points: Vec<Measured> = rows
                    .iter()
                    .map(|row| Measured { minutes: row.wanted(), gradient: row.figure(10) })
                    .collect();
                points.push(Measured { minutes: first.known(), gradient: first.figure(4) });
                if is_power {
                    let (low, high) = points.iter().fold((points[0], points[0]), |(low, high), point| {
                        (
                            if point.minutes < low.minutes { *point } else { low },
                            if point.minutes > high.minutes { *point } else { high },
                        )
                    });
                    return Some(
                        ((high.gradient / low.gradient).ln() / (high.minutes / low.minutes).ln()).ln(),
                    );
                }
                GammaLaw::fit(&points).map(|(law, _)| law.infinity.ln())
            };
            let mut series: Vec<(String, String)> = pairs
                .iter()
                .filter(|other| other.group == "contrast" && (other.cell(0) == concentrate) == is_power)
                .map(|other| (other.film.clone(), other.id.clone()))
                .collect();
            series.dedup();
            let mut by_film = Votes::new();
            for (film, id) in series {
                by_film.entry(film.clone()).or_default().extend(figure(&film, &id));
            }
            let by = moved(&by_film, &pair.film, 0.0);
            if is_power {
                with_row(text, "[[contrast]]\nname = \"the curves", &|value| value * by.exp())
            } else {
                with_row(text, "[[contrast]]\nname = \"the gamma", &|value| value * by.exp())
            }
        }
        _ => text.to_owned(),
    }
}

fn in_process(pair: &Pair, table: TimingTable) -> Option<Answer> {
    let shelf = Shelf { library: Library::shipped(), table };
    let side = |first: usize| {
        let developer = shelf.developer(pair.cell(first)).unwrap();
        Setup {
            working: developer.working(Some(&pair.cell(first + 1).parse().unwrap())).unwrap(),
            developer: Arc::new(developer),
            temperature: Temperature::from_c(pair.figure(first + 2)),
            agitation: pair.cell(first + 3).to_owned(),
        }
    };
    let wish = NegativeWish {
        gradient: pair.gradients().map(|(_, wanted)| wanted),
        known_gradient: pair.gradients().map(|(known, _)| known),
        push: if pair.group == "push" { 1.0 } else { 0.0 },
        ..NegativeWish::default()
    };
    let known = Duration::from_min(pair.known());
    let question = TimeQuestion { known, from: side(0), to: side(6), wish, tank: None };
    let found = Model::new(&shelf.table, &shelf).adjust(&question).ok()?;
    Some(of_times(found.time.as_s(), found.low.as_s(), found.high.as_s(), pair.wanted()))
}

// Source: as above. Each pair is judged by figures to which its own film gave nothing: the mean behind each figure is moved by what the
// film had moved it, the width stays.
#[test]
fn nine_in_ten_lie_in_the_range_also_without_what_their_own_film_says() {
    let text = Library::shipped().table("timing.toml").unwrap();
    let pairs = pairs();
    let mut changed = 0;
    let answers: Vec<(&Pair, Answer)> = pairs
        .iter()
        .filter_map(|pair| {
            let without = without_the_film(text, pair, &pairs);
            changed += usize::from(without != text);
            if without == text {
                println!("  as it is: {} {} {}", pair.id, pair.group, pair.cell(11));
            }
            Some((pair, in_process(pair, TimingTable::parse(&without, "timing.toml").unwrap())?))
        })
        .collect();
    println!(
        "{changed} of {} pairs are judged by moved figures; in the others the film's own does not count",
        pairs.len()
    );
    assert!(changed * 100 > pairs.len() * 85, "{changed}");
    judge("each pair without its own film", &answers);
}
