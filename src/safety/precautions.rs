//! The shape of `tables/precautions.toml`: full-width boxes, waste lines, what to do after exposure, the closing line, and
//! the specific concentration limits that go before the generic ones.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::exposure::ExposureTexts;
use super::special::BoxRow;
use super::waste::WasteRow;
use crate::diagnostic::{Finding, read_toml};
use crate::substance::FORMAT;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PrecautionsFile {
    format: u32,
    closing: String,
    boxes: Vec<BoxRow>,
    waste: Vec<WasteRow>,
    exposure: ExposureTexts,
    limits: Vec<Limits>,
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
    pub(super) boxes: Vec<BoxRow>,
    pub(super) waste: Vec<WasteRow>,
    pub(super) exposure: ExposureTexts,
    pub(super) limits: Vec<Limits>,
}

impl Precautions {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape, or a box names a waste line that is not there.
    pub fn parse(text: &str, file: &str) -> Result<Self, Finding> {
        let table: PrecautionsFile = read_toml(text, file)?;
        super::check_format(table.format, FORMAT, file)?;
        for row in &table.boxes {
            if !table.waste.iter().any(|waste| waste.id == row.waste) {
                let message =
                    format!("the box `{}` names the waste line `{}`, which is not there", row.id, row.waste);
                return Err(Finding::error("waste-line", file, None, message, "name an existing waste line"));
            }
        }
        let PrecautionsFile { closing, boxes, waste, exposure, limits, .. } = table;
        Ok(Self { closing, boxes, waste, exposure, limits })
    }

    /// Keys of all sources that the table names, for tests.
    pub fn sources(&self) -> impl Iterator<Item = &str> {
        let boxes = self.boxes.iter().map(|row| row.source.as_str());
        let waste = self.waste.iter().map(|row| row.source.as_str());
        let limits = self.limits.iter().map(|row| row.source.as_str());
        boxes.chain(waste).chain(limits).chain([self.exposure.source.as_str()])
    }

    /// Ids of formulas that the table names as the safer ones, for tests.
    pub fn safer_formulas(&self) -> impl Iterator<Item = &str> {
        self.boxes.iter().flat_map(|row| row.safer.iter().filter_map(|safer| safer.formula.as_deref()))
    }
}
