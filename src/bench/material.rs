//! What the bench page is made of: plain values, so that whoever puts a batch, its steps and its hazards together is named in one file only
//! ([`super::adapter`]).

use std::sync::Arc;

use crate::formula::Formula;
use crate::safety::Air;
use crate::scale::{Batch, Item};
use crate::substance::{Form, Signal};

/// What a step does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Measure the water or solvent to start with.
    Start,
    /// A pinch out of a weighed heap.
    Pinch,
    /// The rest of a heap of which a pinch is in already.
    Rest,
    /// Into the vessel.
    Add,
    /// Dissolve in a second vessel.
    Apart,
    /// Pour the second vessel in.
    Pour,
    /// Wait for a temperature.
    Wait,
    /// Heat, boil, stand, strain: what the formula asks for besides dissolving.
    Operation,
    /// Fill to the mark.
    MakeUp,
}

/// How the last step ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finish {
    /// In a bottle with a label.
    Bottle,
    /// In an open tray, never in a bottle.
    Tray,
    /// Used at once, whatever it stands in.
    AtOnce,
}

/// A caution before a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// Id of its row.
    pub id: String,
    /// Danger or warning; a note is none.
    pub is_grave: bool,
    pub text: String,
}

#[derive(Debug, Clone, PartialEq)]
pub struct MaterialStep {
    /// Number within its part.
    pub number: usize,
    /// What it does.
    pub act: Act,
    /// Place among the part's items.
    pub item: Option<usize>,
    /// The form that it is about.
    pub form: Option<Arc<Form>>,
    /// Water of this step, mL.
    pub water_ml: Option<f64>,
    /// Temperature of that water, or to wait for, °C.
    pub celsius: Option<f64>,
    /// What to do in a sentence.
    pub instruction: String,
    pub how: String,
    /// The sign that it is done.
    pub done: String,
    /// Why at this place; empty where there is no reason.
    pub why: String,
    /// What must be known before it.
    pub marks: Vec<Mark>,
    /// Temperature after it, °C.
    pub after_c: Option<f64>,
}

/// What a finished solution should read.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialPh {
    pub ph: f64,
    pub error: f64,
    /// Whether the figure is not to be trusted.
    pub is_poorly_buffered: bool,
    /// Of a pH standard: its certified figures, °C and pH, coolest first.
    pub certified: Vec<(f64, f64)>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct MaterialPart {
    /// A, B …; none in a one-part formula.
    pub name: Option<String>,
    /// Volume as bottled, mL.
    pub volume_ml: f64,
    /// The solvent where it is not water.
    pub solvent: Option<Arc<Form>>,
    /// What to weigh.
    pub items: Vec<Item>,
    pub steps: Vec<MaterialStep>,
    /// The pH.
    pub ph: Option<MaterialPh>,
    /// How warm it ends, °C.
    pub end_c: Option<f64>,
    /// What crystallises in the cold, in words.
    pub crystals: Option<String>,
    /// How the last step ends.
    pub finish: Finish,
    /// That so little cannot be mixed.
    pub too_small: Option<String>,
    /// Codes of the solution as bottled.
    pub bath_codes: Vec<String>,
    /// The signal word of the solution as bottled.
    pub bath_signal: Option<Signal>,
}

/// Hazards of a chemical as weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialPowder {
    pub form: Arc<Form>,
    /// Codes of its statements.
    pub codes: Vec<String>,
    /// Its signal word.
    pub signal: Option<Signal>,
    /// Whether nothing is known.
    pub is_unknown: bool,
}

/// A special box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialBox {
    /// Stable name.
    pub id: String,
    /// The heading, in capitals.
    pub title: String,
    /// Ids of the forms it is about.
    pub about: Vec<String>,
}

/// All that the page is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Material<'a> {
    pub formula: &'a Formula,
    pub batch: &'a Batch,
    pub parts: Vec<MaterialPart>,
    /// Hazards of what is weighed.
    pub powders: Vec<MaterialPowder>,
    /// Special boxes.
    pub boxes: Vec<MaterialBox>,
    /// What to wear, in the words of all commands.
    pub wear: String,
    pub air: Air,
    /// Ids of gases that can come off.
    pub gases: Vec<String>,
    /// How long it keeps, in words.
    pub keeps: String,
    /// How much a fixer treats by the rule of its class, film and prints apart; empty for what has no such rule.
    pub treats: Vec<String>,
    /// When a fixer is out, by the rule of clearing times.
    pub spent: Option<String>,
    /// Cautions about what stands side by side on the bench.
    pub dry: Vec<Mark>,
    /// Cautions when the parts are poured together.
    pub at_use: Vec<Mark>,
}

impl Material<'_> {
    /// The same, of one part alone: what is weighed for another part is on that part's page.
    #[must_use]
    pub fn of_part(&self, index: usize) -> Self {
        let parts: Vec<MaterialPart> = self.parts.get(index).cloned().into_iter().collect();
        let is_in = |id: &str| {
            parts.iter().any(|part| {
                part.items.iter().any(|item| item.form.id == id)
                    || part.solvent.as_ref().is_some_and(|form| form.id == id)
            })
        };
        let powders = self.powders.iter().filter(|own| is_in(&own.form.id)).cloned().collect();
        let boxes = self.boxes.iter().filter(|own| own.about.iter().any(|id| is_in(id))).cloned().collect();
        Self { parts, powders, boxes, ..self.clone() }
    }
}

/// What the rules of its class say of a bath, in words: rules are not the page's affair.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RuleWords {
    /// How long it keeps.
    pub keeps: String,
    /// How much a fixer treats, film and prints apart.
    pub treats: Vec<String>,
    /// When a fixer is out.
    pub spent: Option<String>,
}

impl From<String> for RuleWords {
    fn from(keeps: String) -> Self {
        Self { keeps, ..Self::default() }
    }
}
