//! What `exposure … --json` prints: one document whose fields are there as far as the sum has them.

use serde::Serialize;

use crate::exposure::{
    BURNS, Baths, Burn, Change, ChosenStrip, Contact, DODGES, Dodge, ExposureWarning, Failure, Filtered,
    Given, HardChange, LampEffect, LampLoss, Metered, MeteredShadow, PaperRange, Resized, Stops, TestStrip,
    TwoBaths, TwoFilters, WallTable, Washed,
};

/// `exposure`; what does not belong to a sum is absent.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[allow(
    clippy::option_option,
    reason = "null says that there is no such exposure, absent that it was not asked for"
)]
pub(crate) struct ExposureBody {
    /// The subcommand.
    pub sum: &'static str,
    /// Time before, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_seconds: Option<f64>,
    /// The answer, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seconds: Option<f64>,
    /// The same as set on the clock, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_s: Option<f64>,
    /// The change in stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stops: Option<f64>,
    /// The change as a ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub factor: Option<f64>,
    /// The change in log exposure; of `metered` the open easel's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub log_exposure: Option<f64>,
    /// Step of the clock, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clock_s: Option<f64>,
    /// Exact totals of the strips, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub totals_s: Option<Vec<f64>>,
    /// Totals that the clock gives, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clocked_totals_s: Option<Vec<f64>>,
    /// Settings in the order of the hand, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub settings_s: Option<Vec<f64>>,
    /// `cover`, `uncover` or `apart`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub method: Option<&'static str>,
    /// Largest error of a total, stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_error_stops: Option<f64>,
    /// What it would be if each setting were rounded by itself.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_error_each_rounded_stops: Option<f64>,
    /// Steps between totals in even seconds, stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub steps_stops: Option<Vec<f64>>,
    /// The strip chosen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chosen: Option<usize>,
    /// The one exposure, from the total that the clock gave, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seconds_from_clock: Option<f64>,
    /// Lost at each switching, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lost_s: Option<f64>,
    /// Magnification: after the change, or the only one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub magnification: Option<f64>,
    /// Magnification before the change.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_magnification: Option<f64>,
    /// What the column's scale adds, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub column_zero_mm: Option<f64>,
    /// By how much the square of the size errs, stops; above zero: too much exposure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub area_rule_error_stops: Option<f64>,
    /// By how much the square of the negative's height errs, stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height_squared_rule_error_stops: Option<f64>,
    /// Stops to open where the time is kept.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stops_to_open: Option<f64>,
    /// Stops of the diaphragm with full stops as powers of root two.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub aperture_stops: Option<f64>,
    /// The same with the figures as engraved.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nominal_stops: Option<f64>,
    /// Density range of the negative.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub density_range: Option<f64>,
    /// The range that the paper sees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub effective_range: Option<f64>,
    /// ISO range of the paper that fits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub iso_range: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub condenser_factor: Option<f64>,
    /// Soft exposure, s; null where the paper fails.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub soft_s: Option<Option<f64>>,
    /// Hard exposure, s; null where the paper fails.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hard_s: Option<Option<f64>>,
    /// Both together, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub total_s: Option<f64>,
    /// Which way the paper fails: `too-soft`, `too-hard`, `exchanged`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fails: Option<&'static str>,
    /// Log exposure range through the soft filter, less the negative's range; the whole of it with `--range`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub soft_filter_range: Option<f64>,
    /// The same through the hard filter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hard_filter_range: Option<f64>,
    /// Highlights: too much above zero, stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub highlight_excess_stops: Option<f64>,
    /// Shadows: too much above zero, stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shadow_excess_stops: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hard_change_s: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub soft_change_s: Option<f64>,
    /// Change of both together, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub total_change_s: Option<f64>,
    /// To burn in, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub extra_s: Option<f64>,
    /// To hold back, s: all places together.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub held_back_s: Option<f64>,
    /// To hold back at each place, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub each_held_back_s: Option<Vec<f64>>,
    /// Log exposure of the thinnest place, lux seconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub log_exposure_shadow: Option<f64>,
    /// What it lacks for black, in log exposure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short_of_black: Option<f64>,
    /// Sheets a litre until the limit; null where it is never reached.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheets_per_litre: Option<Option<f64>>,
    /// The limit, g/L of silver.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit_g_per_litre: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub silver_per_sheet_mg: Option<f64>,
    /// Silver in the first and in the second bath, g/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub silver_g_per_litre: Option<Vec<f64>>,
    /// What is left of the first bath's strength, as a fraction.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strength_left: Option<f64>,
    /// A sheet in sheets of 8 × 10 in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub units: Option<f64>,
    /// Sheets of 8 × 10 in that are left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub units_left: Option<f64>,
    /// What diffusion alone would ask for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diffusion_ratio: Option<f64>,
    /// A residue, g/m².
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grams_per_m2: Option<f64>,
    /// The same, mg per square inch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mg_per_sq_in: Option<f64>,
    /// From which time on the clock is exact enough, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shortest_s: Option<f64>,
    /// The error that it may have, stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub within_stops: Option<f64>,
    /// Columns of the wall table held back, stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dodge_stops: Option<Vec<f64>>,
    /// Columns of the wall table burnt in, stops.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub burn_stops: Option<Vec<f64>>,
    /// Rows of the wall table.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rows: Option<Vec<RowBody>>,
    /// Why there is no answer.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub refusals: Vec<RefusalBody>,
    /// Where the law stops holding.
    pub warnings: Vec<WarningBody>,
}

