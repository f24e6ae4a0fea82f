//! The words of doubt: five, each with its object, and no others. Whoever says how sure a figure is takes them from here.

/// Nobody gave it, and it cannot be worked out.
pub const NOT_KNOWN: &str = "not known";
/// Worked out from something like it.
pub const ESTIMATED: &str = "estimated";
/// Somebody remembers it; no document was read.
pub const FROM_MEMORY: &str = "from memory";
/// Documents give different figures.
pub const SOURCES_DIFFER: &str = "sources differ";
/// Worked out from figures that are known.
pub const COMPUTED: &str = "computed";
