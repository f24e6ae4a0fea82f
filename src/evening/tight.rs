//! The tight plan: baths that may last longer do, turnings may come a little late, developers keep their time to the second.
//!
//! Given the starts, what the hands do next is searched depth first (each act as early as the hands allow, only acts that could begin before
//! another is over are in question). The starts are searched on a grid, tank by tank. Of two tanks what was found is then beaten by a search
//! of all plans, in which a tank may also wait on purpose, step by step of the grid, and no state of both is looked at twice.

use std::collections::HashSet;

use super::calm;
use super::clock::{ActKind, EveningPlan, Hands, Tank, TankAct, TankBath, TankPlan, Unplannable, check};

/// Grid of starts for two tanks, s.
const GRID_S: i64 = 5;
/// Grid of starts for more, s.
const COARSE_GRID_S: i64 = 15;
/// Moving all the time may pause for another tank; it is placed in pieces of so many seconds.
const PIECE_S: i64 = 15;
/// Most acts tried for one set of starts of two tanks.
const MOST_ACTS: usize = 6000;
/// The same for more tanks.
const MOST_ACTS_OF_MANY: usize = 800;

/// Most states of two tanks in the search of all plans.
const MOST_STATES: usize = 250_000;
/// A plan must be earlier by this part of the whole to be looked for, so that the search ends; a hundredth.
const WORTH: i64 = 100;

/// The tight plan; the calm one where it is no later.
///
/// # Errors
/// What [`check`] refuses; wishes that cannot be met.
pub(crate) fn plan(tanks: &[Tank], pour_s: i64, late_s: i64) -> Result<EveningPlan, Unplannable> {
    check(tanks, pour_s)?;
    let calm = calm::plan(tanks, pour_s);
    let most_s = calm.as_ref().map_or(i64::MAX / 4, |own| own.end_s);
    let found = search(tanks, pour_s, late_s, most_s);
    let end_s = found.as_ref().map_or(most_s, |own| own.end_s);
    match all_plans(tanks, pour_s, late_s, end_s).or(found) {
        Some(plan) => Ok(plan),
        None => calm,
    }
}

/// Of two tanks: the earliest of all plans, where it ends before `most_s` by what it is worth.
fn all_plans(tanks: &[Tank], pour_s: i64, late_s: i64, most_s: i64) -> Option<EveningPlan> {
    let [first, second] = tanks else { return None };
    let begin = first.wish_s.unwrap_or(0);
    let start =
        second.wish_s.unwrap_or_else(|| earliest_start(std::slice::from_ref(first), &[begin], pour_s));
    let starts = [begin, start];
    let is_open = second.wish_s.is_none();
    let mut run =
        Run { tanks, starts: &starts, is_open, pour_s, late_s, most_s, left: MOST_STATES, best: None };
    run.all(&mut vec![Where::default(); 2], begin, &mut Vec::new(), &mut HashSet::new());
    Some(assemble(tanks, run.best?, pour_s))
}

/// A plan that ends before `most_s`.
fn search(tanks: &[Tank], pour_s: i64, late_s: i64, most_s: i64) -> Option<EveningPlan> {
    let (grid_s, most_acts) =
        if tanks.len() > 2 { (COARSE_GRID_S, MOST_ACTS_OF_MANY) } else { (GRID_S, MOST_ACTS) };
    let mut starts: Vec<i64> = vec![tanks.first()?.wish_s.unwrap_or(0)];
    let mut best = None;
    for count in 1..=tanks.len() {
        let first_tanks = tanks.get(..count)?;
        let whole_s = first_tanks.last().map_or(0, |tank| after(tank, 0, pour_s));
        let mut most = if count == tanks.len() { most_s } else { i64::MAX / 4 };
        let mut soonest: Option<(i64, Vec<TankAct>)> = None;
        let first = if count == 1 { starts.pop()? } else { earliest_start(first_tanks, &starts, pour_s) };
        let wish = first_tanks.last()?.wish_s;
        let mut at = wish.unwrap_or(first);
        while at + whole_s < most {
            let mut all = starts.clone();
            all.push(at);
            let mut run = Run {
                tanks: first_tanks,
                starts: &all,
                is_open: false,
                pour_s,
                late_s,
                most_s: most,
                left: most_acts,
                best: None,
            };
            let mut states: Vec<Where> = all.iter().map(|_| Where::default()).collect();
            run.go(&mut states, i64::MIN / 4, &mut Vec::new());
            if let Some(acts) = run.best {
                most = run.most_s;
                soonest = Some((at, acts));
            }
            if count == 1 || wish.is_some() {
                break;
            }
            at += grid_s;
        }
        let (at, acts) = soonest?;
        starts.push(at);
        best = Some(acts);
    }
    Some(assemble(tanks, best?, pour_s))
}