/// A row of the wall table.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct RowBody {
    /// Base, exact, s.
    pub seconds: f64,
    /// Base as set, s.
    pub set_s: f64,
    /// To hold back, exact, s.
    pub held_back_s: Vec<f64>,
    /// To add, exact, s.
    pub extra_s: Vec<f64>,
}

/// Why there is no answer.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct RefusalBody {
    /// `not-this-way`.
    pub kind: &'static str,
    /// Stable short name.
    pub code: &'static str,
    pub text: &'static str,
    /// What to do.
    pub fix: &'static str,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct WarningBody {
    /// Stable short name.
    pub code: &'static str,
    pub text: String,
}

fn warned(warnings: &[ExposureWarning]) -> Vec<WarningBody> {
    warnings.iter().map(|warning| WarningBody { code: warning.code(), text: warning.to_string() }).collect()
}

impl ExposureBody {
    fn of(sum: &'static str, warnings: &[ExposureWarning]) -> Self {
        Self { sum, warnings: warned(warnings), ..Self::default() }
    }

    pub(crate) fn change(change: &Change) -> Self {
        Self {
            from_seconds: change.from_s,
            seconds: change.seconds,
            stops: Some(change.stops.get()),
            factor: Some(change.stops.factor()),
            log_exposure: Some(change.stops.log_exposure()),
            ..Self::of("change", &change.warnings)
        }
    }

    pub(crate) fn strip(strip: &TestStrip, chosen: Option<&ChosenStrip>, lost_s: Option<f64>) -> Self {
        Self {
            clock_s: Some(strip.request.clock.step_s()),
            method: Some(strip.request.method.word()),
            totals_s: Some(strip.totals_s.clone()),
            clocked_totals_s: Some(strip.clocked_s.clone()),
            settings_s: Some(strip.settings_s.clone()),
            largest_error_stops: Some(strip.largest_error.get()),
            largest_error_each_rounded_stops: Some(strip.largest_error_each.get()),
            chosen: chosen.map(|chosen| chosen.number),
            seconds: chosen.map(|chosen| chosen.seconds),
            set_s: chosen.map(|chosen| strip.request.clock.set(chosen.seconds)),
            seconds_from_clock: chosen.map(|chosen| chosen.from_clock_s),
            stops: chosen.map(|chosen| chosen.stops.get()),
            lost_s,
            ..Self::of("strip", &strip.warnings)
        }
    }

    /// `strip --totals`.
    pub(crate) fn steps(totals_s: Vec<f64>, steps: Vec<f64>) -> Self {
        Self { totals_s: Some(totals_s), steps_stops: Some(steps), ..Self::of("strip", &[]) }
    }

