//! What a formula does: its own figures first, else the rule of its class, else nothing.

use super::class::{acetic_mol_per_litre, classes, classes_of_part, fixer_class, sheet_class};
use super::fixer::stop_films_per_litre;
use super::rules::{ClassRules, DeveloperRule, Span};
use crate::formula::{Formula, Kind, Part};
use crate::quantity::UNIT_CM2;

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// The formula's own file.
    Stated,
    /// Its class.
    Rule,
    /// Nobody.
    NotKnown,
}

impl Basis {
    /// As in JSON and in print.
    pub fn word(self) -> &'static str {
        match self {
            Self::Stated => "stated",
            Self::Rule => "rule",
            Self::NotKnown => crate::doubt::NOT_KNOWN,
        }
    }
}

/// A range with its basis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Low and high; the same where one figure is stated.
    pub span: Span,
    /// Where it comes from.
    pub basis: Basis,
}

impl Range {
    fn stated(value: f64) -> Self {
        Self { span: Span { low: value, high: value }, basis: Basis::Stated }
    }

    fn rule(span: Span) -> Self {
        Self { span, basis: Basis::Rule }
    }
}

/// Stock for one film of 516 cm².
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// Stated by the formula, mL.
    pub stated_ml: Option<f64>,
    /// Least and safe by the rule of its class, mL.
    pub rule_ml: Option<Span>,
    /// Whether the rule's figure is of all parts and water together.
    pub is_of_the_mixture: bool,
}

impl Stock {
    /// The figure to plan by: stated, else the safe one of the rule.
    pub fn planned_ml(&self) -> Option<(f64, Basis)> {
        self.stated_ml
            .map(|ml| (ml, Basis::Stated))
            .or_else(|| self.rule_ml.map(|span| (span.high, Basis::Rule)))
    }

    /// The least that goes: by rule, never above what is stated.
    pub fn least_ml(&self) -> Option<f64> {
        match (self.stated_ml, self.rule_ml) {
            (Some(stated), Some(rule)) => Some(rule.low.min(stated)),
            (Some(stated), None) => Some(stated),
            (None, rule) => rule.map(|span| span.low),
        }
    }
}

/// How the time grows with the films through a bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimeGrowth {
    /// Films in a litre before it grows.
    pub free_films: f64,
    /// Percent for each further film in a litre.
    pub percent: Span,
}

impl TimeGrowth {
    /// By how much longer the next film takes after so many films in so many litres.
    ///
    /// Each further film in a litre multiplies. Source: 15 % for each 4 rolls through a US gallon, that is each 1.06 films in a litre
    /// (memory); 10 % after each film: a French club course, section 7.2.3.
    pub fn factor(self, films: f64, litres: f64) -> Span {
        if films <= 0.0 || litres <= 0.0 {
            return Span { low: 1.0, high: 1.0 };
        }
        let further = (films / litres + 1.0 - self.free_films).max(0.0);
        let of = |percent: f64| (1.0 + percent / 100.0).powf(further);
        Span { low: of(self.percent.low), high: of(self.percent.high) }
    }
}

/// Films that a litre treats.
#[derive(Debug, Clone, PartialEq)]
pub struct BathCapacity {
    /// Films through a litre.
    pub films_per_litre: Range,
    /// What the two ends of a rule mean; none where they are only low and high.
    pub ends: Option<(&'static str, &'static str)>,
}

/// Days of one bottle.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Days {
    /// Full bottle, days.
    pub full: Option<Range>,
    /// Half-full bottle, days.
    pub half: Option<Range>,
    /// Tank with its lid, days.
    pub tank: Option<Range>,
    /// Open tray, hours.
    pub tray_hours: Option<Range>,
    /// What the formula says of it in words where it gives no figure; then no rule stands in.
    pub in_words: Option<String>,
}

impl Days {
    /// Every figure with its name, for print and JSON.
    pub fn figures(&self) -> impl Iterator<Item = (&'static str, &'static str, Range)> + '_ {
        [
            ("full bottle", "days", self.full),
            ("half-full bottle", "days", self.half),
            ("tank with lid", "days", self.tank),
            ("tray", "hours", self.tray_hours),
        ]
        .into_iter()
        .filter_map(|(name, unit, range)| Some((name, unit, range?)))
    }
}

