//! Who goes in before whom, why, how sure, and whether it is a must (chemistry, safety) or a preference (custom).
//!
//! Rules are told by stage, that is by role and class. Where the source is `common practice, no source` the rule is trade knowledge
//! that no document was read for.

use super::stage::{Contents, Family, Stage};

/// No document was read for it.
pub const COMMON_PRACTICE: &str = "common practice, no source";
const ARMY: &str = "US Army correspondence course SS0513, page 21";
const COOKBOOK: &str = "S. Anchell, The Darkroom Cookbook, 3rd edition, 2008";
const HANDBOOK: &str = "a plate maker's photographic handbook, about 1920, page 24, and US Army correspondence course SS0513, page 21";

/// One rule of order.
#[derive(Clone, Copy)]
#[allow(missing_debug_implementations, reason = "holds functions")]
pub struct Rule {
    /// Stable short name.
    pub name: &'static str,
    /// What goes first.
    pub before: &'static [Stage],
    /// What goes after it.
    pub after: &'static [Stage],
    /// Asked once a part; a rule that does not apply draws no arrow.
    pub applies: fn(&Contents) -> bool,
    /// A must, or a custom, given what else is there.
    pub must: fn(&Contents) -> bool,
    /// Why, in a few words, as printed with the later ingredient.
    pub why: &'static str,
    /// A citation, or that it is common practice.
    pub source: &'static str,
}

const AGENTS: &[Stage] =
    &[Stage::Agent, Stage::AscorbicAcid, Stage::AlkaliSolubleAgent, Stage::SlowAgent, Stage::Amidol];

const ALL_ACTIVE: &[Stage] = &[
    Stage::MetolLike,
    Stage::Sulfite,
    Stage::AcidSulfite,
    Stage::Agent,
    Stage::AscorbicAcid,
    Stage::Alkali,
    Stage::Buffer,
    Stage::Caustic,
    Stage::AlkaliSolubleAgent,
];

fn always(_: &Contents) -> bool {
    true
}

fn never(_: &Contents) -> bool {
    false
}

fn developer(contents: &Contents) -> bool {
    contents.family == Family::Developer
}

fn fixer(contents: &Contents) -> bool {
    contents.family == Family::Fixer
}

fn guarded_by_sulfite(contents: &Contents) -> bool {
    developer(contents) && !contents.ascorbate_guard
}

