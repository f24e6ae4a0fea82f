//! From developer to developer: relations are the edges of a graph whose nodes are formulas under stated conditions.
//!
//! A way through several edges multiplies their factors and widens the range; where an edge holds at another dilution or
//! temperature than the last one ended with, the conversion in between is part of the way. Of several ways the one of least variance
//! is taken, and the others are kept to be compared. Where the user has records in two developers that no book relates, a relation
//! of which nothing is known stands between them until the records say how large it is.

use std::sync::Arc;

use super::TimingError;
use super::developer::Developer;
use super::dilution::Working;
use super::model::Model;
use super::product::{Key, Product, Term};
use super::rows::{DeveloperRelation, RelationSide};
use super::setup::{Alternative, Neighbour, Setup};
use crate::quantity::Temperature;
use crate::quantity::rounding::show_short;

/// Most relations in one way.
const LONGEST_WAY: usize = 4;
/// Most ways that are compared.
const MOST_WAYS: usize = 2000;
/// Most neighbours that a guess considers.
const MOST_NEIGHBOURS: usize = 5;
/// Temperature at which a developer is taken for its nearest relative, °C.
const GUESS_CELSIUS: f64 = 20.0;

/// A way from one set of conditions to another.
#[derive(Debug, Clone)]
pub(super) struct Way {
    /// All its factors.
    pub(super) product: Product,
    /// The formulas it passes, ends included.
    pub(super) formulas: Vec<String>,
    /// Numbers of its relations, for a stable choice between equals.
    relations: Vec<(bool, usize)>,
}

impl Way {
    /// The way that stays within one formula.
    pub(super) fn direct(product: Product, formula: &str) -> Self {
        Self { product, formulas: vec![formula.to_owned()], relations: Vec::new() }
    }

    fn is_from_books(&self) -> bool {
        self.product.terms().all(|(key, _)| !matches!(key, Key::Relation { own: true, .. }))
    }

    fn as_alternative(&self) -> Alternative {
        let (ln, down, up) = self.product.ln();
        Alternative {
            by: self.formulas.join(" - "),
            factor: ln.exp(),
            low: (ln - down).exp(),
            high: (ln + up).exp(),
        }
    }
}

/// A way between two sets of conditions.
pub(super) struct Route {
    pub(super) product: Product,
    pub(super) by: Vec<String>,
    pub(super) alternatives: Vec<Alternative>,
    pub(super) guessed: Vec<(String, String)>,
}

impl Model<'_> {
    /// The product between two sets of conditions.
    pub(super) fn product(&self, from: &Setup, to: &Setup) -> Result<Route, TimingError> {
        let (mut ways, mut guessed) = (Vec::new(), Vec::new());
        if from.developer == to.developer {
            let mut product = Product::default();
            self.convert(&mut product, from, to)?;
            ways.push(Way::direct(product, &from.developer.id));
        } else {
            ways = ways_between(self, from, to);
            if ways.is_empty() {
                let guess = guess(self, from, to).ok_or_else(|| self.no_relation(from, to))?;
                ways.push(guess.way);
                guessed = guess.taken;
            }
        }
        let mut ways = ways.into_iter();
        let way = ways.next().ok_or_else(|| self.no_relation(from, to))?;
        let alternatives = ways.filter(Way::is_from_books).take(3).map(|way| way.as_alternative()).collect();
        Ok(Route { product: way.product, by: way.formulas, alternatives, guessed })
    }

    fn no_relation(&self, from: &Setup, to: &Setup) -> TimingError {
        let near = nearest_relatives(self, from, to).into_iter();
        let words = |(id, near): (String, Neighbour)| {
            format!(
                "the nearest to {id} that has one is {} (distance {})",
                near.id,
                show_short(near.distance, 1)
            )
        };
        TimingError::NoRelation {
            from: from.developer.id.clone(),
            to: to.developer.id.clone(),
            near: near.map(words).collect(),
        }
    }
}

/// A search under way: where it stands and how it came there.
#[derive(Clone)]
struct SearchState {
    setup: Setup,
    way: Way,
}

/// All ways between two developers, best first.
///
/// Which is best is judged undiluted at 20 °C, whatever the temperature and dilution asked: else an answer could jump where two ways
/// change places.
fn ways_between(model: &Model<'_>, from: &Setup, to: &Setup) -> Vec<Way> {
    let mut all = search(model, from, to);
    let plain = search(model, &plainly(from), &plainly(to));
    let variance = |way: &Way| {
        let same = plain.iter().find(|other| other.relations == way.relations);
        same.unwrap_or(way).product.variance()
    };
    all.sort_by(|one, other| {
        let rank = |way: &Way| {
            let mut numbers = way.relations.clone();
            numbers.sort_unstable();
            (way.relations.len(), numbers)
        };
        variance(one).total_cmp(&variance(other)).then_with(|| rank(one).cmp(&rank(other)))
    });
    all
}

