//! `tables/label-sheets.toml`: sheets of labels by dimension, and the smallest label for a bottle with hazards.

use serde::Deserialize;

use crate::diagnostic::{Finding, TableSource, read_table};
use crate::lettering::Paper;
use crate::quantity::Volume;
use crate::substance::FORMAT;

/// A sheet of labels; lengths in mm.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LabelSheet {
    /// Width by height of a label, its name: `99.1x67.7`.
    pub size: String,
    /// The whole sheet.
    pub paper: Paper,
    /// Labels side by side.
    pub columns: u32,
    /// Labels one below the other.
    pub rows: u32,
    /// Of one label, mm.
    pub width: f64,
    /// Of one label, mm.
    pub height: f64,
    /// From the left edge of the sheet to the first label.
    pub left: f64,
    /// From the top edge of the sheet to the first label.
    pub top: f64,
    /// Between labels side by side.
    pub gap_across: f64,
    /// Between labels one below the other.
    pub gap_down: f64,
    /// Where the measures come from.
    pub source: String,
}

impl LabelSheet {
    /// How many labels a sheet holds.
    pub fn count(&self) -> u32 {
        self.columns * self.rows
    }

    /// Left and top edge of a label, counted from 0 row by row, mm.
    pub fn place(&self, index: u32) -> (f64, f64) {
        let columns = self.columns.max(1);
        let across = f64::from(index % columns);
        let down = f64::from(index / columns % self.rows.max(1));
        (self.left + across * (self.width + self.gap_across), self.top + down * (self.height + self.gap_down))
    }
}

/// The smallest label and lettering for a bottle with hazards.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Smallest {
    /// Holds for bottles up to this volume.
    pub up_to_litres: f64,
    /// Short side of the label, mm.
    pub short: f64,
    /// Long side, mm.
    pub long: f64,
    /// Side of a pictogram, mm.
    pub pictogram: f64,
    /// Height of a lower-case x, mm.
    pub x_height: f64,
    /// Where the figures come from.
    pub source: String,
}

/// Height of a lower-case x over the size of type; of the usual sans-serif faces 0.52 and more (Liberation Sans 1.07.4: 0.528).
const X_HEIGHT: f64 = 0.52;

impl Smallest {
    /// Whether a label is large enough, either way round.
    pub fn allows(&self, width_mm: f64, height_mm: f64) -> bool {
        width_mm.min(height_mm) >= self.short && width_mm.max(height_mm) >= self.long
    }

    /// Least size of type, points, rounded up to the next quarter.
    pub fn type_pt(&self) -> f64 {
        let points = self.x_height / X_HEIGHT / crate::lettering::MM_PER_PT;
        (points * 4.0).ceil() / 4.0
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SheetsFile {
    format: u32,
    sheets: Vec<LabelSheet>,
    smallest: Vec<Smallest>,
}

/// The table of label sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelSheets {
    /// In the order of the table.
    pub sheets: Vec<LabelSheet>,
    smallest: Vec<Smallest>,
}

impl LabelSheets {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape, or a sheet of labels is larger than its paper.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Finding> {
        let table: SheetsFile = read_table(source, file)?;
        let wrong = |message: String, fix: &str| Finding::error("label-sheets", file, None, message, fix);
        if table.format != FORMAT {
            let message = format!("format = {} is not known to this version", table.format);
            return Err(wrong(message, &format!("write format = {FORMAT}")));
        }
        for sheet in &table.sheets {
            let (left, top) = sheet.place(sheet.count().saturating_sub(1));
            let (width, height) = sheet.paper.size_mm();
            let fits = left + sheet.width <= width && top + sheet.height <= height;
            if sheet.count() == 0 || !fits {
                let message = format!("the labels of {} do not fit their paper", sheet.size);
                return Err(wrong(message, "measure the sheet again"));
            }
        }
        if table.smallest.is_empty() {
            return Err(wrong("no smallest label is given".to_owned(), "add [[smallest]]"));
        }
        let SheetsFile { sheets, mut smallest, .. } = table;
        smallest.sort_by(|one, other| one.up_to_litres.total_cmp(&other.up_to_litres));
        Ok(Self { sheets, smallest })
    }

    /// By its size as typed, `70x37` or `70 × 37 mm`; none where the table has no such sheet.
    pub fn get(&self, size: &str) -> Option<&LabelSheet> {
        let plain = size.trim().to_lowercase().replace(['×', ' '], "x").replace("mm", "");
        let plain: Vec<&str> = plain.split('x').filter(|side| !side.is_empty()).collect();
        self.sheets.iter().find(|sheet| sheet.size == plain.join("x"))
    }

    /// What a bottle with hazards of a volume needs; the greatest row for what is larger than all.
    pub fn smallest_for(&self, volume: Volume) -> Option<&Smallest> {
        let litres = volume.as_litres();
        // A litre that was typed in other units may come out a hair above.
        self.smallest.iter().find(|own| litres <= own.up_to_litres * (1.0 + 1e-9)).or(self.smallest.last())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn table() -> LabelSheets {
        LabelSheets::parse(include_str!("../../formulas/tables/label-sheets.toml"), "label-sheets.toml")
            .unwrap()
    }

    /// Source: arithmetic. The grids are centred on their paper to a tenth of a millimetre.
    #[test]
    fn grids_stand_in_the_middle_of_their_paper() {
        for sheet in &table().sheets {
            let (left, top) = sheet.place(sheet.count() - 1);
            let (width, height) = sheet.paper.size_mm();
            assert_relative_eq!(width - left - sheet.width, sheet.left, epsilon = 0.11);
            assert_relative_eq!(height - top - sheet.height, sheet.top, epsilon = 0.11);
        }
    }

    #[test]
    fn places_go_row_by_row_and_begin_again_on_the_next_sheet() {
        let table = table();
        let sheet = table.get("99.1 × 67.7 mm").unwrap();
        assert_eq!(sheet.place(0), (4.65, 13.1));
        assert_eq!(sheet.place(1), (4.65 + 101.6, 13.1));
        assert_eq!(sheet.place(2), (4.65, 13.1 + 67.7));
        assert_eq!(sheet.place(8), sheet.place(0));
    }

    /// Source: table 1.3 of Annex I and the tables of letter heights, as cited in the file.
    #[test]
    fn a_bottle_with_hazards_needs_a_label_by_its_volume() {
        let table = table();
        let needs = |ml: f64| table.smallest_for(Volume::from_ml(ml)).unwrap();
        assert_eq!((needs(500.0).long, needs(500.0).x_height), (74.0, 1.2));
        assert_eq!((needs(3000.0).long, needs(3000.0).x_height), (74.0, 1.4));
        assert_eq!((needs(3001.0).short, needs(3001.0).long, needs(3001.0).pictogram), (74.0, 105.0, 23.0));
        assert!(needs(1000.0).allows(67.7, 99.1) && !needs(1000.0).allows(63.5, 38.1));
        assert!(!needs(5000.0).allows(99.1, 67.7));
        assert_relative_eq!(needs(1000.0).type_pt(), 7.75);
    }

    #[test]
    fn a_grid_larger_than_its_paper_is_refused() {
        let text =
            include_str!("../../formulas/tables/label-sheets.toml").replacen("rows = 7", "rows = 8", 1);
        let finding = LabelSheets::parse(&text, "label-sheets.toml").unwrap_err();
        assert!(finding.message.contains("63.5x38.1"), "{finding}");
    }
}