/// All rules; musts are never broken, preferences give way to them and to earlier preferences.
pub const RULES: &[Rule] = &[
    Rule {
        name: "pinch-before-metol",
        before: &[Stage::Pinch],
        after: &[Stage::MetolLike],
        applies: always,
        must: always,
        why: "the pinch of sulfite protects it from the air",
        source: ARMY,
    },
    Rule {
        name: "metol-before-sulfite",
        before: &[Stage::MetolLike],
        after: &[Stage::Sulfite],
        applies: always,
        must: always,
        why: "metol first: it hardly dissolves in strong sulfite",
        source: HANDBOOK,
    },
    Rule {
        name: "preservative-before-agents",
        before: &[Stage::Sulfite],
        after: AGENTS,
        applies: developer,
        must: always,
        why: "the sulfite already in protects it from the air",
        source: COOKBOOK,
    },
    Rule {
        name: "bisulfite-before-agents",
        before: &[Stage::AcidSulfite],
        after: &[Stage::Agent, Stage::AlkaliSolubleAgent, Stage::Amidol],
        applies: |contents| developer(contents) && !contents.sulfite,
        must: always,
        why: "the bisulfite already in protects it from the air",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "bisulfite-before-agents-with-sulfite",
        before: &[Stage::AcidSulfite],
        after: &[Stage::Agent, Stage::AlkaliSolubleAgent, Stage::Amidol],
        applies: |contents| developer(contents) && contents.sulfite,
        must: never,
        why: "the whole preservative goes in before it",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "bisulfite-beside-metol",
        before: &[Stage::AcidSulfite],
        after: &[Stage::MetolLike],
        applies: |contents| developer(contents) && !contents.sulfite,
        must: never,
        why: "the bisulfite protects it from the air and lets it dissolve, as sulfite would not",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "ascorbate-before-metol",
        before: &[Stage::AscorbicAcid],
        after: &[Stage::MetolLike, Stage::SlowAgent],
        applies: |contents| contents.ascorbate_guard,
        must: |contents| contents.metol,
        why: "no sulfite here: the ascorbic acid protects it from the air",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "carbonate-before-ascorbic-acid",
        before: &[Stage::Alkali, Stage::Caustic],
        after: &[Stage::AscorbicAcid],
        applies: |contents| contents.carbonate,
        must: always,
        why: "after the carbonate, a little at a time: it foams",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "amine-before-ascorbic-acid",
        before: &[Stage::Alkali],
        after: &[Stage::AscorbicAcid],
        applies: |contents| contents.amine,
        must: never,
        why: "after the amine, in which it dissolves as its salt",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "ascorbate-before-agents",
        before: &[Stage::AscorbicAcid],
        after: &[Stage::Agent],
        applies: |contents| contents.ascorbate_guard,
        must: never,
        why: "no sulfite here: the ascorbic acid protects it from the air",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "agents-before-alkali",
        before: &[Stage::MetolLike, Stage::Agent],
        after: &[Stage::Alkali, Stage::Caustic],
        applies: guarded_by_sulfite,
        must: always,
        why: "after the agents: air attacks them at once in alkali",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "agents-before-caustic",
        before: &[Stage::MetolLike, Stage::Agent],
        after: &[Stage::Caustic],
        applies: guarded_by_sulfite,
        must: always,
        why: "after the agents have dissolved",
        source: "S. Anchell, The Darkroom Cookbook, 3rd edition, 2008, page 193",
    },
    Rule {
        name: "ascorbic-acid-before-alkali",
        before: &[Stage::AscorbicAcid],
        after: &[Stage::Alkali, Stage::Caustic],
        applies: |contents| developer(contents) && !contents.carbonate && !contents.amine,
        must: never,
        why: "",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "alkali-before-glycin",
        before: &[Stage::Alkali],
        after: &[Stage::AlkaliSolubleAgent],
        applies: developer,
        must: |contents| !contents.sulfite,
        why: "it dissolves only in alkali or sulfite",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "alkali-before-phenidone",
        before: &[Stage::Alkali, Stage::Caustic, Stage::Sulfite],
        after: &[Stage::SlowAgent],
        applies: always,
        must: never,
        why: "late: slow to wet, it dissolves better in alkali",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "alkali-before-caustic",
        before: &[Stage::Alkali],
        after: &[Stage::Caustic],
        applies: developer,
        must: never,
        why: "after the milder alkali",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "amidol-last",
        before: &[
            Stage::Sulfite,
            Stage::AcidSulfite,
            Stage::WeakAcid,
            Stage::Salt,
            Stage::Halide,
            Stage::Restrainer,
            Stage::Antifoggant,
        ],
        after: &[Stage::Amidol],
        applies: always,
        must: never,
        why: "last: it works without alkali and spoils first",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "restrainers-last",
        before: ALL_ACTIVE,
        after: &[Stage::Restrainer, Stage::Antifoggant],
        applies: developer,
        must: never,
        why: "",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "aldehyde-into-sulfite",
        before: &[Stage::Sulfite],
        after: &[Stage::Aldehyde],
        applies: developer,
        must: always,
        why: "the sulfite binds the formaldehyde as it is set free",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "acid-before-agents-with-aldehyde",
        before: &[Stage::AcidSulfite, Stage::WeakAcid, Stage::Buffer],
        after: AGENTS,
        applies: |contents| developer(contents) && contents.aldehyde,
        must: always,
        why: "sulfite that has bound formaldehyde is strongly alkaline until the acid is in",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "sequestrant-first",
        before: &[Stage::Sequestrant],
        after: ALL_ACTIVE,
        applies: always,
        must: never,
        why: "it binds the calcium of hard water before anything can settle with it",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "chrome-alum-last",
        before: &[Stage::Thiosulfate, Stage::Sulfite, Stage::AcidSulfite, Stage::WeakAcid, Stage::Buffer],
        after: &[Stage::ChromeAlum],
        applies: |contents| contents.family == Family::Fixer,
        must: always,
        why: "chrome alum last, from its own cool solution",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "acid-before-alum",
        before: &[Stage::WeakAcid, Stage::StrongAcid, Stage::AcidSulfite],
        after: &[Stage::Alum, Stage::ChromeAlum],
        applies: |contents| contents.sulfite || contents.acid_sulfite,
        must: always,
        why: "after the acid: in sulfite alone, alum makes a white sludge",
        source: "Studio Light, 1916, article on stock solution of hardener",
    },
    Rule {
        name: "thiosulfate-before-acid",
        before: &[Stage::Thiosulfate],
        after: &[Stage::AcidSulfite, Stage::WeakAcid, Stage::StrongAcid, Stage::Alum, Stage::ChromeAlum],
        applies: fixer,
        must: always,
        why: "the hypo is now dissolved, cool and protected by sulfite",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "sulfite-before-acid",
        before: &[Stage::Sulfite],
        after: &[Stage::WeakAcid, Stage::StrongAcid, Stage::Alum, Stage::ChromeAlum],
        applies: always,
        must: always,
        why: "after the sulfite, which takes up the acid",
        source: "S. Anchell, The Darkroom Cookbook, 3rd edition, 2008, page 171",
    },
    Rule {
        name: "acid-before-borate-in-fixer",
        before: &[Stage::WeakAcid],
        after: &[Stage::Alkali, Stage::Buffer],
        applies: |contents| contents.alum && contents.family != Family::Developer,
        must: never,
        why: "after the acid and before the alum, whose aluminium it helps to hold",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "boric-acid-before-alum",
        before: &[Stage::Buffer, Stage::Alkali],
        after: &[Stage::Alum, Stage::ChromeAlum],
        applies: |contents| contents.family != Family::Developer,
        must: never,
        why: "before the alum, which goes in last",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "thiosulfate-first",
        before: &[Stage::Thiosulfate],
        after: &[Stage::Sulfite, Stage::Halide, Stage::Buffer, Stage::Alkali],
        applies: fixer,
        must: never,
        why: "",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "selenium-into-sulfite",
        before: &[Stage::Sulfite],
        after: &[Stage::Toner],
        applies: |contents| contents.family == Family::Other,
        must: always,
        why: "it dissolves only in hot sulfite",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "selenium-before-salts",
        before: &[Stage::Toner],
        after: &[Stage::Halide, Stage::Salt],
        applies: |contents| contents.family == Family::Other && contents.sulfite,
        must: never,
        why: "after the selenium, which needs the hot sulfite to itself",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "iodide-before-iodine",
        before: &[Stage::Halide, Stage::Restrainer],
        after: &[Stage::Iodine],
        applies: |contents| contents.iodide,
        must: always,
        why: "into the strong iodide: in plain water it does not dissolve",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "acid-before-permanganate",
        before: &[Stage::StrongAcid],
        after: &[Stage::Permanganate],
        applies: always,
        must: always,
        why: "dissolved, into the cool dilute acid: crystals and strong acid explode",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "salts-before-strong-acid",
        before: &[Stage::Salt, Stage::Halide, Stage::Oxidiser, Stage::Toner, Stage::Buffer],
        after: &[Stage::StrongAcid],
        applies: always,
        must: never,
        why: "last and slowly: the large volume takes up the heat",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "thiocyanate-before-gold",
        before: &[Stage::Halide, Stage::Alkali],
        after: &[Stage::NobleMetal],
        applies: |contents| contents.family == Family::Other,
        must: never,
        why: "the gold last and slowly, so that it stays dissolved",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "gold-before-thiourea",
        before: &[Stage::NobleMetal],
        after: &[Stage::Toner],
        applies: |contents| contents.family == Family::Other,
        must: never,
        why: "into the gold, until the first precipitate has dissolved again",
        source: COMMON_PRACTICE,
    },
    Rule {
        name: "wetting-agent-last",
        before: ALL_ACTIVE,
        after: &[Stage::WettingAgent],
        applies: always,
        must: never,
        why: "last: it foams when stirred",
        source: COMMON_PRACTICE,
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sequence::tests::items;

    const SULFITE: (&str, &str) = ("sodium-sulfite-anhydrous", "grams = 20");
    const BISULFITE: (&str, &str) = ("sodium-bisulfite", "grams = 20");
    const AGENT: (&str, &str) = ("hydroquinone", "grams = 5");
    const ASCORBIC: (&str, &str) = ("ascorbic-acid", "grams = 10");
    const CARBONATE: (&str, &str) = ("sodium-carbonate-anhydrous", "grams = 20");
    const AMINE: (&str, &str) = ("triethanolamine", "millilitres = 20");
    const ALUM: (&str, &str) = ("potassium-alum-dodecahydrate", "grams = 20");
    const HYPO: (&str, &str) = ("sodium-thiosulfate-pentahydrate", "grams = 200");
    const ALDEHYDE: (&str, &str) = ("paraformaldehyde", "grams = 7");

    /// Whether a rule applies, and whether it must.
    fn applies(name: &str, ingredients: &[(&str, &str)]) -> (bool, bool) {
        let rule = RULES.iter().find(|rule| rule.name == name).unwrap();
        let contents = Contents::of(&items(ingredients));
        ((rule.applies)(&contents), (rule.must)(&contents))
    }

    #[test]
    fn a_rule_applies_where_its_reason_does() {
        // Sources stand beside each rule.
        for (name, there, not_there) in [
            (
                "bisulfite-before-agents",
                &[&[AGENT, BISULFITE][..]][..],
                &[&[AGENT, BISULFITE, SULFITE][..], &[BISULFITE]][..],
            ),
            (
                "bisulfite-before-agents-with-sulfite",
                &[&[AGENT, SULFITE]],
                &[&[AGENT, BISULFITE], &[SULFITE]],
            ),
            ("bisulfite-beside-metol", &[&[AGENT, BISULFITE]], &[&[AGENT, SULFITE], &[BISULFITE]]),
            ("carbonate-before-ascorbic-acid", &[&[ASCORBIC, CARBONATE]], &[&[ASCORBIC, AMINE]]),
            ("amine-before-ascorbic-acid", &[&[ASCORBIC, AMINE]], &[&[ASCORBIC, CARBONATE]]),
            // The agents wait in acid or sulfite, until the alkali; ascorbate guards them in it.
            ("agents-before-alkali", &[&[AGENT, SULFITE]], &[&[ASCORBIC, AGENT], &[SULFITE]]),
            (
                "ascorbic-acid-before-alkali",
                &[&[ASCORBIC, AGENT]],
                &[&[ASCORBIC, CARBONATE], &[ASCORBIC, AMINE], &[SULFITE]],
            ),
            (
                "acid-before-agents-with-aldehyde",
                &[&[AGENT, ALDEHYDE, SULFITE]],
                &[&[AGENT, SULFITE], &[ALDEHYDE]],
            ),
            ("thiosulfate-before-acid", &[&[HYPO]], &[&[AGENT, HYPO], &[SULFITE]]),
            ("chrome-alum-last", &[&[HYPO]], &[&[AGENT, HYPO], &[SULFITE]]),
            // In sulfite, of either kind, alum makes a sludge before the acid is in.
            ("acid-before-alum", &[&[SULFITE], &[BISULFITE]], &[&[ALUM]]),
            ("acid-before-borate-in-fixer", &[&[HYPO, ALUM], &[ALUM]], &[&[HYPO], &[AGENT, ALUM]]),
            ("boric-acid-before-alum", &[&[HYPO], &[ALUM]], &[&[AGENT]]),
            ("selenium-into-sulfite", &[&[SULFITE]], &[&[AGENT, SULFITE], &[HYPO]]),
            ("selenium-before-salts", &[&[SULFITE]], &[&[ALUM], &[AGENT, SULFITE], &[HYPO, SULFITE]]),
            ("thiocyanate-before-gold", &[&[ALUM]], &[&[AGENT], &[HYPO]]),
            ("gold-before-thiourea", &[&[ALUM]], &[&[AGENT], &[HYPO]]),
        ] {
            for ingredients in there {
                assert!(applies(name, ingredients).0, "{name}: {ingredients:?}");
            }
            for ingredients in not_there {
                assert!(!applies(name, ingredients).0, "{name}: {ingredients:?}");
            }
        }
        // Glycin dissolves in sulfite as well, so the alkali need not be first; metol alone makes the ascorbic acid a must.
        assert!(
            applies("alkali-before-glycin", &[AGENT]).1
                && !applies("alkali-before-glycin", &[AGENT, SULFITE]).1
        );
        assert!(applies("ascorbate-before-metol", &[ASCORBIC, ("metol", "grams = 2")]).1);
        assert!(!applies("ascorbate-before-metol", &[ASCORBIC, AGENT]).1);
    }
}
