//! Whether a wash is long enough, by its fast part.
//!
//! Thiosulfate leaves the layer by halves each minute in direct contact; what hardened gelatin holds leaves far slower. So the model refuses
//! what is too short and ranks schedules; its residue is never told as what is left.

/// Half-time of the layer's content in direct contact with water at 20 °C, minutes.
///
/// Source: NAVEDTRA 14209, page 250 of the web copy ("halves each minute").
pub(crate) const HALF_TIME_MIN: f64 = 1.0;
/// Thiosulfate in a swollen layer from a fixer of 113 g/L, g/m². Worked out: 25 µm of it.
pub(crate) const LAYER_G_PER_M2: f64 = 2.8;
/// Thiosulfate that a film meant to last may hold, g/m². Source: a microfilm bureau's page on the methylene blue test (1.4 µg/cm²).
pub(crate) const AIM_G_PER_M2: f64 = 0.014;

/// What is left in the layer in running water, as a share.
pub(crate) fn running_fraction(minutes: f64, half_time_min: f64) -> f64 {
    (-minutes / half_time_min).exp2()
}

/// A tank that is filled and dumped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FillAndDump {
    /// Water of one fill, mL.
    pub fill_ml: f64,
    /// Liquid held back by a drained tank, mL; 10 is right for one film. Source: M. Torzynski, comment on film washing (2004).
    pub held_ml: f64,
    /// Liquid in the swollen layer, mL; 1.29 for 516 cm² and 25 µm.
    pub layer_ml: f64,
    /// Half-time of the layer, minutes.
    pub half_time_min: f64,
}

impl FillAndDump {
    /// What is left in the layer after changes of so many minutes, as a share of the start.
    ///
    /// Two stores: in a change the layer goes towards the mean of layer and liquid; then all but the held back is poured out.
    pub(crate) fn layer_fraction(&self, changes_min: &[f64]) -> f64 {
        let (mut layer, mut held) = (1.0, 1.0);
        let liquid_ml = self.fill_ml + self.held_ml;
        for minutes in changes_min {
            let liquid = held * self.held_ml / liquid_ml;
            let mean = (layer * self.layer_ml + liquid * liquid_ml) / (self.layer_ml + liquid_ml);
            let next = mean + (layer - mean) * running_fraction(*minutes, self.half_time_min);
            held = liquid + (layer - next) * self.layer_ml / liquid_ml;
            layer = next;
        }
        layer
    }
}

/// Largest share that the fast part may leave after a washing aid: that of five minutes of running water (1/32) or of five changes of a
/// minute (0.033).
///
/// Source: US Army subcourse SS0509, pages 24 and 30 (0:30 + 2:00 + 5:00).
pub(crate) const MOST_AFTER_AID: f64 = 0.035;
/// The same without one: from [`LAYER_G_PER_M2`] to [`AIM_G_PER_M2`].
pub(crate) const MOST_WITHOUT_AID: f64 = AIM_G_PER_M2 / LAYER_G_PER_M2;

/// What is wrong with a wash that leaves this share in the layer; none where nothing is.
pub(crate) fn too_short(fraction: f64, has_aid: bool) -> Option<String> {
    let most = if has_aid { MOST_AFTER_AID } else { MOST_WITHOUT_AID };
    // A share that is the limit itself, worked out in floating point, is no shorter.
    if fraction <= most * 1.000_001 {
        return None;
    }
    let share = match fraction {
        own if own >= 0.45 => "half of the fixer or more is".to_owned(),
        own if own >= 0.29 => "a third of the fixer is".to_owned(),
        own if own >= 0.2 => "a quarter of the fixer is".to_owned(),
        own if own >= 0.095 => "a tenth of the fixer or more is".to_owned(),
        _ => "too much of the fixer is".to_owned(),
    };
    Some(format!("too short: {share} still in the layer"))
}
