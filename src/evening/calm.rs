//! The calm plan: each tank by itself as given, only the last wash may wait, and before each act that must not wait the hands are free.
//!
//! A tank is one rigid block up to the start of its last wash and a second one from there on. Blocks are placed in every order that keeps
//! the tanks' order, each as early as the hands allow; of two tanks every start is tried on a grid as well.

use super::clock::{
    ActKind, EveningPlan, Tank, TankAct, TankPlan, Unplannable, act_words, acts_of, alone, check,
};

/// Grid of starts for two tanks, s.
const GRID_S: i64 = 5;
/// Most placements tried; a bound for tanks that fit in very many ways, far above what six ordinary ones need.
const MOST_PLACEMENTS: usize = 60_000;
/// The same in acts, for evenings of very many turnings.
const MOST_ACTS: usize = 8_000_000;

/// The calm plan.
///
/// # Errors
/// What [`check`] refuses; wishes that cannot be met, with the two acts that meet.
pub(crate) fn plan(tanks: &[Tank], pour_s: i64) -> Result<EveningPlan, Unplannable> {
    check(tanks, pour_s)?;
    let blocks: Vec<Blocks> =
        tanks.iter().enumerate().map(|(index, tank)| Blocks::of(index, tank, pour_s)).collect();
    let acts = blocks.iter().map(|block| block.first.len() + block.second.len()).sum::<usize>().max(1);
    let most = MOST_PLACEMENTS.min(MOST_ACTS / acts).max(2000);
    let mut search = Search { tanks, blocks: &blocks, pour_s, best: None, placements: 0, most };
    // Of plans that end together the simple one stands.
    search.simple();
    search.one_by_one();
    search.go(&State::empty(tanks.len()));
    if tanks.len() == 2 {
        search.every_start();
    }
    let Some((_, starts)) = search.best else { return Err(what_meets(tanks, pour_s)) };
    Ok(assemble(tanks, &starts, pour_s))
}

/// Puts a plan together from the starts of the blocks.
fn assemble(tanks: &[Tank], starts: &[(i64, Option<i64>)], pour_s: i64) -> EveningPlan {
    let mut plans = Vec::new();
    let mut acts = Vec::new();
    for (index, (tank, (first, second))) in tanks.iter().zip(starts).enumerate() {
        let mut tank_plan = alone(tank, *first, pour_s);
        if let (Some(wash), Some(second)) = (waiting(tank), second) {
            wait(&mut tank_plan, wash, *second);
        }
        acts.extend(acts_of(index, tank, &tank_plan, pour_s));
        plans.push(tank_plan);
    }
    acts.sort_by_key(|act| (act.start_s, act.tank));
    let end_s = plans.iter().map(|plan| plan.end_s).max().unwrap_or(0);
    EveningPlan { tanks: plans, acts, end_s }
}

/// Lets a bath end later, and everything after it.
fn wait(plan: &mut TankPlan, bath: usize, end_s: i64) {
    let by = plan.ends_s.get(bath).map_or(0, |own| end_s - own);
    for (place, own) in plan.ends_s.iter_mut().enumerate() {
        *own += if place >= bath { by } else { 0 };
    }
    for (place, own) in plan.starts_s.iter_mut().enumerate() {
        *own += if place > bath { by } else { 0 };
    }
    plan.end_s += by;
}

/// The bath in which a tank waits: the last that may last longer.
fn waiting(tank: &Tank) -> Option<usize> {
    tank.baths.iter().rposition(|bath| bath.softness.calm_s > bath.seconds)
}

/// The plan without a search: the next developer goes in when the wash before has just begun, and each tank stays in its wash until the
/// next one's has. None where the rules of a calm evening forbid it.
#[cfg(test)]
pub(crate) fn simple(tanks: &[Tank], pour_s: i64) -> Option<EveningPlan> {
    check(tanks, pour_s).ok()?;
    let blocks: Vec<Blocks> =
        tanks.iter().enumerate().map(|(index, tank)| Blocks::of(index, tank, pour_s)).collect();
    let mut search = Search { tanks, blocks: &blocks, pour_s, best: None, placements: 0, most: 0 };
    search.simple();
    Some(assemble(tanks, &search.best?.1, pour_s))
}

