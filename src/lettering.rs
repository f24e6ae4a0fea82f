//! Papers, and how much room lettering takes on them. No font is read: the estimates are meant a little too wide for the upright sans-serif faces
//! that the style sheets ask for, so that what fits by them fits in print.
//!
//! Source of the widths: advance widths of Liberation Sans 1.07.4, whose metrics are those of the commonest sans-serif faces, read from
//! the font file; in bold common text is 1.09 times as wide. On top come 6 % for other faces a browser may take. Faces wider than that
//! are drawn smaller by the style sheets. What is not Latin counts as a wide letter, East Asian characters as a full square.

use serde::Deserialize;
use unicode_width::UnicodeWidthChar as _;

/// Millimetres in a typographic point.
pub const MM_PER_PT: f64 = 25.4 / 72.0;

/// What is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8.5 × 11 in.
    Letter,
}

impl Paper {
    /// As written, also in style sheets.
    pub fn word(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }

    /// Width and height, mm.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

/// How much wider bold letters are.
const BOLD: f64 = 1.09;

/// Room for faces a little wider.
const ALLOWANCE: f64 = 1.06;

/// Lettering of a size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lettering {
    /// Size of type, points.
    pub size_pt: f64,
    /// Bold or regular.
    pub is_bold: bool,
    /// Distance of lines over the size of type.
    pub line_spacing: f64,
}

impl Lettering {
    /// Size in points; lines stand that many sizes apart.
    pub const fn regular(size_pt: f64, line_spacing: f64) -> Self {
        Self { size_pt, is_bold: false, line_spacing }
    }

    /// Size in points; lines stand that many sizes apart.
    pub const fn bold(size_pt: f64, line_spacing: f64) -> Self {
        Self { size_pt, is_bold: true, line_spacing }
    }

    /// Height of a line, mm.
    pub fn line_mm(self) -> f64 {
        self.size_pt * MM_PER_PT * self.line_spacing
    }

    /// Width of text on one line, mm.
    pub fn width_mm(self, text: &str) -> f64 {
        let ems: f64 = text.chars().map(width_em).sum();
        ems * ALLOWANCE * self.size_pt * MM_PER_PT * if self.is_bold { BOLD } else { 1.0 }
    }

    /// Lines that text takes in a column, broken at spaces; longer words are cut. At least one.
    pub fn lines(self, text: &str, column_mm: f64) -> usize {
        let space = self.width_mm(" ");
        let mut lines = 1_usize;
        let mut used = 0.0;
        for word in text.split_whitespace() {
            let width = self.width_mm(word);
            let gap = if used > 0.0 { space } else { 0.0 };
            if used + gap + width <= column_mm {
                used += gap + width;
                continue;
            }
            if used > 0.0 {
                lines += 1;
            }
            used = width;
            if width > column_mm {
                used = 0.0;
                lines += self.cut(word, column_mm, &mut used);
            }
        }
        lines
    }

    /// Further lines of a word longer than a line: broken after hyphens and strokes, else anywhere; one more for a browser that
    /// breaks elsewhere. `used` is left at the width of the last line.
    fn cut(self, word: &str, column_mm: f64, used: &mut f64) -> usize {
        let mut lines = 1;
        for chunk in word.split_inclusive(['-', '/']) {
            if *used > 0.0 && *used + self.width_mm(chunk) > column_mm {
                lines += 1;
                *used = 0.0;
            }
            for character in chunk.chars() {
                let mut buffer = [0; 4];
                let letter_mm = self.width_mm(character.encode_utf8(&mut buffer));
                if *used > 0.0 && *used + letter_mm > column_mm {
                    lines += 1;
                    *used = 0.0;
                }
                *used += letter_mm;
            }
        }
        lines
    }

    /// All lines that the text takes in a column of that width.
    pub fn height_mm(self, text: &str, column_mm: f64) -> f64 {
        let lines = u32::try_from(self.lines(text, column_mm)).unwrap_or(u32::MAX);
        f64::from(lines) * self.line_mm()
    }
}

/// Width of a character over the size of type.
fn width_em(character: char) -> f64 {
    match character {
        'i' | 'j' | 'l' | '\'' => 0.222,
        ' ' | ',' | '.' | '·' | ':' | ';' | '!' | '/' | '\\' | '|' | '[' | ']' | 'I' | 'f' | 't' => 0.278,
        '(' | ')' | '-' | 'r' | '`' | '{' | '}' | '²' | '³' => 0.334,
        '"' | '*' | '°' => 0.4,
        'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' | 'J' => 0.5,
        'a'
        | 'b'
        | 'd'
        | 'e'
        | 'g'
        | 'h'
        | 'n'..='q'
        | 'u'
        | 'L'
        | '0'..='9'
        | '$'
        | '#'
        | '?'
        | '_'
        | '–' => 0.556,
        '+' | '<'..='>' | '~' | '^' | '×' | '±' | 'µ' => 0.584,
        'F' | 'T' | 'Z' => 0.611,
        '&' | 'A' | 'B' | 'E' | 'K' | 'P' | 'S' | 'V' | 'X' | 'Y' => 0.667,
        'C' | 'D' | 'H' | 'N' | 'R' | 'U' | 'w' => 0.722,
        'G' | 'O' | 'Q' => 0.778,
        'M' | 'm' => 0.833,
        'W' | '%' => 0.944,
        '@' | '—' | '…' => 1.02,
        other if other.width().unwrap_or(0) > 1 => 1.1,
        _ => 0.8,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BENCH: Lettering = Lettering::regular(10.0, 1.3);

    /// Source: sums of the advance widths in the files of Liberation Sans 1.07.4, regular and bold, in em.
    #[test]
    fn estimates_are_at_least_the_true_widths_and_not_much_more() {
        for (text, regular, bold) in [
            ("Dissolve the rest of the sodium sulfite, anhydrous", 21.789, 23.727),
            ("Harmful to aquatic life with long lasting effects.", 20.565, 22.447),
            ("May cause an allergic skin reaction. (H317)", 19.175, 20.342),
            ("95.0 g", 2.780, 2.835),
            ("mq-borax-classic", 7.557, 8.226),
        ] {
            for (is_bold, truth) in [(false, regular), (true, bold)] {
                let own = Lettering { is_bold, ..BENCH }.width_mm(text) / (10.0 * MM_PER_PT);
                assert!(own >= truth * 1.05, "{text}, bold {is_bold}: {own} has no room over {truth}");
                assert!(own <= truth * 1.15, "{text}, bold {is_bold}: {own} is much more than {truth}");
            }
        }
    }

    #[test]
    fn lines_break_at_spaces_and_cut_long_words() {
        assert_eq!(BENCH.lines("", 50.0), 1);
        assert_eq!(BENCH.lines("one line", 50.0), 1);
        let word = BENCH.width_mm("mmmm");
        assert_eq!(BENCH.lines("mmmm mmmm mmmm", word + 0.1), 3);
        // One line more than needed for words that are cut.
        assert_eq!(BENCH.lines("mmmmmmmmmmmm", word + 0.1), 4);
        assert_eq!(BENCH.lines("mm mmmmmmmm mm", word + 0.1), 5);
        assert_eq!(BENCH.lines("mmm-mmm", word + 0.1), 3);
    }

    #[test]
    fn more_text_never_takes_less_room() {
        let text = "a caution that is written out at some length, with µ, °, × and 漢字 in it";
        let mut last = 0;
        for end in (0..text.len()).filter(|end| text.is_char_boundary(*end)) {
            let lines = BENCH.lines(&text[..end], 40.0);
            assert!(lines >= last, "{}", &text[..end]);
            last = lines;
        }
    }
}
