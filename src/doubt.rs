//! The words of doubt: five, each with its object, and no others. Whoever says how sure a figure is takes them from here.

/// Nobody gave it, and it cannot be worked out.
pub(crate) const NOT_KNOWN: &str = "not known";
/// Somebody remembers it; no document was read.
pub(crate) const FROM_MEMORY: &str = "from memory";
/// Worked out from figures that are known.
pub(crate) const COMPUTED: &str = "computed";