/// A developer in its plainest use.
fn plainly(setup: &Setup) -> Setup {
    Setup {
        working: setup.developer.plainest().unwrap_or_else(|| setup.working.clone()),
        temperature: Temperature::from_c(GUESS_CELSIUS),
        agitation: super::agitation::USUAL.to_owned(),
        developer: Arc::clone(&setup.developer),
    }
}

/// All simple ways, by own relations and those of the table.
fn search(model: &Model<'_>, from: &Setup, to: &Setup) -> Vec<Way> {
    let own = model.own.relations.iter().enumerate().map(|(index, relation)| (true, index, relation));
    let books = model.table.relations.iter().enumerate().map(|(index, relation)| (false, index, relation));
    let relations: Vec<(bool, usize, &DeveloperRelation)> = own.chain(books).collect();
    let way =
        Way { product: Product::default(), formulas: vec![from.developer.id.clone()], relations: Vec::new() };
    let mut open = vec![SearchState { setup: from.clone(), way }];
    let mut ways = Vec::new();
    while let Some(standing) = open.pop() {
        if ways.len() >= MOST_WAYS || standing.way.relations.len() >= LONGEST_WAY {
            continue;
        }
        for &(is_own, index, relation) in &relations {
            for forward in [true, false] {
                let Some(next) = step(model, &standing, (is_own, index), relation, forward) else { continue };
                if next.setup.developer == to.developer {
                    let SearchState { setup, mut way } = next;
                    if model.convert(&mut way.product, &setup, to).is_ok() {
                        ways.push(way);
                    }
                } else {
                    open.push(next);
                }
            }
        }
    }
    ways
}

/// Follows one relation from one of its sides, if it starts where the search stands.
fn step(
    model: &Model<'_>,
    standing: &SearchState,
    number: (bool, usize),
    relation: &DeveloperRelation,
    forward: bool,
) -> Option<SearchState> {
    let (near, far) = if forward { (&relation.from, &relation.to) } else { (&relation.to, &relation.from) };
    let (is_own, index) = number;
    let here = &standing.setup;
    let starts_here = here.developer.id == near.formula && (is_own || here.developer.is_shipped);
    if !starts_here || standing.way.formulas.contains(&far.formula) {
        return None;
    }
    let developer = model.lookup.developer(&far.formula)?;
    if !is_own && !developer.is_shipped {
        return None;
    }
    let mut way = standing.way.clone();
    let before = setup_at(near, &here.developer, here)?;
    model.convert(&mut way.product, here, &before).ok()?;
    let setup = setup_at(far, &developer, &before)?;
    way.product.add(Key::Relation { own: is_own, index }, relation_term(model, relation, (is_own, forward)));
    way.formulas.push(far.formula.clone());
    way.relations.push(number);
    Some(SearchState { setup, way })
}

/// The conditions of one side of a relation; what it does not fix stays as it is.
fn setup_at(side: &RelationSide, developer: &Arc<Developer>, here: &Setup) -> Option<Setup> {
    Some(Setup {
        developer: Arc::clone(developer),
        working: developer.working(Some(&side.dilution)).ok()?,
        temperature: Temperature::from_c(side.celsius),
        agitation: side.agitation.clone().unwrap_or_else(|| here.agitation.clone()),
    })
}

fn relation_term(model: &Model<'_>, relation: &DeveloperRelation, (is_own, forward): (bool, bool)) -> Term {
    let (near, far) = if forward { (&relation.from, &relation.to) } else { (&relation.to, &relation.from) };
    let side = |side: &RelationSide| {
        let dilution = crate::journal::dilution_text(&side.dilution);
        let dilution = if dilution == "stock" { "undiluted".to_owned() } else { dilution };
        format!("{} {dilution} at {}", side.formula, Temperature::from_c(side.celsius))
    };
    Term {
        per_unit: relation.figure.map(f64::ln),
        exponent: if forward { 1.0 } else { -1.0 },
        spread: if is_own { 0.0 } else { model.table.scatter.swap },
        floor: None,
        data: None,
        basis: relation.figure.note.clone().unwrap_or_default(),
        steps: Vec::new(),
        words: format!("developer, {} to {}", side(near), side(far)),
    }
}

/// A way over relatives by composition.
struct Guess {
    way: Way,
    /// Who was taken for whom: `(developer, relative)`.
    taken: Vec<(String, String)>,
    distance: f64,
}

/// Whether any relation starts or ends at a developer.
fn is_related(model: &Model<'_>, id: &str, is_shipped: bool) -> bool {
    let names = |relation: &DeveloperRelation| relation.from.formula == id || relation.to.formula == id;
    model.own.relations.iter().any(names) || is_shipped && model.table.relations.iter().any(names)
}

/// Developers near one by composition that lead further: those with relations, and the other end itself.
fn relatives(model: &Model<'_>, of: &Setup, other: &Setup) -> Vec<Neighbour> {
    let mut near = model.lookup.source.nearest(&of.developer);
    near.retain(|neighbour| {
        let id = neighbour.id.as_str();
        id != of.developer.id && (id == other.developer.id || is_related(model, id, true))
    });
    near
}