/// What a formula does and how long it keeps.
#[derive(Debug, Clone, PartialEq)]
pub struct Life<'r> {
    /// The class in words, where a rule exists.
    pub class: Option<String>,
    /// The id of the class that names the rule.
    pub class_id: Option<&'r str>,
    /// Where the rule comes from.
    pub rule_source: Option<&'r str>,
    /// What the rule says besides figures.
    pub rule_note: Option<&'r str>,
    /// Whether it is used once.
    pub is_one_shot: bool,
    /// Stock for a film.
    pub stock: Stock,
    /// Films a litre.
    pub capacity: Option<BathCapacity>,
    /// Sheets of paper of 8 by 10 in a litre, of what is made for paper.
    pub sheets_per_litre: Option<Range>,
    /// How the time grows.
    pub growth: Option<TimeGrowth>,
    /// Minutes at 20 °C for a first test, of a developer whose uses state no time.
    pub start_minutes: Option<Span>,
}

impl<'r> Life<'r> {
    /// What the file states stands; the rule of its class fills what it leaves out.
    pub fn of(formula: &Formula, rules: &'r ClassRules) -> Self {
        let stated = formula.capacity.area_cm2_per_litre.map(|area| area / UNIT_CM2);
        let stated_ml = formula.capacity.stock_ml_per_roll;
        let mut life = Self {
            class: None,
            class_id: None,
            rule_source: None,
            rule_note: None,
            is_one_shot: false,
            stock: Stock { stated_ml, rule_ml: None, is_of_the_mixture: false },
            capacity: None,
            sheets_per_litre: None,
            growth: None,
            start_minutes: None,
        };
        match formula.kind {
            Kind::FilmDeveloper => life.developer(formula, rules),
            Kind::Fixer => life.fixer(formula, rules),
            Kind::PaperDeveloper | Kind::Toner => life.sheets(formula, rules),
            Kind::StopBath => life.stop(formula, rules),
            Kind::WashingAid => life.washing_aid(formula, rules),
            _ => {}
        }
        if let Some(films) = stated {
            // What is printed as round films stays round: 2064 cm² are 4 films.
            let round = (films * 2.0).round() / 2.0;
            let films = if (films - round).abs() < 0.02 * round { round } else { films };
            if matches!(formula.kind, Kind::PaperDeveloper | Kind::Toner) {
                life.sheets_per_litre = Some(Range::stated(films));
                return life;
            }
            life.capacity = Some(BathCapacity { films_per_litre: Range::stated(films), ends: None });
            life.is_one_shot = false;
        }
        life
    }

    fn developer(&mut self, formula: &Formula, rules: &'r ClassRules) {
        let fitting = classes(formula, rules);
        let Some(first) = fitting.first() else { return };
        self.class = Some(words(&fitting));
        self.class_id = Some(&first.id);
        self.rule_source = Some(&first.source);
        self.rule_note = first.note.as_deref();
        self.is_one_shot = first.one_shot;
        let tells = |note: &str| note.contains(" min") || note.contains("inspection");
        let is_timed = formula
            .uses
            .iter()
            .any(|listed_use| listed_use.minutes.is_some() || listed_use.note.as_deref().is_some_and(tells));
        self.start_minutes = first.start_minutes.filter(|_| !is_timed);
        // The larger stock of all that fit; one told of the mixture is compared by itself.
        let stock = fitting.iter().filter(|rule| !rule.stock_is_of_the_mixture);
        let scaled = stock.filter_map(|rule| Some(scale(rule, rule.stock_ml_per_film?, formula, rules)));
        self.stock.rule_ml = scaled.reduce(Span::larger);
        if self.stock.rule_ml.is_none() || first.stock_is_of_the_mixture {
            self.stock.rule_ml = first.stock_ml_per_film;
            self.stock.is_of_the_mixture = first.stock_is_of_the_mixture;
        }
        let films = first.films_per_litre.or(first.two_bath_films_per_litre);
        self.capacity = films.map(|span| BathCapacity { films_per_litre: Range::rule(span), ends: None });
        self.growth = first
            .free_films
            .zip(first.growth_percent)
            .map(|(free_films, percent)| TimeGrowth { free_films, percent });
    }

