//! Dots of Braille cells, two across and four down in each, for curves in a plot of characters.

/// Dots of a cell, across and down.
pub(super) const IN_A_CELL: (usize, usize) = (2, 4);
/// The bit of each dot of a cell, row by row (Unicode, chapter 21.1, Braille patterns).
const BITS: [[u8; 2]; 4] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];

/// The dots of a picture.
pub(super) struct Dots(Vec<Vec<u8>>);

impl Dots {
    /// None yet, in so many cells.
    pub(super) fn new(columns: usize, rows: usize) -> Self {
        Self(vec![vec![0; columns]; rows])
    }

    /// Sets a dot, counted from the left and from the top; outside of the picture nothing.
    pub(super) fn set(&mut self, across: usize, down: usize) {
        let bit = BITS.get(down % IN_A_CELL.1).and_then(|row| row.get(across % IN_A_CELL.0));
        let row = self.0.get_mut(down / IN_A_CELL.1);
        if let (Some(bit), Some(cell)) = (bit, row.and_then(|row| row.get_mut(across / IN_A_CELL.0))) {
            *cell |= bit;
        }
    }

    /// The character of a cell that has dots.
    pub(super) fn character(&self, column: usize, row: usize) -> Option<char> {
        let dots = self.0.get(row).and_then(|row| row.get(column)).copied().filter(|dots| *dots > 0)?;
        char::from_u32(0x2800 + u32::from(dots))
    }
}

/// Whole number of a figure that is not below zero, of a picture's size.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded, and bounded by the picture's size"
)]
pub(super) fn whole(value: f64) -> Option<usize> {
    (0.0..1e4).contains(&value).then(|| value.floor() as usize)
}

/// A count as a figure.
pub(super) fn number(value: usize) -> f64 {
    u32::try_from(value).map_or(0.0, f64::from)
}