/// The two blocks of a tank, each as if it began at 0.
struct Blocks {
    first: Vec<TankAct>,
    second: Vec<TankAct>,
    /// From the start of the first block: earliest and latest start of the second, s.
    window_s: Option<(i64, i64)>,
}

impl Blocks {
    fn of(index: usize, tank: &Tank, pour_s: i64) -> Self {
        let plan = alone(tank, 0, pour_s);
        let acts = acts_of(index, tank, &plan, pour_s);
        let split = waiting(tank).and_then(|bath| {
            let own = tank.baths.get(bath)?;
            let start = plan.starts_s.get(bath)?;
            Some((start + own.seconds, start + own.softness.calm_s))
        });
        let Some((release, latest)) = split else {
            return Self { first: acts, second: Vec::new(), window_s: None };
        };
        let (first, second): (Vec<TankAct>, Vec<TankAct>) =
            acts.into_iter().partition(|act| act.start_s < release);
        let second = second.iter().map(|act| moved(act, -release)).collect();
        Self { first, second, window_s: Some((release, latest)) }
    }

    fn first_end_s(&self) -> i64 {
        self.first.iter().map(|act| act.end_s).max().unwrap_or(0)
    }

    fn second_end_s(&self) -> i64 {
        self.second.iter().map(|act| act.end_s).max().unwrap_or(0)
    }

    /// From its start to its end, when nothing waits, s.
    fn whole_s(&self) -> i64 {
        self.window_s.map_or_else(|| self.first_end_s(), |(release, _)| release + self.second_end_s())
    }
}

fn moved(act: &TankAct, by: i64) -> TankAct {
    let kind = match act.kind {
        ActKind::Turn { bath, due_s } => ActKind::Turn { bath, due_s: due_s + by },
        other => other,
    };
    TankAct {
        kind,
        start_s: act.start_s + by,
        end_s: act.end_s + by,
        free_from_s: act.free_from_s + by,
        ..*act
    }
}

/// What is placed so far.
#[derive(Clone)]
struct State {
    /// By start; they never overlap.
    acts: Vec<TankAct>,
    starts: Vec<(i64, Option<i64>)>,
    /// Ends of tanks that are placed as a whole.
    ends: Vec<Option<i64>>,
}

impl State {
    fn empty(tanks: usize) -> Self {
        Self { acts: Vec::new(), starts: Vec::new(), ends: vec![None; tanks] }
    }

    /// From when on all tanks placed so far are hung; never where one is not placed as a whole.
    fn idle_from(&self) -> i64 {
        let placed = self.ends.iter().take(self.starts.len());
        placed.map(|end| end.unwrap_or(i64::MAX)).max().unwrap_or(0)
    }

    fn with(&self, block: &[TankAct], at: i64) -> Self {
        let mut next = self.clone();
        next.acts.extend(block.iter().map(|act| moved(act, at)));
        next.acts.sort_by_key(|act| act.start_s);
        next
    }
}

/// Where `own` would have to begin at the earliest not to meet `other`; none where they do not meet.
fn clash(act: &TankAct, other: &TankAct, pour_s: i64, is_own_free: bool) -> Option<i64> {
    if act.start_s < other.end_s && other.start_s < act.end_s {
        return Some(other.end_s);
    }
    let needs_room = act.is_hard && !is_own_free && act.tank != other.tank;
    if needs_room && other.start_s < act.start_s && other.free_from_s > act.start_s - pour_s {
        return Some(other.free_from_s + pour_s);
    }
    let takes_room = other.is_hard && act.tank != other.tank;
    if takes_room && act.start_s < other.start_s && act.free_from_s > other.start_s - pour_s {
        return Some(other.end_s);
    }
    None
}