    /// `lamp`, measured.
    pub(crate) fn lamp_loss(lamp_loss: &LampLoss) -> Self {
        Self { lost_s: Some(lamp_loss.lost_s), ..Self::of("lamp", &lamp_loss.warnings) }
    }

    /// `lamp`, what a loss does.
    pub(crate) fn lamp_effect(lamp_effect: &LampEffect) -> Self {
        Self {
            from_seconds: Some(lamp_effect.setting_s),
            seconds: Some(lamp_effect.seconds),
            set_s: Some(lamp_effect.set_s),
            lost_s: Some(lamp_effect.setting_s - lamp_effect.seconds),
            stops: Some(lamp_effect.stops.get()),
            ..Self::of("lamp", &[])
        }
    }

    pub(crate) fn size(resized: &Resized) -> Self {
        let both = resized.from_magnification.zip(resized.to_magnification);
        Self {
            from_seconds: resized.from_s,
            seconds: resized.seconds,
            stops: Some(resized.stops.get()),
            factor: Some(resized.factor),
            stops_to_open: Some(resized.stops.get()),
            magnification: resized.to_magnification.or(resized.from_magnification),
            from_magnification: both.map(|(from, _)| from),
            column_zero_mm: resized.column_zero_mm,
            area_rule_error_stops: resized.area_rule_error.map(Stops::get),
            height_squared_rule_error_stops: resized.height_squared_rule_error.map(Stops::get),
            aperture_stops: resized.aperture.map(Stops::get),
            nominal_stops: resized.nominal_aperture.map(Stops::get),
            ..Self::of("size", &resized.warnings)
        }
    }

    pub(crate) fn range(paper_range: &PaperRange, condenser_factor: f64) -> Self {
        Self {
            density_range: Some(paper_range.density_range),
            effective_range: Some(paper_range.effective_range),
            iso_range: Some(paper_range.iso_range),
            condenser_factor: Some(condenser_factor),
            ..Self::of("range", &paper_range.warnings)
        }
    }

    /// `range`, the condenser factor that two papers tell.
    pub(crate) fn condenser_factor(factor: f64) -> Self {
        Self { condenser_factor: Some(factor), ..Self::of("range", &[ExposureWarning::CondenserFactor]) }
    }

    pub(crate) fn two_filters(filters: &TwoFilters, range: Option<f64>) -> Self {
        let exposures = filters.exposures_s.ok();
        let refusal = |failure: Failure| RefusalBody {
            kind: "not-this-way",
            code: failure.code(),
            text: failure.words(),
            fix: failure.fix(),
        };
        Self {
            soft_s: Some(exposures.map(|(soft, _)| soft)),
            hard_s: Some(exposures.map(|(_, hard)| hard)),
            total_s: exposures.map(|(soft, hard)| soft + hard),
            fails: filters.exposures_s.err().map(Failure::code),
            highlight_excess_stops: filters.highlight_excess.map(Stops::get),
            soft_filter_range: range.map(|range| range + filters.soft_lag),
            hard_filter_range: range.map(|range| range + filters.hard_lag),
            refusals: filters.exposures_s.err().map(refusal).into_iter().collect(),
            ..Self::of("two-filter", &filters.warnings)
        }
    }

    /// `two-filter --try`.
    pub(crate) fn given(soft_s: f64, hard_s: f64, times: &Given) -> Self {
        Self {
            soft_s: Some(Some(soft_s)),
            hard_s: Some(Some(hard_s)),
            highlight_excess_stops: Some(times.highlight.get()),
            shadow_excess_stops: times.shadow.map(Stops::get),
            ..Self::of("two-filter", &[ExposureWarning::AddingFilters])
        }
    }

    /// `two-filter --hard-change`.
    pub(crate) fn hard_change(hard_change: &HardChange) -> Self {
        Self {
            hard_change_s: Some(hard_change.hard_s),
            soft_change_s: Some(hard_change.soft_s),
            total_change_s: Some(hard_change.total_s),
            ..Self::of("two-filter", &[ExposureWarning::AddingFilters])
        }
    }

