//! A piece of a page with the height that it takes, for papers that must fit on one: heights are sums of lines by [`crate::lettering`].

use crate::lettering::Lettering;

/// Distance of lines over the size of type.
pub(in crate::render) const SPACING: f64 = 1.2;

/// Markup and the height that it takes, mm.
pub(in crate::render) struct Piece {
    pub(in crate::render) html: String,
    /// Height, mm.
    pub(in crate::render) mm: f64,
}

/// Height of all, mm.
pub(in crate::render) fn used(pieces: &[Piece]) -> f64 {
    pieces.iter().map(|piece| piece.mm).sum()
}

/// Height of text in a column, mm.
pub(in crate::render) fn text_mm(text: &str, points: f64, column_mm: f64) -> f64 {
    Lettering::regular(points, SPACING).height_mm(text, column_mm)
}

/// Height of bold text in a column, mm.
pub(in crate::render) fn bold_mm(text: &str, points: f64, column_mm: f64) -> f64 {
    Lettering::bold(points, SPACING).height_mm(text, column_mm)
}
