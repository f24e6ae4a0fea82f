//! What a formula is for.

use serde::Deserialize;

/// What kind of solution a formula makes; also the folder its file lies in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "each variant is the trade word itself")]
pub enum Kind {
    FilmDeveloper,
    PaperDeveloper,
    Replenisher,
    StopBath,
    Fixer,
    WashingAid,
    Hardener,
    Reducer,
    Intensifier,
    Bleach,
    Toner,
    Sensitizer,
    TestSolution,
}

impl Kind {
    /// All kinds in the order of work.
    pub const ALL: [Self; 13] = [
        Self::FilmDeveloper,
        Self::PaperDeveloper,
        Self::Replenisher,
        Self::StopBath,
        Self::Fixer,
        Self::WashingAid,
        Self::Hardener,
        Self::Reducer,
        Self::Intensifier,
        Self::Bleach,
        Self::Toner,
        Self::Sensitizer,
        Self::TestSolution,
    ];

    /// The name of its folder, as written in a file and on the command line.
    pub fn folder(self) -> &'static str {
        match self {
            Self::FilmDeveloper => "film-developer",
            Self::PaperDeveloper => "paper-developer",
            Self::Replenisher => "replenisher",
            Self::StopBath => "stop-bath",
            Self::Fixer => "fixer",
            Self::WashingAid => "washing-aid",
            Self::Hardener => "hardener",
            Self::Reducer => "reducer",
            Self::Intensifier => "intensifier",
            Self::Bleach => "bleach",
            Self::Toner => "toner",
            Self::Sensitizer => "sensitizer",
            Self::TestSolution => "test-solution",
        }
    }

    /// The kind with that folder name.
    pub fn from_folder(folder: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.folder() == folder)
    }

    /// In the singular, lower case: `film developer`.
    pub fn words(self) -> String {
        self.folder().replace('-', " ")
    }

    /// Whether it develops (a developer of film or paper, or its replenisher).
    pub fn is_developer(self) -> bool {
        matches!(self, Self::FilmDeveloper | Self::PaperDeveloper | Self::Replenisher)
    }
}
