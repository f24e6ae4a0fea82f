//! From the keys of an evening file to tanks, baths and times, with every mistake told at its line.

use super::shape::{BathFile, KnownFile, TankFile};
use super::{
    BathSpec, KnownSpec, TankAgitation, TankSpec, Way, agitation, seconds, step, table_name, time_of_day,
};
use crate::diagnostic::{Finding, line_of};
use crate::quantity::{Films, Temperature, Volume};
use crate::suggestion;
use std::collections::BTreeMap;
use toml::Spanned;

pub(super) struct Reader<'a> {
    pub(super) text: &'a str,
    pub(super) file: &'a str,
    pub(super) findings: Vec<Finding>,
}

impl Reader<'_> {
    pub(super) fn refuse(&mut self, at: usize, message: String, fix: String) {
        let line = line_of(self.text, at);
        self.findings.push(Finding::error("evening", self.file, Some(line), message, fix));
    }

    pub(super) fn time(&mut self, key: &str, value: Option<&Spanned<String>>) -> Option<i64> {
        let value = value?;
        match seconds(value.get_ref()) {
            Ok(own) => Some(own),
            Err((message, fix)) => {
                self.refuse(value.span().start, format!("{key}: {message}"), fix);
                Some(0)
            }
        }
    }

    pub(super) fn time_of_day(&mut self, key: &str, value: Option<&Spanned<String>>) -> Option<i64> {
        let value = value?;
        let seconds = time_of_day(value.get_ref());
        if seconds.is_none() {
            let message = format!("{key}: `{}` is no time of the day", value.get_ref());
            self.refuse(value.span().start, message, "write it as \"19:30\"".to_owned());
        }
        seconds
    }

    pub(super) fn parsed<T: std::str::FromStr>(
        &mut self,
        key: &str,
        value: Option<&Spanned<String>>,
        fix: &str,
    ) -> Option<T>
    where
        T::Err: std::fmt::Display,
    {
        let value = value?;
        match value.get_ref().parse() {
            Ok(own) => Some(own),
            Err(error) => {
                self.refuse(value.span().start, format!("{key}: {error}"), fix.to_owned());
                None
            }
        }
    }

    pub(super) fn one_of<T>(
        &mut self,
        key: &str,
        value: Option<&Spanned<String>>,
        known: impl Fn(&str) -> Option<T>,
        words: &[&str],
    ) -> Option<T> {
        let value = value?;
        let known_word = known(value.get_ref());
        if known_word.is_none() {
            let near = suggestion::nearest(value.get_ref(), words.iter().copied());
            let fix = near.map_or_else(
                || format!("write one of {}", words.join(", ")),
                |near| format!("did you mean \"{near}\"?"),
            );
            self.refuse(value.span().start, format!("{key}: `{}` is not known", value.get_ref()), fix);
        }
        known_word
    }

    /// The baths by step; a name that no step has is refused.
    pub(super) fn baths(
        &mut self,
        baths: BTreeMap<Spanned<String>, BathFile>,
        tanks: &[TankSpec],
    ) -> BTreeMap<String, BathSpec> {
        let own_names: Vec<&str> = tanks
            .iter()
            .flat_map(|tank| tank.steps.iter().flatten())
            .map(|(name, _)| name.as_str())
            .collect();
        let mut all = BTreeMap::new();
        for (name, bath) in baths {
            let known = ["stop", "fixer", "aid", "wetting"];
            if !known.contains(&name.get_ref().as_str()) && !own_names.contains(&name.get_ref().as_str()) {
                let message = format!("baths: no step is named `{}`", name.get_ref());
                let near =
                    suggestion::nearest(name.get_ref(), known.into_iter().chain(own_names.iter().copied()));
                let fix = near.map_or_else(
                    || format!("write one of {}, or a step of a tank's own `steps`", known.join(", ")),
                    |near| format!("did you mean \"{near}\"?"),
                );
                self.refuse(name.span().start, message, fix);
            }
            let spec = match bath {
                BathFile::Formula(formula) => BathSpec { formula: Some(formula), bottle: None },
                BathFile::Table(table) => BathSpec { formula: table.formula, bottle: table.bottle },
            };
            all.insert(name.into_inner(), spec);
        }
        all
    }

    /// A developing time: one, or one a bath with `+` between.
    pub(super) fn times(&mut self, value: Option<&Spanned<String>>) -> Vec<i64> {
        let Some(value) = value else { return Vec::new() };
        let mut all = Vec::new();
        for part in value.get_ref().split('+') {
            match seconds(part.trim()) {
                Ok(own) => all.push(own),
                Err((message, fix)) => self.refuse(value.span().start, format!("time: {message}"), fix),
            }
        }
        all.retain(|own| *own > 0);
        all
    }

    pub(super) fn known(&mut self, value: Option<Spanned<KnownFile>>) -> Option<KnownSpec> {
        let value = value?;
        let place = value.span().start;
        let entry = value.into_inner();
        match seconds(&entry.time) {
            Ok(seconds) if seconds > 0 => Some(KnownSpec {
                seconds,
                developer: entry.developer,
                dilution: entry.dilution,
                temperature: entry.temp,
                agitation: entry.agitation,
            }),
            Ok(_) => {
                self.refuse(place, "known: a time of nothing".to_owned(), "write it as \"9min\"".to_owned());
                None
            }
            Err((message, fix)) => {
                self.refuse(place, format!("known: {message}"), fix);
                None
            }
        }
    }

    pub(super) fn steps(&mut self, list: Option<Vec<Spanned<String>>>) -> Option<Vec<(String, Option<i64>)>> {
        let mut steps: Vec<(String, Option<i64>)> = Vec::new();
        let list = list?;
        let place = list.first().map_or(0, |own| own.span().start);
        for entry in list {
            match step(entry.get_ref()) {
                Some(read) if steps.iter().any(|(name, _)| *name == read.0) => {
                    let message = format!("steps: `{}` stands twice", read.0);
                    let fix = format!("tell them apart: \"{}\" and \"{} 2\"", read.0, read.0);
                    self.refuse(entry.span().start, message, fix);
                }
                Some(read) => steps.push(read),
                None => {
                    let fix = "write a name and a time, such as \"fix 2 5min\"".to_owned();
                    self.refuse(entry.span().start, "steps: a step without a name".to_owned(), fix);
                }
            }
        }
        if !steps.iter().any(|(name, _)| table_name(name) == "develop") {
            let message = "steps: none of them develops".to_owned();
            self.refuse(
                place,
                message,
                "name one \"develop\", or \"develop A\" and \"develop B\"".to_owned(),
            );
        }
        Some(steps)
    }

    pub(super) fn tank(
        &mut self,
        index: usize,
        spanned: Spanned<TankFile>,
        assumed: &mut Vec<String>,
    ) -> TankSpec {
        let place = spanned.span().start;
        let file = spanned.into_inner();
        let letter = char::from(b'A' + u8::try_from(index % 26).unwrap_or(0)).to_string();
        let name = file.name.filter(|name| !name.trim().is_empty()).unwrap_or(letter);
        let films = self.parsed::<Films>("films", file.films.as_ref(), "write such as \"2x135-36\"");
        if file.films.is_none() {
            assumed.push(format!("one film in tank {name}"));
        }
        let volume = self.parsed::<Volume>("volume", file.volume.as_ref(), "write such as \"600ml\"");
        let way = self.one_of(
            "way",
            file.way.as_ref(),
            |own| match own {
                "tank" => Some(Way::Tank),
                "rotary" => Some(Way::Rotary),
                "hangers" => Some(Way::Hangers),
                "trays" => Some(Way::Trays),
                _ => None,
            },
            &["tank", "rotary", "hangers", "trays"],
        );
        let agitation = self.one_of(
            "agitation",
            file.agitation.as_ref(),
            agitation,
            &["usual", "none", "continuous", "5s each 30s"],
        );
        let temperature = self.parsed::<Temperature>("temp", file.temp.as_ref(), "write such as \"20C\"");
        let presoak_s = self.time("presoak", file.presoak.as_ref()).unwrap_or(0);
        let start_of_day_s = self.time_of_day("start", file.start.as_ref());
        let times_s = self.times(file.time.as_ref());
        TankSpec {
            films,
            film: file.film,
            rolls: file.rolls.unwrap_or_default(),
            volume,
            developer: file.developer,
            use_name: file.use_name,
            bottle: file.bottle,
            times_s,
            known: self.known(file.known),
            temperature,
            steps: self.steps(file.steps),
            way: way.unwrap_or(Way::Tank),
            agitation: agitation.unwrap_or(TankAgitation::Usual),
            presoak_s,
            start_of_day_s,
            line: line_of(self.text, place),
            ..TankSpec::named(name)
        }
    }
}