/// Not before the tank before has its developer out.
fn earliest_start(tanks: &[Tank], starts: &[i64], pour_s: i64) -> i64 {
    let Some((tank, start)) = tanks.iter().zip(starts).next_back() else { return 0 };
    let mut at = *start;
    let mut developed = *start;
    for bath in &tank.baths {
        if bath.is_developer {
            developed = at + bath.seconds;
        }
        at += bath.seconds + bath.out_s(pour_s);
    }
    developed
}

/// Whether a bath comes straight after a developer.
fn follows_developer(tank: &Tank, bath: usize) -> bool {
    bath.checked_sub(1).and_then(|before| tank.baths.get(before)).is_some_and(|own| own.is_developer)
}

/// From the start of a bath to the end of its tank, when nothing waits, s.
fn after(tank: &Tank, bath: usize, pour_s: i64) -> i64 {
    tank.baths.iter().skip(bath).map(|bath| bath.seconds + bath.out_s(pour_s)).sum::<i64>() + tank.hang_s
}

/// Where a tank stands.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash)]
struct Where {
    has_begun: bool,
    is_done: bool,
    bath: usize,
    start_s: i64,
    /// Turnings done in this bath.
    turned: i64,
}

/// What comes next in a tank.
struct Next {
    kind: ActKind,
    earliest_s: i64,
    latest_s: i64,
    seconds: i64,
}

struct Run<'a> {
    tanks: &'a [Tank],
    starts: &'a [i64],
    /// The last tank may begin later than its start.
    is_open: bool,
    pour_s: i64,
    late_s: i64,
    most_s: i64,
    left: usize,
    best: Option<Vec<TankAct>>,
}

