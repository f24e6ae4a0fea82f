//! The shape of `tables/precautions.toml`: full-width boxes, waste lines, what to do after exposure, the closing line, and
//! the specific concentration limits that go before the generic ones.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::exposure::{ExposureTexts, Gas};
use super::rows::{Named, Rows};
use super::special::BoxRow;
use super::waste::WasteRow;
use super::wear::WearRow;
use crate::diagnostic::{Finding, read_table, read_toml};
use crate::packed::Packed;
use crate::substance::FORMAT;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PrecautionsFile {
    format: u32,
    closing: String,
    exposure: ExposureTexts,
    boxes: Rows<BoxRow>,
    waste: Rows<WasteRow>,
    gases: Rows<Gas>,
    limits: Rows<Limits>,
    wear: Rows<WearRow>,
}

/// What is read at once of the packed table.
#[derive(Deserialize)]
struct Head {
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

impl Named for Limits {
    const KEY: &'static str = "substance";

    fn row_name(&self) -> &str {
        &self.substance
    }
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
    /// Opens the packed table; a row is read when it is needed.
    ///
    /// # Errors
    /// Its head is not of its shape.
    pub(super) fn open(table: Packed<'static>, file: &str) -> Result<Self, Finding> {
        let head: Head = read_table(table, file)?;
        Ok(Self {
            closing: head.closing,
            boxes: Rows::of_packed(table, "boxes"),
            waste: Rows::of_packed(table, "waste"),
            exposure: head.exposure,
            gases: Rows::of_packed(table, "gases"),
            limits: Rows::of_packed(table, "limits"),
            wear: Rows::of_packed(table, "wear"),
        })
    }

    /// Reads all of it.
    ///
    /// # Errors
    /// A row is not of its shape, or a box names a waste line that is not there.
    pub(super) fn parse(text: &str, file: &str) -> Result<Self, Finding> {
        let PrecautionsFile { format, closing, exposure, boxes, waste, gases, limits, wear } =
            read_toml(text, file)?;
        super::check_format(format, FORMAT, file)?;
        for (row, line) in boxes.with_lines(text) {
            if waste.find(&row.waste).is_none() {
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
        Ok(Self { closing, boxes, waste, exposure, gases, limits, wear })
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
