//! How negatives came out, in the words of the file.

/// How a negative came out as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Too little density: developed too short.
    Thin,
    /// As wanted.
    Right,
    /// Too much density: developed too long.
    Dense,
}

/// What the shadows show: the exposure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shadows {
    /// No detail: exposed too little.
    Empty,
    /// As wanted.
    Right,
    /// More density than is needed: exposed too much.
    Full,
}

/// What the highlights show: the development.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Highlights {
    /// Too little contrast: developed too short.
    Flat,
    /// As wanted.
    Right,
    /// Too much: developed too long.
    Blocked,
}

/// The words of a judgement, in the file and on the command line.
macro_rules! words {
    ($type:ident: $($variant:ident = $word:literal),+) => {
        impl $type {
            /// The word in the file.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// What a word means.
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }
    };
}

words!(Verdict: Thin = "thin", Right = "right", Dense = "dense");

words!(Shadows: Empty = "empty", Right = "right", Full = "full");

words!(Highlights: Flat = "flat", Right = "right", Blocked = "blocked");

impl From<Verdict> for Highlights {
    /// A verdict counts as one on the highlights: it is the development that it judged.
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Thin => Self::Flat,
            Verdict::Right => Self::Right,
            Verdict::Dense => Self::Blocked,
        }
    }
}