    pub(crate) fn burn(burn: &Burn) -> Self {
        Self {
            from_seconds: Some(burn.base_s),
            extra_s: Some(burn.extra_s),
            stops: Some(burn.stops.get()),
            ..Self::of("burn", &[])
        }
    }

    pub(crate) fn dodge(dodge: &Dodge) -> Self {
        let only = dodge.stops.first().filter(|_| dodge.stops.len() == 1);
        Self {
            from_seconds: Some(dodge.base_s),
            held_back_s: Some(dodge.held_back_s),
            stops: only.copied().map(Stops::get),
            each_held_back_s: only.is_none().then(|| dodge.each_s.clone()),
            ..Self::of("dodge", &[])
        }
    }

    pub(crate) fn filter(filtered: &Filtered) -> Self {
        Self {
            from_seconds: Some(filtered.from_s),
            seconds: Some(filtered.seconds),
            factor: Some(filtered.factor),
            stops: Some(filtered.stops.get()),
            ..Self::of("filter", &filtered.warnings)
        }
    }

    pub(crate) fn contact(contact: &Contact) -> Self {
        Self {
            from_seconds: Some(contact.from_s),
            seconds: Some(contact.seconds),
            factor: Some(contact.factor),
            stops: Some(contact.stops.get()),
            ..Self::of("contact", &contact.warnings)
        }
    }

    pub(crate) fn metered(metered: &Metered, shadow: Option<&MeteredShadow>) -> Self {
        Self {
            seconds: Some(metered.seconds),
            log_exposure: Some(metered.log_exposure_open),
            log_exposure_shadow: shadow.map(|shadow| shadow.log_exposure),
            short_of_black: shadow.and_then(|shadow| shadow.short_of_black),
            ..Self::of("metered", &metered.warnings)
        }
    }

    pub(crate) fn silver(
        milligrams: f64,
        limit: f64,
        sheets_per_litre: Option<f64>,
        baths: Option<(&Baths, &TwoBaths)>,
        units: Option<f64>,
    ) -> Self {
        let warnings = baths.map(|(_, own)| own.warnings.clone()).unwrap_or_default();
        Self {
            silver_per_sheet_mg: Some(milligrams),
            limit_g_per_litre: Some(limit),
            sheets_per_litre: Some(sheets_per_litre),
            silver_g_per_litre: baths.map(|(_, own)| vec![own.first_g_per_l, own.second_g_per_l]),
            strength_left: baths.map(|(_, own)| own.strength_left),
            units,
            ..Self::of("silver", &warnings)
        }
    }

    pub(crate) fn capacity(units: Option<f64>, units_left: Option<f64>) -> Self {
        Self { units, units_left, ..Self::of("capacity", &[]) }
    }

    pub(crate) fn wash(washed: Option<(f64, &Washed)>, grams_per_m2: Option<(f64, f64)>) -> Self {
        Self {
            from_seconds: washed.map(|(from, _)| from),
            seconds: washed.map(|(_, own)| own.seconds),
            factor: washed.map(|(_, own)| own.factor),
            diffusion_ratio: washed.map(|(_, own)| own.diffusion_ratio),
            grams_per_m2: grams_per_m2.map(|(own, _)| own),
            mg_per_sq_in: grams_per_m2.map(|(_, own)| own),
            ..Self::of("wash", washed.map_or(&[], |(_, own)| &own.warnings))
        }
    }

    pub(crate) fn table(wall: &WallTable) -> Self {
        let rows = wall.rows.iter().map(|row| RowBody {
            seconds: row.seconds,
            set_s: row.set_s,
            held_back_s: row.held_back_s.clone(),
            extra_s: row.extra_s.clone(),
        });
        Self {
            clock_s: Some(wall.clock.step_s()),
            within_stops: Some(wall.within.get()),
            shortest_s: Some(wall.shortest_s),
            dodge_stops: Some(DODGES.iter().map(|own| -own / 6.0).collect()),
            burn_stops: Some(BURNS.iter().map(|own| own / 6.0).collect()),
            rows: Some(rows.collect()),
            ..Self::of("table", &[])
        }
    }
}
