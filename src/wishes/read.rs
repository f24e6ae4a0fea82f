//! What words typed are read as: wishes, what is wished not, kinds, chemicals to leave out.

use super::stem::{stem, words};
use super::{AskedWishes, WantedWish, Wish, Wishes};
use crate::formula::Kind;

/// Where the words begin with a saying: how many words it has, and how many it took, idle words between them included.
type Fit = (usize, usize);

impl Wishes {
    /// Reads words. The longest saying wins; `is_chemical` says whether words after "no" or "without" name one.
    pub(crate) fn read(&self, typed: &[String], is_chemical: &dyn Fn(&str) -> bool) -> AskedWishes<'_> {
        let mut asked = AskedWishes::default();
        let all: Vec<String> = typed.iter().flat_map(|text| words(text)).collect();
        let mut rest = all.as_slice();
        while let Some((first, tail)) = rest.split_first() {
            let used = self
                .left_out(rest, is_chemical, &mut asked)
                .or_else(|| self.take(rest, &mut asked))
                .or_else(|| self.denied(rest, &mut asked));
            rest = if let Some(used) = used {
                rest.get(used..).unwrap_or_default()
            } else {
                self.hear(first, &mut asked);
                tail
            };
        }
        asked.settle_kinds();
        asked
    }

    /// A word that is no saying: one that hints at a kind, an idle one, or one that must occur.
    fn hear(&self, word: &str, asked: &mut AskedWishes<'_>) {
        if let Some(hint) = self.0.hints.iter().find(|own| own.said.iter().any(|own| stem(own) == stem(word)))
        {
            asked.hinted.extend(&hint.kinds);
            asked.idle.push(word.to_owned());
        } else if self.is_idle(word) {
            asked.idle.push(word.to_owned());
        } else {
            asked.words.push(word.to_owned());
        }
    }

    fn is_idle(&self, word: &str) -> bool {
        self.0.idle.iter().any(|own| own == word)
    }

    /// The wish whose saying, of those that `sayings` gives, the words begin with; the longest, the first of equals.
    fn longest<'a>(
        &'a self,
        rest: &[String],
        sayings: &dyn Fn(&'a Wish) -> Vec<&'a str>,
    ) -> Option<(Fit, &'a Wish)> {
        let mut best: Option<(Fit, &Wish)> = None;
        for wish in &self.0.wishes {
            let own = sayings(wish).into_iter().filter_map(|said| self.begins(rest, said)).max();
            if let Some(fit) = own
                && best.is_none_or(|(so_far, _)| fit.0 > so_far.0)
            {
                best = Some((fit, wish));
            }
        }
        best
    }

    /// The wish that the words begin with, and whether its opposite was said (`grainy`, `keeps short`).
    fn wish_at(&self, rest: &[String]) -> Option<(Fit, &Wish, bool)> {
        let by_name = |wish: &'_ Wish| -> bool { self.begins(rest, &wish.name).is_some() };
        let said = self.longest(rest, &|wish| {
            let mut all: Vec<&str> = wish.said.iter().map(String::as_str).collect();
            if by_name(wish) {
                all.push(&wish.name);
            }
            all
        });
        let against = self.longest(rest, &|wish| wish.against.iter().map(String::as_str).collect());
        match (said, against) {
            (Some(said), Some(against)) if against.0.0 > said.0.0 => Some((against.0, against.1, true)),
            (Some(said), _) => Some((said.0, said.1, false)),
            (None, against) => against.map(|own| (own.0, own.1, true)),
        }
    }

    /// Takes the longest saying that the words begin with; how many words it used.
    fn take<'a>(&'a self, rest: &[String], asked: &mut AskedWishes<'a>) -> Option<usize> {
        let longest =
            |said: &[String]| said.iter().filter_map(|said| self.begins(rest, said)).max().unwrap_or((0, 0));
        let kind = self.0.kinds.iter().map(|kind| (longest(&kind.said), kind)).max_by_key(|own| own.0.0);
        let elsewhere =
            self.0.elsewhere.iter().map(|own| (longest(&own.said), own)).max_by_key(|own| own.0.0);
        let length = |fit: Option<Fit>| fit.map_or(0, |own| own.0);
        let (by_kind, by_else) = (length(kind.map(|kind| kind.0)), length(elsewhere.map(|own| own.0)));
        if let Some((fit, wish, against)) = self.wish_at(rest)
            && fit.0 >= by_kind.max(by_else)
        {
            // `stain free`: the word behind denies it.
            let free = rest.get(fit.1).is_some_and(|word| word == "free");
            self.want(wish, against != free, asked);
            return Some(fit.1 + usize::from(free));
        }
        if by_kind > 0 && by_kind >= by_else {
            let (fit, kind) = kind?;
            asked.kinds.extend(&kind.kinds);
            return Some(fit.1);
        }
        let (fit, elsewhere) = elsewhere?;
        if fit.0 == 0 {
            return None;
        }
        if !asked.elsewhere.contains(&elsewhere.fix.as_str()) {
            asked.elsewhere.push(&elsewhere.fix);
        }
        Some(fit.1)
    }

    /// `no staining`, `not so contrasty`, `less speed`: what is not wished; a denial of nothing known is kept to be told.
    fn denied<'a>(&'a self, rest: &[String], asked: &mut AskedWishes<'a>) -> Option<usize> {
        let (first, _) = rest.split_first()?;
        if !self.0.denials.contains(first) {
            return None;
        }
        let skipped = |word: &&String| self.is_idle(word) || self.0.denials.contains(word);
        let idle = 1 + rest.iter().skip(1).take_while(skipped).count();
        // "not one-shot": what looks idle may already be the wish.
        for from in 1..=idle {
            let tail = rest.get(from..)?;
            if let Some((fit, wish, against)) = self.wish_at(tail) {
                self.want(wish, !against, asked);
                return Some(from + fit.1);
            }
        }
        let Some(word) = rest.get(idle) else {
            asked.not_understood.push(first.clone());
            return Some(idle);
        };
        asked.not_understood.push(format!("{first} {word}"));
        Some(idle + 1)
    }

    /// Adds a wish, or what answers its denial.
    fn want<'a>(&'a self, wish: &'a Wish, not: bool, asked: &mut AskedWishes<'a>) {
        let opposite =
            wish.opposite.as_ref().and_then(|name| self.0.wishes.iter().find(|wish| wish.name == *name));
        let wanted = match opposite.filter(|_| not) {
            Some(opposite) => WantedWish { wish: opposite, not: false },
            None => WantedWish { wish, not },
        };
        if !asked.wishes.iter().any(|wish| wish.wish.name == wanted.wish.name) {
            asked.wishes.push(wanted);
        }
    }

    /// The words begin with a saying; idle words may stand between its own.
    fn begins(&self, rest: &[String], said: &str) -> Option<Fit> {
        let said = words(said);
        let mut used = 0;
        for (place, said_word) in said.iter().enumerate() {
            loop {
                let word = rest.get(used)?;
                used += 1;
                if stem(said_word) == stem(word) {
                    break;
                }
                if place == 0 || !self.is_idle(word) {
                    return None;
                }
            }
        }
        (used > 0).then_some((said.len(), used))
    }

    /// `no hydroquinone`, `without sodium sulfite`, `metol free`, `no sulfide`: how many words that took.
    fn left_out(
        &self,
        rest: &[String],
        is_chemical: &dyn Fn(&str) -> bool,
        asked: &mut AskedWishes<'_>,
    ) -> Option<usize> {
        let named = |words: &[String]| {
            (1..=words.len().min(4)).rev().find_map(|count| {
                let name = words.get(..count)?.join("-");
                if let Some(group) = self.0.groups.iter().find(|group| group.said.contains(&name)) {
                    return Some((count, group.chemicals.clone()));
                }
                is_chemical(&name).then_some((count, vec![name]))
            })
        };
        let (used, chemicals) = match rest {
            [first, others @ ..] if first == "no" || first == "without" => {
                named(others).map(|(count, names)| (count + 1, names))
            }
            [chemical, free, ..] if free == "free" => {
                named(std::slice::from_ref(chemical)).map(|(count, names)| (count + 1, names))
            }
            _ => None,
        }?;
        asked.without.extend(chemicals);
        Some(used)
    }
}

impl AskedWishes<'_> {
    /// A kind that was only hinted at ("prints") holds where every wish is looked for in it and none was named.
    fn settle_kinds(&mut self) {
        let fits = |kind: &Kind| self.wishes.iter().all(|wish| wish.wish.kinds.contains(kind));
        if self.kinds.is_empty() && !self.wishes.is_empty() {
            self.kinds = self.hinted.iter().copied().filter(fits).collect();
        }
    }
}