    fn fixer(&mut self, formula: &Formula, rules: &'r ClassRules) {
        let Some(class) = fixer_class(formula, rules) else { return };
        self.class = Some(format!("{} of {}", rules.fixers.words, class.words));
        self.class_id = Some(&class.id);
        self.rule_source = Some(&rules.fixers.capacity_source);
        self.capacity = Some(BathCapacity {
            films_per_litre: Range::rule(Span {
                low: rules.fixers.lasting_films_per_litre,
                high: rules.fixers.ordinary_films_per_litre,
            }),
            ends: Some(("lasting", "ordinary")),
        });
    }

    fn sheets(&mut self, formula: &Formula, rules: &'r ClassRules) {
        let Some(rule) = sheet_class(formula, rules) else { return };
        self.class = Some(rule.words.clone());
        self.class_id = Some(&rule.id);
        self.rule_source = Some(&rule.source);
        self.rule_note = rule.note.as_deref();
        self.sheets_per_litre = rule.sheets_per_litre.map(Range::rule);
    }

    fn stop(&mut self, formula: &Formula, rules: &'r ClassRules) {
        let Some(acid) = acetic_mol_per_litre(formula) else { return self.sheets(formula, rules) };
        let rule = &rules.stop;
        let of = |carry, taken| stop_films_per_litre(acid, carry, taken, rule);
        self.class = Some(rule.words.clone());
        self.class_id = Some("acetic-stop");
        self.rule_source = Some(&rule.source);
        self.rule_note = Some(&rule.sign);
        let (carry, taken) = (rule.carry_over_ml, rule.acid_mol_per_litre_of_developer);
        self.capacity = Some(BathCapacity {
            films_per_litre: Range::rule(Span {
                low: of(carry.high, taken.low),
                high: of(carry.low, taken.low),
            }),
            ends: Some(("20 mL carried over", "10 mL")),
        });
    }

    fn washing_aid(&mut self, formula: &Formula, rules: &'r ClassRules) {
        let list = &rules.substances.sulfites;
        if !formula.ingredients().any(|ingredient| list.contains(&ingredient.form.parent.id)) {
            return;
        }
        self.class = Some(rules.washing_aid.words.clone());
        self.class_id = Some("washing-aid");
        self.rule_source = Some(&rules.washing_aid.source);
        self.capacity = Some(BathCapacity {
            films_per_litre: Range::rule(rules.washing_aid.films_per_litre),
            ends: None,
        });
    }
}

/// The words of all classes that fit.
fn words(fitting: &[&DeveloperRule]) -> String {
    fitting.iter().map(|rule| rule.words.as_str()).collect::<Vec<_>>().join("; and ")
}

/// A stock told for a strength of the agent, brought to that of the formula.
fn scale(rule: &DeveloperRule, span: Span, formula: &Formula, rules: &ClassRules) -> Span {
    let Some(told) = rule.stock_of_agent_g_per_litre else { return span };
    let pyros = &rules.substances.pyros;
    let agent = formula
        .parts
        .iter()
        .map(|part| {
            let of_it =
                part.ingredients.iter().filter(|ingredient| pyros.contains(&ingredient.form.parent.id));
            of_it.filter_map(crate::formula::Ingredient::grams_per_litre).sum::<f64>()
        })
        .fold(0.0, f64::max);
    if agent <= 0.0 {
        return span;
    }
    Span { low: span.low * told / agent, high: span.high * told / agent }
}

