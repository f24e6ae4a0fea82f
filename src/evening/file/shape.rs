//! The keys of an evening file.

use serde::Deserialize;
use std::collections::BTreeMap;
use toml::Spanned;

/// The file as written.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(crate) struct EveningFile {
    /// Version of the format: 1.
    #[cfg_attr(test, schemars(with = "Option<u32>", extend("const" = 1)))]
    pub(super) format: Option<Spanned<u32>>,
    /// When the first developer goes in: "19:30".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) start: Option<Spanned<String>>,
    /// Time to pour in or out: "15s".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) pour: Option<Spanned<String>>,
    /// How warm the bottles stand before the evening: "14C".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) bottles_at: Option<Spanned<String>>,
    /// Times of the steps after development; "0s" leaves one out.
    pub(super) times: Option<TimesFile>,
    /// The baths of the evening by step, such as stop, fixer, aid, wetting, "fix 2": a formula, or { formula, bottle }.
    #[cfg_attr(test, schemars(with = "Option<BTreeMap<String, BathFile>>"))]
    pub(super) baths: Option<BTreeMap<Spanned<String>, BathFile>>,
    /// The tanks, in the order in which they begin.
    #[cfg_attr(test, schemars(with = "Vec<TankFile>"))]
    pub(super) tanks: Vec<Spanned<TankFile>>,
}

#[derive(Debug, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct TimesFile {
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) stop: Option<Spanned<String>>,
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) fix: Option<Spanned<String>>,
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) rinse: Option<Spanned<String>>,
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) aid: Option<Spanned<String>>,
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) wash: Option<Spanned<String>>,
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) wetting: Option<Spanned<String>>,
    /// Hanging a film.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) hang: Option<Spanned<String>>,
}

#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(untagged, expecting = "a formula in quotes, or { formula = \"…\", bottle = \"…\" }")]
pub(super) enum BathFile {
    Formula(String),
    Table(BathTable),
}

#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct BathTable {
    pub(super) formula: Option<String>,
    /// The bottle it comes from.
    pub(super) bottle: Option<String>,
}

#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct TankFile {
    pub(super) name: Option<String>,
    /// The bottle of its developer.
    pub(super) bottle: Option<String>,
    /// Its films: "2x135-36".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) films: Option<Spanned<String>>,
    /// The film in your own words.
    pub(super) film: Option<String>,
    /// Numbers of the rolls.
    pub(super) rolls: Option<Vec<String>>,
    /// How much fills it: "600ml".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) volume: Option<Spanned<String>>,
    /// The developer: a formula.
    pub(super) developer: Option<String>,
    /// How it is used: "undiluted".
    #[serde(rename = "use")]
    pub(super) use_name: Option<String>,
    /// Developing time: "8min"; of two baths "4min + 3min". Left out, it is worked out.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) time: Option<Spanned<String>>,
    /// A time that is known, from which this tank's is worked out.
    #[cfg_attr(test, schemars(with = "Option<KnownFile>"))]
    pub(super) known: Option<Spanned<KnownFile>>,
    /// Temperature of the developer: "20C".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) temp: Option<Spanned<String>>,
    /// Its own steps in order, each a name and, where it is not the evening's, a time, such as presoak 2min, develop A 4min, fix 2 5min.
    #[cfg_attr(test, schemars(with = "Option<Vec<String>>"))]
    pub(super) steps: Option<Vec<Spanned<String>>>,
    /// "tank", "rotary", "hangers", or "trays" for sheets in total darkness.
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) way: Option<Spanned<String>>,
    /// "usual", "none", "continuous", or such as "5s each 30s".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) agitation: Option<Spanned<String>>,
    /// Water before the developer: "1min".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) presoak: Option<Spanned<String>>,
    /// A wish: its developer goes in then: "19:34".
    #[cfg_attr(test, schemars(with = "Option<String>"))]
    pub(super) start: Option<Spanned<String>>,
}

/// A known time as written; what is not said is as in the tank.
#[derive(Debug, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct KnownFile {
    /// The time: "9min".
    pub(super) time: String,
    /// The developer: a formula.
    pub(super) developer: Option<String>,
    /// Its dilution: "1+1".
    pub(super) dilution: Option<String>,
    /// Its temperature: "20C".
    pub(super) temp: Option<String>,
    /// Its agitation: "inversion".
    pub(super) agitation: Option<String>,
}
