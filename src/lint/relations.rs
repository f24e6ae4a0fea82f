//! Relations between formulas: what is named exists, is of the right kind, and names back.

use super::Judge;
use crate::formula::Kind;
use crate::suggestion;

pub(super) fn judge(judge: &mut Judge<'_>) {
    judge.variant();
    judge.replenishes();
    judge.partners();
    judge.replenishment();
    judge.aliases();
}

impl Judge<'_> {
    /// A mistake in what a key says of another formula.
    fn wrong(&mut self, code: &'static str, key: &str, value: &str, message: String, fix: impl Into<String>) {
        self.warn(code, self.source.value(key, value), message, fix);
    }

    /// Whether a formula of that name exists; says so where it does not.
    fn exists(&mut self, key: &str, id: &str) -> bool {
        if self.linter.known.contains_key(id) {
            return true;
        }
        let fix = match suggestion::nearest(id, self.linter.known.keys().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`soupcon list` shows all formulas".to_owned(),
        };
        self.wrong("unknown-relation", key, id, format!("{key} names `{id}`, which is no formula"), fix);
        false
    }

    fn is_itself(&mut self, key: &str, id: &str) -> bool {
        if id == self.formula.id {
            self.wrong(
                "names-itself",
                key,
                id,
                format!("{key} names the formula itself"),
                "name the other formula",
            );
            return true;
        }
        false
    }

    fn variant(&mut self) {
        let Some(of) = self.formula.variant_of.clone() else { return };
        if self.is_itself("variant_of", &of) || !self.exists("variant_of", &of) {
            return;
        }
        // Following the chain must end.
        let mut seen = vec![self.formula.id.clone()];
        let mut next = Some(of.clone());
        while let Some(id) = next {
            if seen.contains(&id) {
                let message = format!("variant_of goes round in a circle: {} → {id}", seen.join(" → "));
                self.wrong("variant-circle", "variant_of", &of, message, "let one of them be the first");
                return;
            }
            next = self.linter.known.get(&id).and_then(|known| known.variant_of.clone());
            seen.push(id);
        }
        let kind = self.linter.known.get(&of).map(|known| known.kind);
        if kind.is_some_and(|kind| kind.is_developer() != self.formula.kind.is_developer()) {
            let message = format!(
                "a {} is no variant of the {} `{of}`",
                self.formula.kind.words(),
                kind.map_or_else(String::new, Kind::words)
            );
            self.wrong(
                "variant-kind",
                "variant_of",
                &of,
                message,
                "name a formula that does the same work, or say it in a note",
            );
        }
    }

    fn replenishes(&mut self) {
        for id in &self.formula.replenishes.clone() {
            if self.is_itself("replenishes", id) || !self.exists("replenishes", id) {
                continue;
            }
            if self.formula.kind != Kind::Replenisher {
                let message = format!(
                    "a {} replenishes `{id}`, but its kind is not replenisher",
                    self.formula.kind.words()
                );
                self.wrong(
                    "replenisher-kind",
                    "replenishes",
                    id,
                    message,
                    "write kind = \"replenisher\" and move the file there",
                );
            }
        }
        if self.formula.kind == Kind::Replenisher && self.formula.replenishes.is_empty() {
            let message = "the replenisher does not say what it replenishes";
            let fix = "add replenishes = [\"…\"] with the ids of the developers";
            self.advise("replenishes-nothing", self.source.key("kind"), message, fix);
        }
    }

    fn partners(&mut self) {
        for id in &self.formula.partners.clone() {
            if !self.is_itself("partners", id) {
                self.exists("partners", id);
            }
        }
    }

    fn replenishment(&mut self) {
        let Some(with) = self.formula.replenishment.as_ref().map(|replenishment| replenishment.with.clone())
        else {
            return;
        };
        // A bath that is topped up with itself is custom.
        if with == self.formula.id || !self.exists("with", &with) {
            return;
        }
        let names_back =
            self.linter.known.get(&with).is_some_and(|known| known.replenishes.contains(&self.formula.id));
        if !names_back {
            let message = format!(
                "it is replenished with `{with}`, which does not say that it replenishes `{}`",
                self.formula.id
            );
            let fix = format!("add `{}` to replenishes of `{with}`", self.formula.id);
            self.wrong("replenishes-one-way", "with", &with, message, fix);
        }
    }

    fn aliases(&mut self) {
        for alias in &self.formula.aliases.clone() {
            let lower = alias.trim().to_lowercase();
            if lower != self.formula.id && self.linter.known.contains_key(&lower) {
                let message = format!("the alias `{alias}` is the id of another formula");
                self.wrong("alias-clash", "aliases", alias, message, "choose another alias");
            }
            let others: Vec<&String> = self
                .linter
                .known
                .iter()
                .filter(|(id, known)| {
                    **id != self.formula.id
                        && known.aliases.iter().any(|alias| alias.trim().to_lowercase() == lower)
                })
                .map(|(id, _)| id)
                .collect();
            if let Some(other) = others.first() {
                let message = format!("the alias `{alias}` is also one of `{other}`");
                self.wrong(
                    "alias-clash",
                    "aliases",
                    alias,
                    message,
                    "choose another alias for one of the two",
                );
            }
        }
    }
}
