//! Range of a negative, two filters.

use super::answer::{answer, fact, figure, s};
use crate::exposure::{Failure, Given, HardChange, Hold, PaperRange, Stops, TwoFilters};
use crate::quantity::rounding::{show_decimals, show_short, to_step};
use crate::render::Document;

pub(crate) fn range(paper_range: &PaperRange, condenser_factor: f64) -> Document {
    let mut facts = vec![
        fact("density range", show_decimals(paper_range.density_range, 2)),
        fact("as the paper sees it", show_decimals(paper_range.effective_range, 3)),
    ];
    if condenser_factor > 1.0 {
        facts.push(fact("condenser factor", show_short(condenser_factor, 2)));
    }
    answer(
        format!("Paper range R {}", show_short(paper_range.iso_range, 0)),
        facts,
        "Why: highlights set the time, shadows the contrast; print well where the paper's log range is the negative's effective range. R is 100 times that, to the nearest ten.",
    )
}

/// `range`, the condenser factor.
pub(crate) fn condenser_factor(factor: f64) -> Document {
    answer(
        format!("Condenser factor {}", figure(factor)),
        Vec::new(),
        "Why: one negative that fits two papers, in the condenser and in diffuse light: the ratio of their log ranges.",
    )
}

pub(crate) fn two_filters(filters: &TwoFilters, range: Option<f64>) -> Document {
    let mut document = Document::new();
    let mut facts = Vec::new();
    match filters.exposures_s {
        Ok((soft, hard)) => {
            document.title(format!("Soft {}, hard {}, together {}", s(soft), s(hard), s(soft + hard)));
            if let Some(excess) =
                filters.highlight_excess.filter(|highlight_excess| highlight_excess.get() > 0.0)
            {
                facts.push(fact(
                    "keeping the soft time alone",
                    format!(
                        "would darken highlights by {} stop: hard light touches them too",
                        show_decimals(excess.get(), 2)
                    ),
                ));
            }
        }
        Err(failure) => failed(&mut document, failure),
    }
    if let Some(range) = range {
        let r = |lag: f64| format!("R {}", show_short(to_step(100.0 * (range + lag), 10.0), 0));
        facts.push(fact(
            "the filters on this paper",
            format!("soft {}, hard {}", r(filters.soft_lag), r(filters.hard_lag)),
        ));
    }
    document.facts(facts);
    document.paragraph("Why: soft/a + hard/b = 1 for the highlight and soft/c + hard/d = 1 for the shadow, where a, b, c, d are the times that each filter needs alone. Every later change (size, diaphragm, dry-down) multiplies both alike.");
    document
}

fn failed(document: &mut Document, failure: Failure) {
    document.title(crate::render::capital(failure.words()));
    document.paragraph(format!("No two exposures do it: {}. Do: {}.", failure.because(), failure.fix()));
}

/// `two-filter --try`.
pub(crate) fn given(soft_s: f64, hard_s: f64, times: &Given) -> Document {
    let told = |stops: Stops| {
        format!("{} stop{}", show_decimals(stops.get(), 2), if stops.get() > 0.0 { " too much" } else { "" })
    };
    let mut facts = vec![fact("highlight", told(times.highlight))];
    facts.extend(times.shadow.map(|shadow| fact("shadow", told(shadow))));
    answer(
        format!(
            "Soft {}, hard {}: highlight {} stop",
            s(soft_s),
            s(hard_s),
            show_decimals(times.highlight.get(), 2)
        ),
        facts,
        "Why: what each exposure is of the time that its filter needs alone, added: log2(soft/a + hard/b).",
    )
}

/// `two-filter --hard-change`.
pub(crate) fn hard_change(hard_change: &HardChange, hold: Hold) -> Document {
    let tone = match hold {
        Hold::Highlight => "highlights",
        Hold::Shadow => "shadows",
    };
    let signed =
        |seconds: f64| format!("{}{} s", if seconds > 0.0 { "+" } else { "" }, show_short(seconds, 2));
    answer(
        format!("Hard {}, soft {}: the {tone} stay", signed(hard_change.hard_s), signed(hard_change.soft_s)),
        vec![fact("together", signed(hard_change.total_s))],
        "Why: a second of hard light does to the tone what soft/hard seconds of soft light do, by the times that each needs alone.",
    )
}