/// The earliest start of a block from `release` to `latest`.
fn earliest(state: &State, block: &[TankAct], release: i64, latest: i64, pour_s: i64) -> Option<i64> {
    let idle_from = state.idle_from();
    let mut at = release;
    'again: while at <= latest {
        for act in block {
            let moved_act = moved(act, at);
            // A developer that nothing else waits for begins when the hands are ready.
            let is_free = act.start_s == 0 && act.kind == ActKind::In && at >= idle_from;
            let from = state.acts.partition_point(|other| other.end_s + pour_s < moved_act.start_s);
            let near =
                state.acts.iter().skip(from).take_while(|other| other.start_s < moved_act.end_s + pour_s);
            for other in near {
                if let Some(start) = clash(&moved_act, other, pour_s, is_free) {
                    at += (start - moved_act.start_s).max(1);
                    continue 'again;
                }
            }
        }
        return Some(at);
    }
    None
}

/// The starts of both blocks of each tank.
type Starts = Vec<(i64, Option<i64>)>;

struct Search<'a> {
    tanks: &'a [Tank],
    blocks: &'a [Blocks],
    pour_s: i64,
    best: Option<(i64, Starts)>,
    placements: usize,
    most: usize,
}

impl Search<'_> {
    /// The simple plan, where it keeps the rules and no tank is wished otherwise.
    fn simple(&mut self) -> Option<()> {
        if self.tanks.iter().skip(1).any(|tank| tank.wish_s.is_some()) {
            return None;
        }
        let count = self.blocks.len();
        let mut state = State::empty(count);
        for place in 0..count {
            let last = state.acts.last();
            let free_s = last.map_or(0, |act| act.end_s);
            let has_room = last.is_none_or(|act| act.free_from_s < act.end_s) || state.idle_from() <= free_s;
            let at = free_s + if has_room { 0 } else { self.pour_s };
            let given = if place == 0 { None } else { Some(at) };
            state = self.first_block(&state, given)?;
            if let Some(before) = place.checked_sub(1) {
                state = self.second_when_free(&state, before)?;
            }
        }
        state = self.second_when_free(&state, count.checked_sub(1)?)?;
        let end = state.ends.iter().flatten().max().copied()?;
        self.best = Some((end, state.starts));
        Some(())
    }

    /// A tank out of its wash when the hands are free for good.
    fn second_when_free(&mut self, state: &State, place: usize) -> Option<State> {
        let Some((release, _)) = self.blocks.get(place)?.window_s else { return Some(state.clone()) };
        let free_s = state.acts.last().map_or(0, |act| act.end_s);
        let at = free_s.max(state.starts.get(place)?.0 + release);
        self.second_block(state, place, Some(at))
    }

    /// One tank after the other: the search is never later.
    fn one_by_one(&mut self) -> Option<()> {
        let mut state = State::empty(self.blocks.len());
        for (place, own) in self.blocks.iter().enumerate() {
            state = self.first_block(&state, None)?;
            if own.window_s.is_some() {
                state = self.second_block(&state, place, None)?;
            }
        }
        self.go(&state);
        Some(())
    }

    fn best_s(&self) -> i64 {
        self.best.as_ref().map_or(i64::MAX, |(end, _)| *end)
    }

    /// Least end that this state can still come to.
    fn bound(&self, state: &State) -> i64 {
        let mut bound = state.acts.last().map_or(0, |act| act.end_s);
        for (own, (first, second)) in self.blocks.iter().zip(&state.starts) {
            if second.is_none() {
                bound = bound.max(first + own.whole_s());
            }
        }
        let last = state.starts.last().map_or(0, |own| own.0);
        let rest = self.blocks.iter().skip(state.starts.len()).map(Blocks::whole_s).max();
        bound.max(rest.map_or(0, |rest| last + rest))
    }

    fn go(&mut self, state: &State) {
        if self.bound(state) >= self.best_s() || self.placements > self.most {
            return;
        }
        if state.starts.len() == self.blocks.len() && state.ends.iter().all(Option::is_some) {
            let end = state.ends.iter().flatten().max().copied().unwrap_or(0);
            self.best = Some((end, state.starts.clone()));
            return;
        }
        if let Some(next) = self.first_block(state, None) {
            self.go(&next);
        }
        for place in 0..state.starts.len() {
            if let Some(next) = self.second_block(state, place, None) {
                self.go(&next);
            }
        }
    }

    /// The next tank's first block, as early as may be or at a given time.
    fn first_block(&mut self, state: &State, given: Option<i64>) -> Option<State> {
        let index = state.starts.len();
        let (blocks, tank) = (self.blocks.get(index)?, self.tanks.get(index)?);
        self.placements += 1;
        let before = state.starts.last().map_or(0, |own| own.0);
        let wish = given.or(tank.wish_s).or((index == 0).then_some(0));
        let (release, latest) = wish.map_or((before, i64::MAX / 4), |own| (own, own));
        let at = earliest(state, &blocks.first, release, latest, self.pour_s)?;
        let mut next = state.with(&blocks.first, at);
        next.starts.push((at, None));
        if blocks.window_s.is_none() {
            *next.ends.get_mut(index)? = Some(at + blocks.first_end_s());
        }
        Some(next)
    }

    /// A tank's second block, as early as may be or at a given time.
    fn second_block(&mut self, state: &State, place: usize, given: Option<i64>) -> Option<State> {
        let blocks = self.blocks.get(place)?;
        let (first, None) = *state.starts.get(place)? else { return None };
        let (release, latest) = blocks.window_s?;
        self.placements += 1;
        let (release, latest) = given.map_or((first + release, first + latest), |own| (own, own));
        let at = earliest(state, &blocks.second, release, latest, self.pour_s)?;
        let mut next = state.with(&blocks.second, at);
        *next.starts.get_mut(place)? = (first, Some(at));
        *next.ends.get_mut(place)? = Some(at + blocks.second_end_s());
        Some(next)
    }

    /// Of two tanks: each start of the second and each end of the first one's wash, on the grid.
    fn every_start(&mut self) {
        let Some(first) = self.first_block(&State::empty(2), None) else { return };
        let (Some(one), Some(two)) = (self.blocks.first(), self.blocks.get(1)) else { return };
        let begin = first.starts.first().map_or(0, |own| own.0);
        let wish = self.tanks.get(1).and_then(|tank| tank.wish_s);
        let mut at = wish.unwrap_or(begin);
        while at + two.whole_s() < self.best_s() && wish.is_none_or(|wish| at <= wish) {
            if let Some(both) = self.first_block(&first, Some(at)) {
                self.two_washes(&both, one, begin);
            }
            at += GRID_S;
        }
    }

    fn two_washes(&mut self, both: &State, one: &Blocks, begin: i64) {
        let Some((release, latest)) = one.window_s else {
            if let Some(done) = self.second_block(both, 1, None) {
                self.go(&done);
            } else {
                self.go(both);
            }
            return;
        };
        let mut at = begin + release;
        while at <= begin + latest && at + one.second_end_s() < self.best_s() {
            if let Some(hung) = self.second_block(both, 0, Some(at)) {
                match self.second_block(&hung, 1, None) {
                    Some(done) => self.go(&done),
                    None => self.go(&hung),
                }
            }
            at += GRID_S;
        }
    }
}