/// For an end without any relation: its nearest relative that has one, for the refusal.
fn nearest_relatives(model: &Model<'_>, from: &Setup, to: &Setup) -> Vec<(String, Neighbour)> {
    [(from, to), (to, from)]
        .into_iter()
        .filter(|(end, _)| !is_related(model, &end.developer.id, end.developer.is_shipped))
        .filter_map(|(end, other)| {
            let near = relatives(model, end, other).into_iter().next()?;
            Some((end.developer.id.clone(), near))
        })
        .collect()
}

/// A way by taking one or both developers for their nearest relatives.
fn guess(model: &Model<'_>, from: &Setup, to: &Setup) -> Option<Guess> {
    let candidates = |setup: &Setup, other: &Setup| {
        let mut all = vec![Neighbour { id: setup.developer.id.clone(), distance: 0.0 }];
        let near = relatives(model, setup, other).into_iter();
        all.extend(near.filter(|one| one.distance <= model.table.guess_farthest).take(MOST_NEIGHBOURS));
        all
    };
    let ends = candidates(to, from);
    let mut best: Option<Guess> = None;
    for start in candidates(from, to) {
        for end in &ends {
            let distance = start.distance + end.distance;
            let taken: Vec<(String, String)> = [(from, &start), (to, end)]
                .into_iter()
                .filter(|(setup, relative)| setup.developer.id != relative.id)
                .map(|(setup, relative)| (setup.developer.id.clone(), relative.id.clone()))
                .collect();
            if taken.is_empty() || best.as_ref().is_some_and(|so_far| distance > so_far.distance) {
                continue;
            }
            let Some(way) = guessed_way(model, from, to, (&start, end)) else { continue };
            let better = best.as_ref().is_none_or(|so_far| {
                let variance = |way: &Way| way.product.variance();
                let order = distance.total_cmp(&so_far.distance);
                order.then(variance(&way).total_cmp(&variance(&so_far.way))).is_lt()
            });
            if better {
                best = Some(Guess { way, taken, distance });
            }
        }
    }
    best
}

/// The way over given relatives at either end.
fn guessed_way(
    model: &Model<'_>,
    from: &Setup,
    to: &Setup,
    (start, end): (&Neighbour, &Neighbour),
) -> Option<Way> {
    let mut product = Product::default();
    let first = take_for(model, &mut product, from, start, true)?;
    let mut tail = Product::default();
    let last = take_for(model, &mut tail, to, end, false)?;
    let (mut way, passes) = if first.developer == last.developer {
        let mut direct = Product::default();
        model.convert(&mut direct, &first, &last).ok()?;
        (Way { product: direct, formulas: Vec::new(), relations: Vec::new() }, vec![start.id.clone()])
    } else {
        let way = ways_between(model, &first, &last).into_iter().next()?;
        let passes = way.formulas.clone();
        (way, passes)
    };
    for (key, term) in product.terms().chain(tail.terms()) {
        way.product.add(key.clone(), term.clone());
    }
    way.formulas = [vec![from.developer.id.clone()], passes, vec![to.developer.id.clone()]].concat();
    way.formulas.dedup();
    Some(way)
}

/// Steps over to a relative (or back from it), both undiluted at 20 °C.
fn take_for(
    model: &Model<'_>,
    product: &mut Product,
    setup: &Setup,
    relative: &Neighbour,
    forward: bool,
) -> Option<Setup> {
    if setup.developer.id == relative.id {
        return Some(setup.clone());
    }
    let other = model.lookup.developer(&relative.id)?;
    let at = |developer: &Arc<Developer>, working: Working| Setup {
        developer: Arc::clone(developer),
        working,
        temperature: Temperature::from_c(GUESS_CELSIUS),
        agitation: setup.agitation.clone(),
    };
    let own_side = at(&setup.developer, setup.developer.undiluted()?);
    let other_side = at(&other, other.undiluted()?);
    if other.kind != setup.developer.kind || other.must_be_timed(&other_side.working, model.table).is_err() {
        return None;
    }
    if forward {
        model.convert(product, setup, &own_side).ok()?;
    } else {
        model.convert(product, &own_side, setup).ok()?;
    }
    let (one, other_id) = (setup.developer.id.clone(), other.id.clone());
    // One key for a pair whichever way it is taken, so that there and back cancels.
    let sorted = one < other_id;
    let (first, second) = if sorted { (&one, &other_id) } else { (&other_id, &one) };
    product.add(
        Key::Guess { one: first.clone(), other: second.clone() },
        Term {
            per_unit: model.table.guess.map(|factor| factor.ln() * relative.distance.max(1.0)),
            exponent: if forward == sorted { 1.0 } else { -1.0 },
            spread: model.table.scatter.swap,
            floor: None,
            data: None,
            basis: model.table.guess.note.clone().unwrap_or_default(),
            steps: Vec::new(),
            words: format!("developer, {one} taken for {other_id}"),
        },
    );
    Some(other_side)
}