/// How long a bottle of one part keeps: each figure stated, else by rule. A working dilution has only its own rule.
pub fn days(formula: &Formula, part: &Part, is_diluted: bool, rules: &ClassRules) -> Days {
    let keeping = &part.keeping;
    let says_something = keeping.full_bottle_days.is_some()
        || keeping.half_bottle_days.is_some()
        || keeping.tank_days.is_some()
        || keeping.tray_hours.is_some();
    let rule = rule_days(formula, part, is_diluted, rules);
    if is_diluted && formula.kind.is_developer() {
        return rule;
    }
    // `One day only` is a statement, and a rule never beats one.
    if let (false, Some(note)) = (says_something, &keeping.note) {
        return Days { in_words: Some(note.clone()), ..Days::default() };
    }
    let chosen = |stated: Option<f64>, rule: Option<Range>| stated.map(Range::stated).or(rule);
    let mut days = Days {
        full: chosen(keeping.full_bottle_days, rule.full),
        half: chosen(keeping.half_bottle_days, rule.half),
        tank: chosen(keeping.tank_days, rule.tank),
        tray_hours: chosen(keeping.tray_hours, rule.tray_hours),
        in_words: None,
    };
    // A rule never says that a half-full bottle outlives what the formula states of a full one.
    if let (true, Some(full)) = (says_something, keeping.full_bottle_days) {
        let capped = |range: Option<Range>| {
            range
                .filter(|range| range.basis == Basis::Stated || range.span.low <= full)
                .map(|range| Range { span: range.span.shorter(Span { low: full, high: full }), ..range })
        };
        days.half = capped(days.half);
        days.tank = capped(days.tank);
    }
    days
}

/// What the class alone says.
fn rule_days(formula: &Formula, part: &Part, is_diluted: bool, rules: &ClassRules) -> Days {
    let range = |span: Option<Span>| span.map(Range::rule);
    if let Some(class) = fixer_class(formula, rules) {
        return Days {
            full: range(class.full_bottle_days),
            half: range(class.half_bottle_days),
            tank: range(class.tank_days),
            tray_hours: range(class.tray_hours),
            in_words: None,
        };
    }
    if formula.kind == Kind::WashingAid && Life::of(formula, rules).class.is_some() {
        let own = &rules.washing_aid;
        return Days {
            full: range(Some(own.full_bottle_days)),
            tray_hours: range(Some(own.tray_hours)),
            ..Days::default()
        };
    }
    if let Some(class) = sheet_class(formula, rules) {
        let own = &rules.working;
        let dilutes = is_diluted && formula.kind == Kind::PaperDeveloper;
        return Days {
            full: range(if dilutes { own.full_bottle_days } else { class.full_bottle_days }),
            half: range(class.half_bottle_days.filter(|_| !dilutes)),
            tray_hours: range(class.tray_hours),
            ..Days::default()
        };
    }
    let fitting = classes_of_part(formula, part, rules);
    if is_diluted {
        if !fitting.iter().any(|rule| rule.dilutes) {
            return Days::default();
        }
        let own = &rules.working;
        return Days {
            full: range(own.full_bottle_days),
            tray_hours: range(own.tray_hours),
            ..Days::default()
        };
    }
    let shortest = |of: fn(&DeveloperRule) -> Option<Span>| {
        range(fitting.iter().copied().filter_map(of).reduce(Span::shorter))
    };
    let full = shortest(|rule| rule.full_bottle_days);
    // Of two classes that fit, one may know only the full bottle: the half-full one never outlives it.
    let capped = |range: Option<Range>| match (range, full) {
        (Some(own), Some(full)) => Some(Range { span: own.span.shorter(full.span), ..own }),
        (own, _) => own,
    };
    Days {
        full,
        half: capped(shortest(|rule| rule.half_bottle_days)),
        tank: capped(shortest(|rule| rule.tank_days)),
        tray_hours: shortest(|rule| rule.tray_hours),
        in_words: None,
    }
}

/// The class of a part in words.
pub fn part_class(formula: &Formula, part: &Part, rules: &ClassRules) -> Option<String> {
    if let Some(class) = fixer_class(formula, rules) {
        return Some(format!("{} of {}", rules.fixers.words, class.words));
    }
    if let Some(class) = sheet_class(formula, rules) {
        return Some(class.words.clone());
    }
    let fitting = classes_of_part(formula, part, rules);
    (!fitting.is_empty()).then(|| words(&fitting))
}
