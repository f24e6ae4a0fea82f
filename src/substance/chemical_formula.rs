//! Chemical formulas as text (`Na2B4O7.10H2O`, `(HOC6H4NH2CH3)2SO4`) and molar masses from standard atomic weights.

use std::collections::BTreeMap;

use serde::Deserialize;
use thiserror::Error;

use crate::diagnostic::{Finding, TableSource, read_table};

/// Standard atomic weights by element symbol.
///
/// Source: IUPAC Commission on Isotopic Abundances and Atomic Weights, standard atomic weights 2021 (abridged to five figures; for
/// elements given as an interval, the conventional value). The figures are in `tables/atomic-weights.toml`.
#[derive(Debug, Clone, Default)]
pub struct AtomicWeights(BTreeMap<String, f64>);

impl AtomicWeights {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Finding> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct WeightsFile {
            #[serde(rename = "format")]
            _format: u32,
            #[serde(rename = "source")]
            _source: String,
            weights: BTreeMap<String, f64>,
        }
        read_table::<WeightsFile>(source, file).map(|table| Self(table.weights))
    }

    /// Weight of one element, g/mol.
    pub fn of(&self, symbol: &str) -> Option<f64> {
        self.0.get(symbol).copied()
    }

    /// All symbols with their weights, by symbol.
    pub fn all(&self) -> impl Iterator<Item = (&str, f64)> {
        self.0.iter().map(|(symbol, weight)| (symbol.as_str(), *weight))
    }
}

/// Why a chemical formula cannot be read.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ChemicalFormulaError {
    /// A character that belongs in no formula, or one out of place.
    #[error("`{formula}`: `{character}` at place {place} is not part of a chemical formula")]
    Unexpected {
        /// The whole formula.
        formula: String,
        /// Where reading stopped.
        character: char,
        /// Its place, counted from 1.
        place: usize,
    },
    /// A bracket without its partner.
    #[error("`{formula}` has a bracket without its partner")]
    Bracket {
        /// The whole formula.
        formula: String,
    },
    /// An element without an atomic weight in the table.
    #[error("`{symbol}` in `{formula}` is not an element with a standard atomic weight")]
    UnknownElement {
        /// The whole formula.
        formula: String,
        /// The symbol met.
        symbol: String,
    },
    /// Nothing in it.
    #[error("the chemical formula is empty")]
    Empty,
    /// Absurdly long or with absurd counts.
    #[error("the chemical formula is too long or its counts too large")]
    TooLarge,
}

/// A chemical formula taken apart: how many atoms of each element.
#[derive(Debug, Clone, PartialEq)]
pub struct ChemicalFormula {
    atoms: BTreeMap<String, f64>,
    crystal_water: f64,
    text: String,
}

impl ChemicalFormula {
    /// Reads elements, counts, `( )`, `[ ]`, and parts joined with `.` or `·` that may begin with a count (`.7H2O`, `.1.5H2O`).
    ///
    /// # Errors
    /// Anything else, at its place.
    pub fn parse(text: &str) -> Result<Self, ChemicalFormulaError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(ChemicalFormulaError::Empty);
        }
        if text.len() > 200 {
            return Err(ChemicalFormulaError::TooLarge);
        }
        let mut reader = Reader { text, characters: text.chars().collect(), place: 0 };
        let mut atoms = BTreeMap::new();
        let mut crystal_water = 0.0;
        loop {
            let count = reader.decimal()?.unwrap_or(1.0);
            let mut part = BTreeMap::new();
            reader.group(&mut part, 0)?;
            if part.is_empty() {
                return Err(reader.unexpected());
            }
            if part.len() == 2
                && part.get("H") == Some(&2.0)
                && part.get("O") == Some(&1.0)
                && !atoms.is_empty()
            {
                crystal_water += count;
            }
            add(&mut atoms, &part, count);
            match reader.peek() {
                None => break,
                Some('.' | '·') => reader.place += 1,
                Some(')' | ']') => return Err(ChemicalFormulaError::Bracket { formula: text.to_owned() }),
                Some(_) => return Err(reader.unexpected()),
            }
        }
        if atoms.values().any(|count| !count.is_finite() || *count > 1e6) {
            return Err(ChemicalFormulaError::TooLarge);
        }
        Ok(Self { atoms, crystal_water, text: text.to_owned() })
    }

    /// Atoms per formula unit, water of crystallisation included, by element symbol.
    pub fn atoms(&self) -> &BTreeMap<String, f64> {
        &self.atoms
    }

    /// Molecules of water written as a separate part (`.10H2O`).
    pub fn crystal_water(&self) -> f64 {
        self.crystal_water
    }

    /// Molar mass in g/mol: M = Σ nᵢ·Aᵢ.
    ///
    /// # Errors
    /// An element that the table does not have.
    pub fn molar_mass(&self, weights: &AtomicWeights) -> Result<f64, ChemicalFormulaError> {
        let mut sum = 0.0;
        for (symbol, count) in &self.atoms {
            let weight = weights.of(symbol).ok_or_else(|| ChemicalFormulaError::UnknownElement {
                formula: self.text.clone(),
                symbol: symbol.clone(),
            })?;
            sum += count * weight;
        }
        Ok(sum)
    }
}