impl Run<'_> {
    /// Time to pour a bath out, s.
    fn out_s(&self, tank: usize, bath: usize) -> i64 {
        let bath = self.tanks.get(tank).and_then(|tank| tank.baths.get(bath));
        bath.map_or(self.pour_s, |bath| bath.out_s(self.pour_s))
    }

    /// Hands that pouring in takes by itself, s; the first turning is an act of its own.
    fn pouring_in_s(&self, bath: &TankBath) -> i64 {
        match bath.hands {
            Hands::Turned { .. } | Hands::Continuous => self.pour_s.min(bath.seconds),
            Hands::Poured | Hands::Motor => bath.hands_at_start_s(self.pour_s),
        }
    }

    /// What may come next in a tank, each still in time.
    fn next(&self, index: usize, whereabouts: Where, free_s: i64) -> Vec<Next> {
        let mut all = Vec::new();
        let (Some(tank), Some(start)) = (self.tanks.get(index), self.starts.get(index)) else { return all };
        let Some(bath) = tank.baths.get(whereabouts.bath) else { return all };
        if whereabouts.has_begun {
            self.next_in_bath(tank, bath, whereabouts, &mut all);
        } else {
            let seconds = self.pouring_in_s(bath);
            let may_wait = self.is_open && index + 1 == self.tanks.len();
            let latest_s = if may_wait { i64::MAX / 8 } else { *start };
            all.push(Next { kind: ActKind::In, earliest_s: *start, latest_s, seconds });
        }
        all.retain(|next| next.earliest_s.max(free_s) <= next.latest_s);
        all
    }

    fn next_in_bath(&self, tank: &Tank, bath: &TankBath, whereabouts: Where, all: &mut Vec<Next>) {
        let most_s = whereabouts.start_s + bath.softness.tight_s.max(bath.seconds);
        let end_s = whereabouts.start_s + bath.seconds;
        let turn = |due_s: i64, seconds: i64| Next {
            kind: ActKind::Turn { bath: whereabouts.bath, due_s },
            earliest_s: due_s,
            latest_s: (due_s + self.late_s).min(most_s - seconds),
            seconds,
        };
        let mut out_by_s = most_s;
        match bath.hands {
            Hands::Turned { first_s, .. } if whereabouts.turned == 0 => {
                let due_s = whereabouts.start_s + self.pour_s;
                all.push(turn(due_s, first_s.min(end_s - due_s)));
                return;
            }
            Hands::Turned { each_s, every_s: Some(every_s), .. } => {
                let due_s = whereabouts.start_s + whereabouts.turned * every_s;
                let seconds = each_s.min(most_s - due_s);
                if seconds > 0 {
                    all.push(turn(due_s, seconds));
                }
                // Before the end it must be turned; after it, only a tank that stays in.
                if due_s < end_s {
                    return;
                }
                out_by_s = most_s.min(due_s);
            }
            // What stops a developer is moved without a pause, as part of pouring it in.
            Hands::Continuous if !follows_developer(tank, whereabouts.bath) => {
                let due_s = whereabouts.start_s + self.pour_s + whereabouts.turned * PIECE_S;
                if due_s < end_s {
                    all.push(turn(due_s, PIECE_S.min(end_s - due_s)));
                    return;
                }
            }
            Hands::Turned { .. } | Hands::Continuous | Hands::Poured | Hands::Motor => {}
        }
        let out_s = bath.out_s(self.pour_s);
        let (kind, seconds) = match tank.baths.get(whereabouts.bath + 1) {
            Some(next)
                if follows_developer(tank, whereabouts.bath + 1) && next.hands == Hands::Continuous =>
            {
                (ActKind::Change { out: whereabouts.bath }, out_s + next.seconds)
            }
            Some(next) => (ActKind::Change { out: whereabouts.bath }, out_s + self.pouring_in_s(next)),
            None => (ActKind::Last, out_s + tank.hang_s),
        };
        all.insert(0, Next { kind, earliest_s: end_s, latest_s: out_by_s, seconds });
    }

    /// Where the tank stands when the act is done.
    fn done(&self, index: usize, whereabouts: Where, act: &TankAct) -> Where {
        let begin = |bath: usize, start_s: i64| {
            let own = self.tanks.get(index).and_then(|tank| tank.baths.get(bath));
            // A bath as short as pouring has no first turning.
            let turned = i64::from(own.is_some_and(|own| own.seconds <= self.pour_s));
            Where { has_begun: true, is_done: false, bath, start_s, turned }
        };
        // The first turning covers those that would come due in it.
        let covered = |bath: usize| {
            let bath = self.tanks.get(index).and_then(|tank| tank.baths.get(bath));
            bath.map_or(1, |bath| match bath.hands {
                Hands::Turned { every_s: Some(every_s), .. } => {
                    (bath.hands_at_start_s(self.pour_s) - 1).max(0) / every_s.max(1) + 1
                }
                Hands::Turned { .. } | Hands::Continuous | Hands::Poured | Hands::Motor => 1,
            })
        };
        match act.kind {
            ActKind::In => begin(0, act.start_s),
            ActKind::Turn { bath, .. } if whereabouts.turned == 0 => {
                Where { turned: covered(bath), ..whereabouts }
            }
            ActKind::Turn { .. } => Where { turned: whereabouts.turned + 1, ..whereabouts },
            ActKind::Change { out } => begin(out + 1, act.start_s + self.out_s(index, out)),
            ActKind::Last => Where { is_done: true, ..whereabouts },
        }
    }

    fn bound(&self, states: &[Where]) -> i64 {
        let ends = states.iter().zip(self.tanks).zip(self.starts).map(|((state, tank), start)| {
            if state.is_done {
                0
            } else if state.has_begun {
                state.start_s + after(tank, state.bath, self.pour_s)
            } else {
                start + after(tank, 0, self.pour_s)
            }
        });
        ends.max().unwrap_or(0)
    }

    /// What comes next, done at a moment.
    fn act(&self, index: usize, next: &Next, start_s: i64) -> TankAct {
        let end_s = start_s + next.seconds;
        let tank = self.tanks.get(index);
        let bath = |place: usize| tank.and_then(|tank| tank.baths.get(place));
        let is_developer = |place: usize| bath(place).is_some_and(|bath| bath.is_developer);
        let (is_hard, free_from_s) = match next.kind {
            ActKind::In => (is_developer(0), end_s),
            ActKind::Change { out } => {
                let is_hose = bath(out + 1).is_some_and(|bath| bath.is_hose);
                let free_s = if is_hose { start_s + self.out_s(index, out) } else { end_s };
                (is_developer(out) || is_developer(out + 1), free_s)
            }
            ActKind::Turn { .. } | ActKind::Last => (false, end_s),
        };
        TankAct { tank: index, kind: next.kind, start_s, end_s, free_from_s, is_hard }
    }

    /// All plans from here on, the hands free at `at_s`: every act that may begin now, then the same a step of the grid later.
    fn all(
        &mut self,
        states: &mut Vec<Where>,
        mut at_s: i64,
        path: &mut Vec<TankAct>,
        seen: &mut HashSet<(i64, [Where; 2])>,
    ) {
        while let Some((open, later_s)) = self.looked_at(states, at_s, path, seen) {
            for (index, own) in open.iter().filter(|(_, own)| own.earliest_s <= at_s) {
                let act = self.act(*index, own, at_s);
                let Some(before) = states.get(*index).copied() else { return };
                let then = self.done(*index, before, &act);
                if let Some(state) = states.get_mut(*index) {
                    *state = then;
                }
                path.push(act);
                self.all(states, act.end_s, path, seen);
                path.pop();
                if let Some(state) = states.get_mut(*index) {
                    *state = before;
                }
            }
            let Some(later_s) = later_s else { return };
            at_s = later_s;
        }
    }

    /// What may come next in all tanks, and until when to wait if nothing is done now; none where all is done, nothing can come in time, or
    /// the state was looked at before.
    #[allow(clippy::type_complexity, reason = "acts of tanks, and a moment")]
    fn looked_at(
        &mut self,
        states: &[Where],
        at_s: i64,
        path: &[TankAct],
        seen: &mut HashSet<(i64, [Where; 2])>,
    ) -> Option<(Vec<(usize, Next)>, Option<i64>)> {
        if states.iter().all(|state| state.is_done) {
            if at_s < self.most_s {
                self.most_s = at_s;
                self.best = Some(path.to_vec());
            }
            return None;
        }
        let waiting = states.iter().zip(self.tanks).filter(|(own, _)| !own.has_begun);
        let begins = waiting.map(|(_, tank)| at_s + after(tank, 0, self.pour_s)).max().unwrap_or(0);
        let bound_s = self.bound(states).max(at_s).max(begins);
        if self.left == 0 || bound_s >= self.most_s - self.most_s / WORTH {
            return None;
        }
        // Two states are the same when all their times are, counted from now.
        let counted = |whereabouts: &Where| {
            if whereabouts.is_done {
                Where { is_done: true, ..Where::default() }
            } else {
                Where { start_s: at_s - whereabouts.start_s, ..*whereabouts }
            }
        };
        let [one, two] = states else { return None };
        if !seen.insert((at_s, [counted(one), counted(two)])) {
            return None;
        }
        self.left -= 1;
        let mut open: Vec<(usize, Next)> = Vec::new();
        let mut wait_to_s = i64::MAX;
        for (index, own) in states.iter().enumerate().filter(|(_, own)| !own.is_done) {
            let next = self.next(index, *own, at_s);
            wait_to_s = wait_to_s.min(next.iter().map(|own| own.latest_s).max()?);
            open.extend(next.into_iter().map(|next| (index, next)));
        }
        open.sort_by_key(|(index, own)| (own.latest_s, matches!(own.kind, ActKind::Turn { .. }), *index));
        let soonest_s = open.iter().map(|(_, own)| own.earliest_s).min().unwrap_or(at_s);
        let later_s = if soonest_s > at_s { soonest_s } else { at_s + GRID_S };
        Some((open, (later_s <= wait_to_s).then_some(later_s)))
    }

    fn go(&mut self, states: &mut Vec<Where>, free_s: i64, path: &mut Vec<TankAct>) {
        if self.left == 0 || self.bound(states).max(free_s) >= self.most_s {
            return;
        }
        self.left -= 1;
        let mut open: Vec<(usize, Next)> = Vec::new();
        for (index, own) in states.iter().enumerate().filter(|(_, own)| !own.is_done) {
            let next = self.next(index, *own, free_s);
            if next.is_empty() {
                return;
            }
            open.extend(next.into_iter().map(|next| (index, next)));
        }
        if open.is_empty() {
            self.most_s = free_s;
            self.best = Some(path.clone());
            return;
        }
        let first_over = open.iter().map(|(_, own)| own.earliest_s.max(free_s) + own.seconds).min();
        open.retain(|(_, own)| first_over.is_none_or(|over| own.earliest_s.max(free_s) < over));
        open.sort_by_key(|(index, own)| (own.latest_s, matches!(own.kind, ActKind::Turn { .. }), *index));
        for (index, own) in open {
            let act = self.act(index, &own, own.earliest_s.max(free_s));
            let end_s = act.end_s;
            let Some(before) = states.get(index).copied() else { return };
            let then = self.done(index, before, &act);
            if let Some(state) = states.get_mut(index) {
                *state = then;
            }
            path.push(act);
            self.go(states, end_s, path);
            path.pop();
            if let Some(state) = states.get_mut(index) {
                *state = before;
            }
        }
    }
}

/// Puts a plan together from its acts.
fn assemble(tanks: &[Tank], acts: Vec<TankAct>, pour_s: i64) -> EveningPlan {
    let mut plans: Vec<TankPlan> =
        tanks.iter().map(|_| TankPlan { starts_s: Vec::new(), ends_s: Vec::new(), end_s: 0 }).collect();
    for act in &acts {
        let Some(tank_plan) = plans.get_mut(act.tank) else { continue };
        match act.kind {
            ActKind::In => tank_plan.starts_s.push(act.start_s),
            ActKind::Change { out } => {
                tank_plan.ends_s.push(act.start_s);
                let bath = tanks.get(act.tank).and_then(|tank| tank.baths.get(out));
                tank_plan.starts_s.push(act.start_s + bath.map_or(pour_s, |bath| bath.out_s(pour_s)));
            }
            ActKind::Last => {
                tank_plan.ends_s.push(act.start_s);
                tank_plan.end_s = act.end_s;
            }
            ActKind::Turn { .. } => {}
        }
    }
    let end_s = plans.iter().map(|plan| plan.end_s).max().unwrap_or(0);
    EveningPlan { tanks: plans, acts, end_s }
}
