//! Tanks, baths and hands: when each moment of work falls in one tank, and what makes a plan of several.
//!
//! A time runs from the start of pouring in to the start of pouring out (convention S). After each bath comes the time to pour out, then the
//! next bath begins. All times are whole seconds from the start of the evening.

use std::fmt;

/// What the hands do in a bath besides pouring out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hands {
    /// Pour in, turn for a while, then turn again at each full minute before the end.
    Turned {
        /// First turning after pouring in, s.
        first_s: i64,
        /// Each later turning, s.
        each_s: i64,
        /// From one turning to the next, s; none for no later turning.
        every_s: Option<i64>,
    },
    /// All the time.
    Continuous,
    /// Pour in; then it stands or runs by itself.
    Poured,
    /// Pour in; then a motor turns it.
    Motor,
}

/// How strictly a bath ends when its time is over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Softness {
    /// Longest in a calm evening, s.
    pub calm_s: i64,
    /// Longest in a tight one, s.
    pub tight_s: i64,
}

/// One bath of a tank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct TankBath {
    /// Name of the step: develop, stop, fix, rinse, aid, wash, wetting, or one's own.
    pub name: String,
    /// Start of pouring in to start of pouring out, s.
    pub seconds: i64,
    /// How long it may last.
    pub softness: Softness,
    pub hands: Hands,
    /// It develops: nothing may come between the hands and its start and end.
    pub is_developer: bool,
    /// The water runs by itself: the moment of starting it does not keep the hands.
    pub is_hose: bool,
    /// The films are in it; else it is work beside the tank, such as mixing the developer, after which nothing is poured out.
    pub is_in_tank: bool,
}

impl TankBath {
    /// From its end to the start of what comes next: pouring out, s.
    pub(crate) fn out_s(&self, pour_s: i64) -> i64 {
        if self.is_in_tank { pour_s } else { 0 }
    }

    pub(crate) fn hands_at_start_s(&self, pour_s: i64) -> i64 {
        match self.hands {
            Hands::Turned { first_s, .. } => (pour_s + first_s).min(self.seconds),
            Hands::Continuous => self.seconds,
            Hands::Poured | Hands::Motor => pour_s.min(self.seconds),
        }
    }

    /// The later turnings of a bath that lasts so long: when due and how long, s from its start.
    pub(crate) fn turns(&self, pour_s: i64, lasts_s: i64) -> Vec<(i64, i64)> {
        let Hands::Turned { each_s, every_s: Some(every_s), .. } = self.hands else { return Vec::new() };
        let busy = self.hands_at_start_s(pour_s);
        let every_s = every_s.max(1);
        (1..=lasts_s / every_s)
            .map(|count| count * every_s)
            .filter(|due| *due < lasts_s)
            .filter(|due| *due >= busy)
            .map(|due| (due, each_s.min(lasts_s - due)))
            .collect()
    }
}

/// A loaded tank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Tank {
    pub name: String,
    /// Its baths in order, at least one.
    pub baths: Vec<TankBath>,
    /// Hanging its films, s; none hangs nothing.
    pub hang_s: i64,
    /// Films or sheets in it.
    pub pieces: u32,
    /// A wish: its first bath begins then, s.
    pub wish_s: Option<i64>,
}

/// What the hands do in an act.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ActKind {
    /// Pour in the first bath.
    In,
    /// Turn, in this bath.
    Turn {
        /// Place of the bath in the tank.
        bath: usize,
        due_s: i64,
    },
    /// Pour out this bath and pour in the next.
    Change {
        /// Place of the bath that goes out.
        out: usize,
    },
    /// Pour out the last bath and hang the films.
    Last,
}

/// A stretch of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct TankAct {
    /// Place of the tank.
    pub tank: usize,
    pub kind: ActKind,
    pub start_s: i64,
    pub end_s: i64,
    /// From here on water runs by itself and the hands are free for an act that must not wait, s.
    pub free_from_s: i64,
    /// Its start must not wait.
    pub is_hard: bool,
}

/// A step as it came out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Step {
    pub name: String,
    /// Start of pouring in, s.
    pub start_s: i64,
    /// Start of pouring out; of hanging its end, s.
    pub end_s: i64,
}

/// A tank as planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct TankPlan {
    /// Start of each bath, s, in the order of [`Tank::baths`].
    pub starts_s: Vec<i64>,
    /// End of each bath, s.
    pub ends_s: Vec<i64>,
    pub end_s: i64,
}

