//! The name by which a bottle is called, on its label and in the list of the shelf: the title without what every bottle on that shelf is.

use crate::bench::head::short_name;

/// The title to its first comma or bracket, with the trade's letters for its agents, without `developer` and `bath`.
pub fn bottle_name(title: &str) -> String {
    let name = with_kind(title).replace(" developer", "").replace(" bath", "");
    let name = name.trim();
    // A title of nothing else keeps its words.
    if name.is_empty() { title.trim().to_owned() } else { name.to_owned() }
}

/// Letters of a name that stands on one line of a label in the type of its drawing.
const ON_A_LINE: usize = 22;

/// The name on a label: with the kind of bath where both have room, so that `Metol developer` is not taken for its metol.
pub fn label_name(title: &str) -> String {
    let whole = with_kind(title);
    if whole.is_empty() || whole.chars().count() > ON_A_LINE { bottle_name(title) } else { whole }
}

/// The title to its first comma or bracket, with the trade's letters for its agents.
fn with_kind(title: &str) -> String {
    let (head, _) = short_name(title.split('(').next().unwrap_or_default());
    head.replace("Pyrocatechol", "Catechol")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source of the shortening: the drawing of the label (`Catechol` for pyrocatechol) and the trade's letters.
    #[test]
    fn a_bottle_is_called_by_what_sets_it_apart() {
        assert_eq!(
            bottle_name("Pyrocatechol-hydroxide compensating developer"),
            "Catechol-hydroxide compensating"
        );
        assert_eq!(bottle_name("Metol-hydroquinone borax developer, 100 g sulfite"), "MQ borax");
        assert_eq!(
            bottle_name("Thiosulfate-sodium bisulfite acid fixer (film)"),
            "Thiosulfate-sodium bisulfite acid fixer"
        );
        assert_eq!(bottle_name(", x"), ", x");
        assert_eq!(label_name("Metol developer, for paper"), "Metol developer");
        assert_eq!(
            label_name("Pyrocatechol-hydroxide compensating developer"),
            "Catechol-hydroxide compensating"
        );
    }
}
