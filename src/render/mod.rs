//! What is printed: a small document tree, and one writer a format. JSON has structs of its own ([`json`]).
//!
//! The tree says what a piece is (a table, a step, a caution), never how it looks. All text passes through the writers, which make
//! text from a stranger's file harmless for a terminal, a page or a Markdown reader.

pub(crate) mod adjust;
mod ascii;
pub mod bench;
pub mod bottle_name;
pub(crate) mod bottles;
pub(crate) mod chart;
pub(crate) mod check;
pub(crate) mod compare;
pub(crate) mod concentrate;
pub(crate) mod config;
pub(crate) mod cool;
pub(crate) mod curve;
pub(crate) mod dilute;
mod dots;
pub(crate) mod evening;
pub(crate) mod exchange;
pub(crate) mod exposure;
pub(crate) mod factorial;
pub(crate) mod films;
mod html;
pub(crate) mod json;
pub mod label;
pub mod life;
pub(crate) mod list;
mod made_first;
mod markdown;
pub(crate) mod origin;
pub(crate) mod papers;
pub(crate) mod percent;
mod pictogram;
pub(crate) mod predict;
pub(crate) mod record;
pub(crate) mod replenish;
pub(crate) mod review;
pub(crate) mod safety;
pub(crate) mod scale;
pub(crate) mod schema;
pub(crate) mod seen;
pub(crate) mod sheet;
pub(crate) mod shelf;
pub(crate) mod shopping;
pub(crate) mod show;
pub(crate) mod substance;
mod svg;
mod text;
pub(crate) mod time;
pub(crate) mod water;

use std::borrow::Cow;

pub use ascii::{to_ascii, to_ascii_page};
pub use html::to_html;
pub use markdown::to_markdown;
pub(crate) use text::wrap;
pub use text::{TextStyle, to_text};

/// Where a table column's figures stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Heading.
    pub title: String,
    /// Alignment.
    pub align: Align,
}

impl Column {
    /// A column of words.
    pub fn left(title: &str) -> Self {
        Self { title: title.to_owned(), align: Align::Left }
    }

    /// A column of figures.
    pub fn right(title: &str) -> Self {
        Self { title: title.to_owned(), align: Align::Right }
    }
}

/// A numbered step with its tick box.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StepBlock {
    /// From 1, within its part.
    pub number: usize,
    /// What must be known before the step; each stands in a box of its own.
    pub cautions: Vec<CautionBlock>,
    /// Amount with unit, empty where there is none.
    pub amount: String,
    /// What to do, verb first.
    pub action: String,
    /// Further lines: how, why, the sign that it is done.
    pub details: Vec<(String, String)>,
    /// What the thermometer should read after it, empty where it is not told; on paper with a line to write on.
    pub reading: String,
}

/// Something to weigh or measure, with its tick box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeighRow {
    /// Amount with unit.
    pub amount: String,
    /// The chemical by its bench name, with what stands beside it.
    pub what: String,
}

/// A caution with its word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CautionBlock {
    /// `DANGER`, `CAUTION` or `NOTE`.
    pub word: String,
    /// What happens and what to do; one paragraph a line.
    pub lines: Vec<String>,
}

/// A piece of a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Block {
    /// The one heading of the whole document.
    Title(String),
    /// A section heading.
    Heading(String),
    /// Prose; writers wrap it.
    Paragraph(String),
    /// Labelled facts.
    Facts(Vec<(String, String)>),
    /// Points.
    List(Vec<String>),
    /// Head and rows; writers stack it where it is too wide.
    Table {
        /// Title and alignment of each.
        columns: Vec<Column>,
        /// Rows, one cell a column.
        rows: Vec<Vec<String>>,
    },
    /// What to weigh, each with a tick box.
    Weighing(Vec<WeighRow>),
    /// A numbered step.
    Step(StepBlock),
    /// A box of its own, wherever it stands.
    Caution(CautionBlock),
    /// A line to fill in by hand: label and nothing.
    Blank(String),
    /// A picture of characters, kept line by line.
    Plot(Vec<String>),
    /// A command to paste, never wrapped.
    Command(Vec<String>),
    /// Pieces that are set in another size on paper.
    Print(Print, Vec<Block>),
}

/// Size of type on paper, where it is not that of the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Print {
    /// Read in white light.
    Fine,
    /// Read on the wall.
    Large,
}

/// A tree of pieces, before any writer has seen it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Document {
    /// Its pieces.
    pub blocks: Vec<Block>,
}

impl Document {
    /// An empty document.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds the title.
    pub fn title(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Title(text.into()));
    }

    /// Adds a section heading.
    pub fn heading(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Heading(text.into()));
    }

    /// Adds a paragraph.
    pub fn paragraph(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Paragraph(text.into()));
    }

    /// Adds labelled facts, if there are any.
    pub fn facts(&mut self, facts: Vec<(String, String)>) {
        if !facts.is_empty() {
            self.blocks.push(Block::Facts(facts));
        }
    }

    /// Adds points, if there are any.
    pub fn list(&mut self, points: Vec<String>) {
        if !points.is_empty() {
            self.blocks.push(Block::List(points));
        }
    }

    /// Adds a table, if it has rows.
    pub fn table(&mut self, columns: Vec<Column>, rows: Vec<Vec<String>>) {
        if !rows.is_empty() {
            self.blocks.push(Block::Table { columns, rows });
        }
    }

    /// Adds what to weigh, if there is anything.
    pub fn weighing(&mut self, rows: Vec<WeighRow>) {
        if !rows.is_empty() {
            self.blocks.push(Block::Weighing(rows));
        }
    }

    /// Adds what `write` writes as fine print.
    pub fn fine_print(&mut self, write: impl FnOnce(&mut Self)) {
        self.print(Print::Fine, write);
    }

    /// Adds what `write` writes in a size of its own.
    pub fn print(&mut self, print: Print, write: impl FnOnce(&mut Self)) {
        let mut inner = Self::new();
        write(&mut inner);
        if !inner.blocks.is_empty() {
            self.blocks.push(Block::Print(print, inner.blocks));
        }
    }

    /// The pieces in order, for writers that know one size of type.
    pub(crate) fn in_one_size(&self) -> Vec<&Block> {
        fn gather<'a>(blocks: &'a [Block], into: &mut Vec<&'a Block>) {
            for block in blocks {
                match block {
                    Block::Print(_, inner) => gather(inner, into),
                    other => into.push(other),
                }
            }
        }
        let mut blocks = Vec::new();
        gather(&self.blocks, &mut blocks);
        blocks
    }

    /// Adds a command to paste.
    pub fn command(&mut self, lines: Vec<String>) {
        self.blocks.push(Block::Command(lines));
    }

    /// Adds a caution.
    pub fn caution(&mut self, word: &str, lines: Vec<String>) {
        self.blocks.push(Block::Caution(CautionBlock { word: word.to_owned(), lines }));
    }
}

/// A text with a capital at its beginning.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Makes one line of text harmless: control and direction-changing characters become a visible mark, line ends a space.
pub(crate) fn harmless(text: &str) -> String {
    made_harmless(text).into_owned()
}

/// As [`harmless`]; nearly all text is plain and needs no copy.
fn made_harmless(text: &str) -> Cow<'_, str> {
    if text.bytes().fold(true, |plain, byte| plain & matches!(byte, b' '..=b'~')) {
        return Cow::Borrowed(text);
    }
    text.chars()
        .map(|character| match character {
            '\n' | '\r' | '\t' => ' ',
            hostile if crate::diagnostic::is_hostile(hostile) => '\u{fffd}',
            other => other,
        })
        .collect()
}