/// A plan of the evening.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct EveningPlan {
    /// The tanks in the order of the file.
    pub tanks: Vec<TankPlan>,
    /// All acts by start.
    pub acts: Vec<TankAct>,
    /// The last film hangs, s.
    pub end_s: i64,
}

impl EveningPlan {
    /// Time of the hands in all, s.
    pub(crate) fn hands_s(&self) -> i64 {
        self.acts.iter().map(|act| act.end_s - act.start_s).sum()
    }

    /// The same plan, everything so much later, s; below zero earlier.
    #[must_use]
    pub(crate) fn moved(mut self, by: i64) -> Self {
        for tank in &mut self.tanks {
            tank.starts_s.iter_mut().chain(&mut tank.ends_s).for_each(|own| *own += by);
            tank.end_s += by;
        }
        for act in &mut self.acts {
            act.start_s += by;
            act.end_s += by;
            act.free_from_s += by;
            if let ActKind::Turn { due_s, .. } = &mut act.kind {
                *due_s += by;
            }
        }
        self.end_s += by;
        self
    }

    /// The steps of a tank; baths of one name that follow each other are one step.
    pub(crate) fn steps(&self, index: usize, tank: &Tank) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::new();
        let Some(plan) = self.tanks.get(index) else { return steps };
        for ((bath, start_s), end_s) in tank.baths.iter().zip(&plan.starts_s).zip(&plan.ends_s) {
            match steps.last_mut().filter(|last| last.name == bath.name) {
                Some(last) => last.end_s = *end_s,
                None => steps.push(Step { name: bath.name.clone(), start_s: *start_s, end_s: *end_s }),
            }
        }
        if tank.hang_s > 0 {
            let start_s = plan.end_s - tank.hang_s;
            steps.push(Step { name: "hang".to_owned(), start_s, end_s: plan.end_s });
        }
        steps
    }

    /// Turnings that come late: tank, when due, by how much, s.
    pub(crate) fn late(&self) -> Vec<(usize, i64, i64)> {
        self.acts
            .iter()
            .filter_map(|act| match act.kind {
                ActKind::Turn { due_s, .. } if act.start_s > due_s => {
                    Some((act.tank, due_s, act.start_s - due_s))
                }
                _ => None,
            })
            .collect()
    }
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub(crate) enum Unplannable {
    /// Two acts meet.
    #[error("{first} while {second}")]
    Meet { first: String, second: String },
    /// Tanks are wished in another order than they are written.
    #[error("tank {later} is to begin before tank {earlier}, which stands above it")]
    Order {
        /// Written first.
        earlier: String,
        /// Written later.
        later: String,
    },
    /// A time shorter than pouring.
    #[error("tank {tank}: {step} lasts {seconds} s, and pouring alone takes {pour_s} s")]
    TooShort {
        tank: String,
        step: String,
        /// Its time, s.
        seconds: i64,
        pour_s: i64,
    },
    /// Too many tanks.
    #[error("{0} tanks are more than one person keeps on one clock")]
    TooMany(usize),
    /// Nothing to plan.
    #[error("there is no tank with a bath")]
    Nothing,
    /// No place was found for all tanks.
    #[error("the wishes leave no place for tank {0}")]
    NoPlace(String),
}

impl Unplannable {
    /// Stable short name.
    pub(crate) fn code(&self) -> &'static str {
        match self {
            Self::Meet { .. } => "hands-meet",
            Self::Order { .. } => "order-of-tanks",
            Self::TooShort { .. } => "shorter-than-pouring",
            Self::TooMany(_) => "too-many-tanks",
            Self::Nothing => "no-tank",
            Self::NoPlace(_) => "no-place",
        }
    }

    /// What to do.
    pub(crate) fn fix(&self) -> &'static str {
        match self {
            Self::Meet { .. } | Self::NoPlace(_) => {
                "leave the tank's start out, and the best one is looked for"
            }
            Self::Order { .. } => "write the tanks in the order in which they begin",
            Self::TooShort { .. } => "give a longer time, or \"0s\" to leave the step out",
            Self::TooMany(_) => "plan at most 6, and the rest as another evening",
            Self::Nothing => "write a [[tanks]] with its time",
        }
    }
}

/// Most tanks of one plan.
pub(crate) const MOST_TANKS: usize = 6;

