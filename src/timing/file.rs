//! The shape of `timing.toml` on disk; [`super::table::TimingTable`] is what it becomes.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::figure::Support;
use super::temperature::Convention;
use crate::packed::Placed;

/// A row with a figure: the four keys that every factor has, and the row's own.
macro_rules! row {
    ($(#[$meta:meta])* $name:ident { $($field:ident: $type:ty,)* }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub(super) struct $name {
            $(#[serde(default)] pub(super) $field: $type,)*
            pub(super) low: f64,
            pub(super) central: f64,
            pub(super) high: f64,
            pub(super) evidence: Support,
            pub(super) source: Option<String>,
            pub(super) note: Option<String>,
        }

        impl $name {
            pub(super) fn figures(&self) -> FigureFile<'_> {
                FigureFile {
                    values: [self.low, self.central, self.high],
                    support: self.evidence,
                    source: self.source.as_deref(),
                    note: self.note.as_deref(),
                }
            }
        }
    };
}

/// The figure of a row, before it is checked.
pub(super) struct FigureFile<'a> {
    pub(super) values: [f64; 3],
    pub(super) support: Support,
    pub(super) source: Option<&'a str>,
    pub(super) note: Option<&'a str>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TimingFile {
    pub(super) format: u32,
    pub(super) sources: BTreeMap<String, String>,
    pub(super) agent: Vec<AgentFile>,
    pub(super) class: Vec<ClassFile>,
    pub(super) scatter: ScatterFile,
    pub(super) temperature: Vec<Placed<TemperatureFile>>,
    pub(super) dilution: Vec<Placed<DilutionFile>>,
    pub(super) agitation: Vec<Placed<AgitationFile>>,
    pub(super) relation: Vec<Placed<RelationFile>>,
    pub(super) guess: Placed<GuessFile>,
    pub(super) contrast: Vec<Placed<ContrastFile>>,
    pub(super) push: Placed<PushFile>,
    pub(super) gradient: GradientFile,
    pub(super) own: OwnFile,
    pub(super) limits: LimitsFile,
    pub(super) speed: Vec<SpeedFile>,
    pub(super) foot: FootFile,
    pub(super) factorial: Vec<Placed<FactorialFile>>,
    pub(super) refused: Vec<RefusedFile>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AgentFile {
    pub(super) name: String,
    pub(super) substances: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ClassFile {
    pub(super) name: String,
    #[serde(default)]
    pub(super) only_agents: Vec<String>,
    #[serde(default)]
    pub(super) all_agents: Vec<String>,
    #[serde(default)]
    pub(super) any_substance: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RefusedFile {
    pub(super) name: String,
    #[serde(default)]
    pub(super) only_agents: Vec<String>,
    #[serde(default)]
    pub(super) any_substance: Vec<String>,
    pub(super) reason: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SpeedFile {
    pub(super) name: String,
    #[serde(default)]
    pub(super) only_agents: Vec<String>,
    #[serde(default)]
    pub(super) all_agents: Vec<String>,
    #[serde(default)]
    pub(super) any_substance: Vec<String>,
    pub(super) low: f64,
    pub(super) high: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FootFile {
    pub(super) step: f64,
    pub(super) aim: f64,
    pub(super) net_density: Vec<f64>,
    pub(super) slight: f64,
    pub(super) clear: f64,
    #[serde(rename = "evidence")]
    pub(super) _evidence: Support,
    #[serde(rename = "note")]
    pub(super) _note: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ScatterFile {
    pub(super) floor: f64,
    pub(super) per_degree: f64,
    pub(super) swap: f64,
    pub(super) typed_per_degree: f64,
    #[serde(rename = "evidence")]
    pub(super) _evidence: Support,
    #[serde(rename = "note")]
    pub(super) _note: String,
}

row! {
    TemperatureFile {
        name: String,
        formulas: Vec<String>,
        agents: Vec<String>,
        class: Option<String>,
        convention: Option<Convention>,
        from_celsius: Option<f64>,
        to_celsius: Option<f64>,
    }
}

row! {
    DilutionFile {
        name: String,
        formulas: Vec<String>,
        class: Option<String>,
        bend: Option<BendFile>,
        from_ratio: Option<f64>,
        to_ratio: Option<f64>,
    }
}

/// By which factor 1+1 lies off the straight law.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BendFile {
    pub(super) low: f64,
    pub(super) central: f64,
    pub(super) high: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AgitationFile {
    pub(super) name: String,
    #[serde(default)]
    pub(super) aliases: Vec<String>,
    pub(super) words: String,
    pub(super) low: Option<f64>,
    pub(super) central: Option<f64>,
    pub(super) high: Option<f64>,
    pub(super) evidence: Option<Support>,
    pub(super) source: Option<String>,
    pub(super) note: Option<String>,
    pub(super) refused: Option<String>,
}

/// Conditions of one side of a relation.
#[derive(Debug, Clone, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct SideFile {
    pub(super) formula: String,
    pub(super) dilution: String,
    pub(super) celsius: f64,
}

row! {
    RelationFile {
        from: SideFile,
        to: SideFile,
    }
}

row! {
    GuessFile {
        farthest: f64,
    }
}

row! {
    ContrastFile {
        name: String,
        class: Option<String>,
        law: Option<LawFile>,
    }
}

/// How the gradient grows with time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum LawFile {
    GrowsToAnEnd,
    Power,
}

row! {
    PushFile {
        most_stops: f64,
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GradientFile {
    pub(super) subject_range: f64,
    pub(super) flare: f64,
    pub(super) step: f64,
    pub(super) reading_error: f64,
    pub(super) normal: f64,
    pub(super) most_steps: f64,
    #[serde(rename = "evidence")]
    pub(super) _evidence: Support,
    #[serde(rename = "note")]
    pub(super) _note: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OwnFile {
    pub(super) judged_right: f64,
    pub(super) not_judged: f64,
    pub(super) one_sided: f64,
    pub(super) own_normal: f64,
    #[serde(rename = "evidence")]
    pub(super) _evidence: Support,
    #[serde(rename = "note")]
    pub(super) _note: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LimitsFile {
    pub(super) coldest_celsius: f64,
    pub(super) hottest_celsius: f64,
    pub(super) hydroquinone_cold_celsius: f64,
    pub(super) hydroquinone_inactive_celsius: f64,
    pub(super) gelatin_soft_celsius: f64,
    pub(super) shortest_minutes: f64,
    pub(super) longest_minutes: f64,
    pub(super) doubtful_degrees: f64,
    pub(super) beyond_data_degrees: f64,
    pub(super) usual_celsius: f64,
    pub(super) usual_paper_celsius: f64,
    pub(super) farthest_dilution: f64,
    pub(super) roll_cm2: f64,
    #[serde(rename = "note")]
    pub(super) _note: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FactorialFile {
    pub(super) agents: Vec<String>,
    pub(super) strength: Option<String>,
    pub(super) soft: Option<f64>,
    pub(super) normal: f64,
    pub(super) strong: Option<f64>,
    pub(super) evidence: Support,
    pub(super) source: Option<String>,
    pub(super) note: Option<String>,
}
