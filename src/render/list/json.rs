//! What `list --json` prints: all, by nearness, by what the shelf allows, by wish.

use crate::can_make::CanMake;
use crate::library::{FoundFormula, Header, Origin};
use crate::nearest::Near;
use crate::render::list::Wished;
use crate::wishes::{Because, Granted};
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ListBody {
    pub formulas: Vec<ListedFormula>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ListedFormula {
    pub id: String,
    /// Name by composition.
    pub title: String,
    pub kind: &'static str,
    /// `published`, `common-practice` or `memory`.
    pub evidence: &'static str,
    /// `shipped` or the personal folder.
    pub origin: String,
    /// Distance from what was asked, with `--near`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distance: Option<f64>,
}

impl ListedFormula {
    /// A formula without a distance.
    pub(crate) fn new(header: &Header) -> Self {
        Self {
            id: header.id.clone(),
            title: header.title.clone(),
            kind: header.kind.folder(),
            evidence: header.evidence.word(),
            origin: match &header.origin {
                Origin::Shipped => "shipped".to_owned(),
                Origin::Folder(folder) => folder.display().to_string(),
                Origin::File => "a file".to_owned(),
            },
            distance: None,
        }
    }
}

/// `list --near`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct NearBody {
    formulas: Vec<NearFormula>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct NearFormula {
    #[serde(flatten)]
    listed: ListedFormula,
    /// `as bottled` or `as used`: at which strength the two are that near.
    strength: &'static str,
    /// What makes the distance, largest first.
    differences: Vec<NearDifference>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct NearDifference {
    species: String,
    /// Positive where this formula has more.
    amount: f64,
}

impl NearBody {
    /// Of the nearest formulas, nearest first.
    pub(crate) fn new(ranked: &[(&FoundFormula, Near<'_>)]) -> Self {
        let formulas = ranked
            .iter()
            .map(|(found, near)| NearFormula {
                listed: ListedFormula {
                    distance: Some(near.distance),
                    ..ListedFormula::new(&Header::of(found))
                },
                strength: near.strength.words(),
                differences: near
                    .differences
                    .iter()
                    .map(|difference| NearDifference {
                        species: difference.species.clone(),
                        amount: difference.amount,
                    })
                    .collect(),
            })
            .collect();
        Self { formulas }
    }
}

/// `list --can-make`: those that can be mixed now first.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct MakeBody {
    formulas: Vec<MakeFormula>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct MakeFormula {
    #[serde(flatten)]
    listed: ListedFormula,
    /// Whether nothing is missing.
    can_make: bool,
    /// Ids of the forms that are missing; one at most.
    missing: Vec<String>,
    /// Forms from the shelf in place of the recipe's.
    substitutes: Vec<MakeSubstitute>,
    /// How far the amounts on the shelf reach, where they were given.
    largest_ml: Option<f64>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct MakeSubstitute {
    recipe: String,
    shelf: String,
    /// Grams from the shelf for one gram of the recipe's.
    factor: f64,
}

impl MakeBody {
    /// Of sorted formulas; `found` tells where each came from.
    pub(crate) fn new(sorted: &CanMake<'_>, all_formulas: &[FoundFormula]) -> Self {
        let formulas = sorted
            .now
            .iter()
            .chain(&sorted.one_away)
            .filter_map(|needs| {
                let own = all_formulas.iter().find(|own| own.formula.id == needs.formula.id)?;
                Some(MakeFormula {
                    listed: ListedFormula::new(&Header::of(own)),
                    can_make: needs.missing.is_empty(),
                    missing: needs.missing.iter().map(|form| form.id.clone()).collect(),
                    substitutes: needs
                        .substitutes
                        .iter()
                        .map(|substitute| MakeSubstitute {
                            recipe: substitute.recipe.id.clone(),
                            shelf: substitute.shelf.id.clone(),
                            factor: substitute.factor,
                        })
                        .collect(),
                    largest_ml: needs.largest_ml,
                })
            })
            .collect();
        Self { formulas }
    }
}

/// `list` with wishes.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct WishBody {
    /// The wishes that the words were read as.
    wishes: Vec<String>,
    /// Words by which all of them are called.
    words: Vec<String>,
    /// Words that none of those that meet a wish is called by: left out.
    left_out: Vec<String>,
    /// Denials of nothing known: left out.
    not_understood: Vec<String>,
    /// How many formulas meet at least one wish.
    found: usize,
    /// Those that meet most wishes first.
    formulas: Vec<WishFormula>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct WishFormula {
    #[serde(flatten)]
    listed: ListedFormula,
    /// How many wishes it meets.
    met: usize,
    /// Where no one use meets all of these: the two uses.
    #[serde(skip_serializing_if = "Option::is_none")]
    apart: Option<[String; 2]>,
    wishes: Vec<WishGranted>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct WishGranted {
    wish: String,
    met: bool,
    /// Points for it; only their order means anything.
    points: f64,
    because: Vec<WishBecause>,
    /// What must be told beside it; their points count for nothing.
    caveats: Vec<WishBecause>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct WishBecause {
    points: f64,
    why: String,
    source: String,
}

impl WishBody {
    /// Of what was found.
    pub(crate) fn new(wished: &Wished<'_>) -> Self {
        let because = |reason: &Because| WishBecause {
            points: reason.score,
            why: reason.why.clone(),
            source: reason.source.clone(),
        };
        let granted = |granted: &Granted<'_>| WishGranted {
            wish: granted.wanted.name(),
            met: granted.met,
            points: granted.points,
            because: granted.because.iter().map(because).collect(),
            caveats: granted.caveats.iter().map(because).collect(),
        };
        let formulas = wished
            .ranked
            .iter()
            .map(|(found, ranked)| WishFormula {
                listed: ListedFormula::new(&Header::of(found)),
                met: ranked.met(),
                apart: ranked.apart.clone().map(|(first, weaker)| [first, weaker]),
                wishes: ranked.granted.iter().map(granted).collect(),
            })
            .collect();
        Self {
            wishes: wished.wishes.clone(),
            words: wished.words.clone(),
            left_out: wished.left_out.iter().map(|own| own.word.clone()).collect(),
            not_understood: wished.not_understood.clone(),
            found: wished.found,
            formulas,
        }
    }
}