/// Refuses what no plan can hold.
///
/// # Errors
/// No tanks, too many, a time shorter than pouring, wishes out of order.
pub(crate) fn check(tanks: &[Tank], pour_s: i64) -> Result<(), Unplannable> {
    if tanks.is_empty() || tanks.iter().any(|tank| tank.baths.is_empty()) {
        return Err(Unplannable::Nothing);
    }
    if tanks.len() > MOST_TANKS {
        return Err(Unplannable::TooMany(tanks.len()));
    }
    for tank in tanks {
        if let Some(bath) = tank.baths.iter().find(|bath| bath.seconds < pour_s) {
            return Err(Unplannable::TooShort {
                tank: tank.name.clone(),
                step: bath.name.clone(),
                seconds: bath.seconds,
                pour_s,
            });
        }
    }
    let mut last: Option<(i64, &str)> = None;
    for tank in tanks {
        let Some(wish) = tank.wish_s else { continue };
        if let Some((_, name)) = last.filter(|(before, _)| *before > wish) {
            return Err(Unplannable::Order { earlier: name.to_owned(), later: tank.name.clone() });
        }
        last = Some((wish, &tank.name));
    }
    Ok(())
}

/// The acts of a tank whose baths begin and end so.
pub(crate) fn acts_of(index: usize, tank: &Tank, plan: &TankPlan, pour_s: i64) -> Vec<TankAct> {
    let mut acts = Vec::new();
    let spans: Vec<(&TankBath, i64, i64)> = tank
        .baths
        .iter()
        .zip(plan.starts_s.iter().zip(&plan.ends_s))
        .map(|(bath, (start, end))| (bath, *start, *end))
        .collect();
    let act = |kind, start_s: i64, end_s: i64, free_from_s: i64, is_hard| TankAct {
        tank: index,
        kind,
        start_s,
        end_s,
        free_from_s,
        is_hard,
    };
    for (place, (bath, start, end)) in spans.iter().enumerate() {
        if place == 0 {
            let stop = start + bath.hands_at_start_s(pour_s);
            acts.push(act(ActKind::In, *start, stop, stop, bath.is_developer));
        }
        for (due, seconds) in bath.turns(pour_s, end - start) {
            let due_s = start + due;
            acts.push(act(
                ActKind::Turn { bath: place, due_s },
                due_s,
                due_s + seconds,
                due_s + seconds,
                false,
            ));
        }
        if let Some((next, from, _)) = spans.get(place + 1) {
            let stop = from + next.hands_at_start_s(pour_s);
            let is_hard = bath.is_developer || next.is_developer;
            let free = if next.is_hose { *from } else { stop };
            acts.push(act(ActKind::Change { out: place }, *end, stop, free, is_hard));
        } else {
            let stop = end + bath.out_s(pour_s) + tank.hang_s;
            acts.push(act(ActKind::Last, *end, stop, stop, bath.is_developer));
        }
    }
    acts
}

/// One tank by itself, from a start on, every time as given.
pub(crate) fn alone(tank: &Tank, start_s: i64, pour_s: i64) -> TankPlan {
    let mut plan = TankPlan { starts_s: Vec::new(), ends_s: Vec::new(), end_s: start_s };
    let mut at = start_s;
    for bath in &tank.baths {
        plan.starts_s.push(at);
        plan.ends_s.push(at + bath.seconds);
        at += bath.seconds + bath.out_s(pour_s);
    }
    plan.end_s = at + tank.hang_s;
    plan
}

/// What an act is, in words: `A: out develop, stop in`.
pub(crate) fn act_words(act: &TankAct, tanks: &[Tank]) -> String {
    let Some(tank) = tanks.get(act.tank) else { return String::new() };
    let name = |place: usize| tank.baths.get(place).map_or("", |bath| bath.name.as_str());
    let at = Watch(act.start_s);
    match act.kind {
        ActKind::In => format!("{} wants {} poured in at {at}", tank.name, name(0)),
        ActKind::Turn { bath, .. } => format!("{} wants turning in {} at {at}", tank.name, name(bath)),
        ActKind::Change { out } => {
            format!("{} is emptied of {} and {} goes in from {at}", tank.name, name(out), name(out + 1))
        }
        ActKind::Last => {
            format!("{} is emptied of {} and hung from {at}", tank.name, name(tank.baths.len() - 1))
        }
    }
}

/// Seconds as a watch shows them: `9:45`, from an hour on `1:02:15`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Watch(pub i64);

impl fmt::Display for Watch {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (minutes, seconds) = (self.0 / 60, self.0 % 60);
        if minutes < 60 {
            formatter.pad(&format!("{minutes}:{seconds:02}"))
        } else {
            formatter.pad(&format!("{}:{:02}:{seconds:02}", minutes / 60, minutes % 60))
        }
    }
}
