//! How sure a formula is, in words, and what of it is doubted: the one source of list, card and page.

use super::{EvidenceKind, Formula, is_unedited};

/// Figures beside the composition that nobody read in a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Doubted([bool; 4]);

/// What can be doubted, in the order in which it is told.
const NAMES: [&str; 4] = ["pH", "times", "capacity", "keeping"];
const PH: usize = 0;
const TIMES: usize = 1;
const CAPACITY: usize = 2;
const KEEPING: usize = 3;

/// Whether a source is somebody's memory.
fn is_memory(source: &str) -> bool {
    source.starts_with("memory")
}

impl Doubted {
    /// Of a formula that was read.
    pub fn of(formula: &Formula) -> Self {
        let is_recalled = |source: Option<&str>| source.is_none_or(is_memory);
        let capacity = &formula.capacity;
        let has_capacity = capacity.area_cm2_per_litre.is_some() || capacity.stock_ml_per_roll.is_some();
        let keeping = |own: &super::Part| own.keeping.source.as_deref().is_some_and(is_memory);
        Self([
            formula.stated.ph.is_some() && is_recalled(formula.stated.source.as_deref()),
            formula.uses.iter().any(|own| own.source.as_deref().is_some_and(is_memory)),
            has_capacity && is_recalled(capacity.source.as_deref()),
            formula.parts.iter().any(keeping),
        ])
    }

    /// The same of a shipped file, by its lines alone; a test proves that both agree.
    pub fn of_text(text: &str) -> Self {
        let mut doubted = Self::default();
        let mut table = "";
        // Whether the table has a figure that needs a source, and whether its source is a memory; none where it gives no source.
        let (mut has_figure, mut memory) = (false, None);
        for line in text.lines().chain(["["]) {
            if line.starts_with('[') {
                doubted.close(table, has_figure, memory);
                (table, has_figure, memory) = (line.trim_end(), false, None);
            } else if let Some((key, value)) = line.split_once(" = ") {
                has_figure |= matches!(key, "ph" | "area_cm2_per_litre" | "stock_ml_per_roll");
                if key == "source" {
                    memory = Some(value.trim_start_matches('"').starts_with("memory"));
                }
            }
        }
        doubted
    }

    fn close(&mut self, table: &str, has_figure: bool, memory: Option<bool>) {
        let (which, is_doubted) = match table {
            "[stated]" => (PH, has_figure && memory != Some(false)),
            "[[use]]" => (TIMES, memory == Some(true)),
            "[capacity]" => (CAPACITY, has_figure && memory != Some(false)),
            "[keeping]" | "[parts.keeping]" => (KEEPING, memory == Some(true)),
            _ => return,
        };
        if let Some(own) = self.0.get_mut(which) {
            *own |= is_doubted;
        }
    }

    /// `pH, times`; empty where nothing is.
    fn words(self) -> String {
        let named = NAMES.iter().zip(self.0).filter(|(_, is_doubted)| *is_doubted);
        named.map(|(name, _)| *name).collect::<Vec<_>>().join(", ")
    }
}

/// How sure a formula is, and what of it is doubted: `composition published; pH, times from memory`.
pub fn trust_words(kind: EvidenceKind, unedited: bool, in_doubt: bool, doubted: Doubted) -> String {
    let composition = match kind {
        EvidenceKind::Published if unedited => "composition from a forum or hobby page",
        EvidenceKind::Published => "composition published",
        EvidenceKind::CommonPractice => "common practice, no source",
        EvidenceKind::Memory => return "from memory: check against a book".to_owned(),
    };
    let doubted = doubted.words();
    match (doubted.is_empty(), in_doubt) {
        (false, _) => format!("{composition}; {doubted} from memory"),
        (true, true) => format!("{composition}; a doubt on its card"),
        (true, false) => composition.to_owned(),
    }
}

impl Formula {
    /// How sure it is, and what of it is doubted.
    pub fn trust_words(&self) -> String {
        let evidence = &self.evidence;
        let unedited = evidence.source.as_deref().is_some_and(is_unedited);
        trust_words(evidence.kind, unedited, evidence.doubt.is_some(), Doubted::of(self))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_doubted_is_named() {
        let text = "format = 1\nsource = \"memory\"\n[stated]\nph = 8\n[[use]]\nname = \"film\"\nsource = \"memory; a page\"\n\
                    [capacity]\nstock_ml_per_roll = 100\nsource = \"a book\"\n[keeping]\nnote = \"long\"\n";
        let doubted = Doubted::of_text(text);
        assert_eq!(doubted.words(), "pH, times");
        let words = |kind, in_doubt, doubted| trust_words(kind, false, in_doubt, doubted);
        assert_eq!(
            words(EvidenceKind::Published, true, doubted),
            "composition published; pH, times from memory"
        );
        assert_eq!(
            words(EvidenceKind::Published, true, Doubted::default()),
            "composition published; a doubt on its card"
        );
        assert_eq!(words(EvidenceKind::Published, false, Doubted::default()), "composition published");
    }
}