/// Adds `count` times the atoms of a part.
fn add(atoms: &mut BTreeMap<String, f64>, part: &BTreeMap<String, f64>, count: f64) {
    for (symbol, number) in part {
        *atoms.entry(symbol.clone()).or_insert(0.0) += number * count;
    }
}

struct Reader<'a> {
    text: &'a str,
    characters: Vec<char>,
    place: usize,
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.characters.get(self.place).copied()
    }

    fn unexpected(&self) -> ChemicalFormulaError {
        let character = self.peek().unwrap_or('.');
        ChemicalFormulaError::Unexpected { formula: self.text.to_owned(), character, place: self.place + 1 }
    }

    /// A leading count, which may have decimals: the `1.5` of `.1.5H2O`.
    fn decimal(&mut self) -> Result<Option<f64>, ChemicalFormulaError> {
        let start = self.place;
        let is_digit = |character: char| character.is_ascii_digit();
        // A point belongs to the count only between digits: in `..10H2O` the second one is a slip, not a tenth of a water.
        while self.peek().is_some_and(|character| {
            is_digit(character)
                || character == '.'
                    && self.place > start
                    && self.characters.get(self.place + 1).copied().is_some_and(is_digit)
        }) {
            self.place += 1;
        }
        self.number(start)
    }

    /// A count after an element or a bracket.
    fn count(&mut self) -> Result<f64, ChemicalFormulaError> {
        let start = self.place;
        while self.peek().is_some_and(|character| character.is_ascii_digit()) {
            self.place += 1;
        }
        Ok(self.number(start)?.unwrap_or(1.0))
    }

    fn number(&mut self, start: usize) -> Result<Option<f64>, ChemicalFormulaError> {
        let digits: String = self.characters.get(start..self.place).unwrap_or_default().iter().collect();
        if digits.is_empty() {
            return Ok(None);
        }
        match digits.parse::<f64>() {
            Ok(value) if value > 0.0 && value <= 10_000.0 => Ok(Some(value)),
            Ok(_) => Err(ChemicalFormulaError::TooLarge),
            Err(_) => {
                self.place = start;
                Err(self.unexpected())
            }
        }
    }

    /// Elements and brackets up to the end, a dot, or a closing bracket.
    fn group(&mut self, atoms: &mut BTreeMap<String, f64>, depth: usize) -> Result<(), ChemicalFormulaError> {
        if depth > 8 {
            return Err(ChemicalFormulaError::TooLarge);
        }
        while let Some(character) = self.peek() {
            match character {
                'A'..='Z' => {
                    self.place += 1;
                    let mut symbol = String::from(character);
                    while let Some(small) = self.peek().filter(char::is_ascii_lowercase) {
                        symbol.push(small);
                        self.place += 1;
                    }
                    let count = self.count()?;
                    *atoms.entry(symbol).or_insert(0.0) += count;
                }
                '(' | '[' => {
                    self.place += 1;
                    let mut inner = BTreeMap::new();
                    self.group(&mut inner, depth + 1)?;
                    let close = if character == '(' { ')' } else { ']' };
                    if self.peek() != Some(close) || inner.is_empty() {
                        return Err(ChemicalFormulaError::Bracket { formula: self.text.to_owned() });
                    }
                    self.place += 1;
                    let count = self.count()?;
                    add(atoms, &inner, count);
                }
                ')' | ']' | '.' | '·' => break,
                _ => return Err(self.unexpected()),
            }
        }
        Ok(())
    }
}
