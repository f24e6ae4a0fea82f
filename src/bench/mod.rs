//! The bench page of a batch: what wet hands need, once, at arm's length, as a value.
//!
//! One page a part: what to wear and to mind, one table of weighing and mixing together, when it is ready, first aid, uses. How it looks on
//! paper or on a terminal is `render`'s affair. [`adapter`] reads the mixing sheet, [`material`] is what it hands over, [`words`] the
//! table of phrases, [`head`] and [`table`] and [`uses`] make the pieces.

pub mod adapter;
pub mod head;
pub(crate) mod material;
pub(crate) mod table;
pub(crate) mod uses;
pub mod words;

use material::Material;
use table::Row;
use uses::Cell;
use words::{BenchWords, FirstAid, GasRow};

/// One part's page.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchPart {
    /// A, B …; none in a one-part formula.
    pub name: Option<String>,
    /// How much of it is made, as the head says it.
    pub volume: String,
    /// The rows of its table.
    pub rows: Vec<Row>,
    /// When it is ready: temperature, pH, test.
    pub ready: Vec<String>,
    /// What its own page tells first.
    pub head: PartHead,
}

/// What the page of a part tells before its table: of this part, not of the others.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PartHead {
    /// What to mind, worst first.
    pub mind: Vec<Minded>,
    /// What must never go into it.
    pub never: String,
    /// What must be read before a jar is opened.
    pub opening: Vec<String>,
    /// What the formula warns of.
    pub cautions: Vec<String>,
}

/// A line of MIND: what it does, and which chemicals do it; without names it is about the finished bath.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Minded {
    /// As in the table of phrases, without a full stop.
    pub phrase: String,
    /// Names of the chemicals.
    pub names: Vec<String>,
}

impl Minded {
    /// `cancer: potassium dichromate, formaldehyde`.
    pub fn words(&self) -> String {
        if self.names.is_empty() {
            return self.phrase.clone();
        }
        format!("{}: {}", self.phrase, self.names.join(", "))
    }
}

/// The bench side of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchSheet {
    /// Id of the formula.
    pub id: String,
    /// Short name.
    pub name: String,
    /// How much is made: `500 mL`, `500 mL of A, B`, `1 L working (250 mL stock)`.
    pub volume: String,
    /// What the title says besides.
    pub remark: Option<String>,
    /// How sure it is, in words.
    pub evidence: String,
    /// What is the user's own: the formula, its chemicals.
    pub origin: Vec<String>,
    /// What must be told before anything: too small a batch, chemicals that are not on the shelf.
    pub stop: Vec<String>,
    /// What the formula warns of.
    pub cautions: Vec<String>,
    /// What to wear, with the air.
    pub wear: String,
    /// What to mind, worst first.
    pub mind: Vec<Minded>,
    /// What is minded less and stands on the other side only.
    pub mind_more: Vec<Minded>,
    /// What must never go into it.
    pub never: String,
    /// What must be read before a jar is opened.
    pub opening: Vec<String>,
    /// In the order of the formula; each has a table of its own.
    pub parts: Vec<BenchPart>,
    /// How the parts are put together.
    pub together: Vec<String>,
    /// Cautions of that.
    pub together_marks: Vec<material::Mark>,
    /// Gases, the gravest first.
    pub gases: Vec<GasRow>,
    /// One line for all that is on the page, from the table of phrases.
    pub first_aid: FirstAid,
    /// At most four cells: uses, then what it does and how long it keeps.
    pub uses: Vec<Cell>,
    /// Uses that stand on the other side.
    pub more_uses: Vec<Cell>,
    /// The balance: `0.1 g`.
    pub balance: String,
}

/// Makes the bench side; `missing` are the names of chemicals that are not on the shelf.
pub fn bench_sheet(material: &Material<'_>, words: &BenchWords, missing: &[String]) -> BenchSheet {
    BenchSheet { parts: parts(material, words), ..bench_head(material, words, missing) }
}

/// The same without the pages of its parts, for whoever says only what is told of the whole.
pub(crate) fn bench_head(material: &Material<'_>, words: &BenchWords, missing: &[String]) -> BenchSheet {
    let formula = material.formula;
    let (name, remark) = head::page_name(&formula.title);
    let (mind, mind_more) = head::mind(material, words);
    let (uses, more_uses) = uses::cells(material);
    BenchSheet {
        id: formula.id.clone(),
        name,
        volume: uses::volume(material),
        remark,
        evidence: formula.trust_words(),
        origin: head::origin(material),
        stop: head::stop(material, missing),
        cautions: head::cautions(material, &formula.cautions),
        wear: head::wear(material, words),
        mind,
        mind_more,
        never: head::never(material, words),
        opening: head::opening(material, words),
        parts: Vec::new(),
        together: uses::together(material),
        together_marks: material.at_use.clone(),
        gases: head::gases(material, words),
        first_aid: words.first_aid().clone(),
        uses,
        more_uses,
        balance: format!("{} g", crate::quantity::rounding::show_short(material.batch.balance.step_g, 4)),
    }
}

/// The pages of the parts.
fn parts(material: &Material<'_>, words: &BenchWords) -> Vec<BenchPart> {
    let formula = material.formula;
    let mut parts = table::parts(material);
    for ((index, part), source) in parts.iter_mut().enumerate().zip(&formula.parts) {
        let own = material.of_part(index);
        for row in &mut part.rows {
            row.marks.retain(|mark| mark.is_grave || !words.is_kept_by_order(&mark.id));
        }
        table::choose_vessel_once(&mut part.rows);
        part.head = PartHead {
            mind: head::mind(&own, words).0,
            never: head::never(&own, words),
            opening: head::opening(&own, words),
            cautions: head::cautions(&own, &formula.cautions_of(source)),
        };
    }
    parts
}

/// Litres from a litre on, else millilitres: `500 mL`, `1 L`, `2.5 L`.
pub fn volume_words(millilitres: f64) -> String {
    use crate::quantity::rounding::show_short;
    // What two decimals of a litre would round is told in millilitres.
    let is_even = (millilitres / 10.0).fract().abs() < 1e-6;
    if millilitres >= 10_000.0 || millilitres >= 1000.0 - 1e-9 && is_even {
        return format!("{} L", show_short(millilitres / 1000.0, 2));
    }
    crate::quantity::Volume::from_ml(millilitres).to_string()
}
