//! The shape of `tables/precautions.toml`: full-width boxes, waste lines, what to do after exposure, the closing line, and
//! the specific concentration limits that go before the generic ones.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::exposure::{ExposureTexts, Gas};
use super::rows::{Rows, cut};
use super::special::BoxRow;
use super::waste::WasteRow;
use super::wear::WearRow;
use crate::diagnostic::{Finding, read_toml};
use crate::substance::FORMAT;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Head {
    format: u32,
    closing: String,
    exposure: ExposureTexts,
}

/// Specific concentration limits of a substance.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Limits {
    pub(super) substance: String,
    source: String,
    /// Code to percent by mass.
    pub(super) percent: BTreeMap<String, f64>,
}

/// The table of precautions.
#[derive(Debug, Clone, Default)]
pub struct Precautions {
    pub(super) closing: String,
    pub(super) boxes: Rows<BoxRow>,
    pub(super) waste: Rows<WasteRow>,
    pub(super) exposure: ExposureTexts,
    pub(super) gases: Rows<Gas>,
    pub(super) limits: Rows<Limits>,
    pub(super) wear: Rows<WearRow>,
}

impl Precautions {
    /// Opens the table; a row is read when it is needed.
    ///
    /// # Errors
    /// Its head is not of its shape.
    pub(super) fn open(text: &str, file: &str) -> Result<Self, Finding> {
        let table = cut(text);
        let head: Head = read_toml(table.head, file)?;
        super::check_format(head.format, FORMAT, file)?;
        table.only(&["boxes", "waste", "gases", "limits", "wear"], file)?;
        Ok(Self {
            closing: head.closing,
            boxes: table.rows("boxes"),
            waste: table.rows("waste"),
            exposure: head.exposure,
            gases: table.rows("gases"),
            limits: table.rows("limits"),
            wear: table.rows("wear"),
        })
    }

    /// Reads all of it.
    ///
    /// # Errors
    /// A row is not of its shape, or a box names a waste line that is not there.
    pub(super) fn check(&self, file: &str) -> Result<(), Finding> {
        self.boxes.check(file)?;
        self.waste.check(file)?;
        self.gases.check(file)?;
        self.limits.check(file)?;
        self.wear.check(file)?;
        // Rows are found by their first line.
        let hidden = |line: usize| {
            Finding::error(
                "row-order",
                file,
                Some(line),
                "the row does not begin with its name",
                "write its name first",
            )
        };
        for (row, line) in self.gases.with_lines() {
            self.gases.find("id", &row.id).ok_or_else(|| hidden(line))?;
        }
        for (row, line) in self.limits.with_lines() {
            self.limits.find("substance", &row.substance).ok_or_else(|| hidden(line))?;
        }
        for (row, line) in self.boxes.with_lines() {
            if self.waste.find("id", &row.waste).is_none() {
                let message =
                    format!("the box `{}` names the waste line `{}`, which is not there", row.id, row.waste);
                return Err(Finding::error(
                    "waste-line",
                    file,
                    Some(line),
                    message,
                    "name an existing waste line",
                ));
            }
        }
        Ok(())
    }

    /// Keys of all sources that the table names, for tests.
    pub fn sources(&self) -> impl Iterator<Item = &str> {
        let boxes = self.boxes.all().map(|row| row.source.as_str());
        let waste = self.waste.all().map(|row| row.source.as_str());
        let limits = self.limits.all().map(|row| row.source.as_str());
        let wear = self.wear.all().map(|row| row.source.as_str());
        boxes.chain(waste).chain(limits).chain(wear).chain([self.exposure.source.as_str()])
    }

    /// Ids of formulas that the table names as the safer ones, for tests.
    pub fn safer_formulas(&self) -> impl Iterator<Item = &str> {
        self.boxes.all().flat_map(|row| row.safer.iter().filter_map(|safer| safer.formula.as_deref()))
    }
}