/// The two acts that meet when every tank begins as wished.
fn what_meets(tanks: &[Tank], pour_s: i64) -> Unplannable {
    let mut placed: Vec<TankAct> = Vec::new();
    let mut meeting: Vec<(TankAct, TankAct)> = Vec::new();
    let mut at = 0;
    for (index, tank) in tanks.iter().enumerate() {
        at = tank.wish_s.unwrap_or(at);
        let blocks = Blocks::of(index, tank, pour_s);
        let own: Vec<TankAct> = blocks.first.iter().map(|act| moved(act, at)).collect();
        for act in &own {
            let others = placed.iter().filter(|other| clash(act, other, pour_s, false).is_some());
            meeting.extend(others.map(|other| (*other, *act)));
        }
        placed.extend(own);
    }
    // Emptying a developer is what can least give way: it is told before two turnings that meet.
    let is_grave = |act: &TankAct| act.is_hard && matches!(act.kind, ActKind::Change { .. } | ActKind::Last);
    meeting.sort_by_key(|(one, two)| (!(is_grave(one) || is_grave(two)), one.start_s.max(two.start_s)));
    match meeting.first() {
        Some((one, two)) => Unplannable::Meet { first: act_words(one, tanks), second: act_words(two, tanks) },
        None => Unplannable::NoPlace(tanks.last().map_or_else(String::new, |tank| tank.name.clone())),
    }
}
