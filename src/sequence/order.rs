//! A stable topological order of ingredients under rules; ties by rank, then id, never by the file's order.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::rules::{RULES, Rule};
use super::stage::{Contents, Family, Stage};

/// An ingredient, or the pinch taken from one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Node {
    /// Id of the form; the tie-breaker.
    pub(super) id: String,
    /// Place among the part's items.
    pub(super) item: usize,
    /// What it is to the order.
    pub(super) stage: Stage,
}

/// That one node goes before another.
#[derive(Clone, Copy)]
pub(super) struct Edge {
    pub(super) before: usize,
    pub(super) after: usize,
    pub(super) rule: &'static Rule,
    pub(super) must: bool,
}

/// Why there is no order: the rules that contradict each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Contradiction {
    pub(super) ids: Vec<String>,
    pub(super) rules: Vec<&'static str>,
}

/// All constraints among nodes; a preference that contradicts what stands already is left out.
pub(super) fn edges(nodes: &[Node], contents: &Contents) -> Vec<Edge> {
    let mut edges = Vec::new();
    for wanted in [true, false] {
        for rule in RULES.iter().filter(|rule| (rule.applies)(contents) && (rule.must)(contents) == wanted) {
            for (before, first) in nodes.iter().enumerate() {
                for (after, second) in nodes.iter().enumerate() {
                    if before == after
                        || !rule.before.contains(&first.stage)
                        || !rule.after.contains(&second.stage)
                    {
                        continue;
                    }
                    if wanted || !reaches(&edges, after, before, nodes.len()) {
                        edges.push(Edge { before, after, rule, must: wanted });
                    }
                }
            }
        }
    }
    edges
}

/// Whether there is a chain of edges from one node to another.
pub(super) fn reaches(edges: &[Edge], from: usize, to: usize, count: usize) -> bool {
    let mut seen = vec![false; count];
    let mut stack = vec![from];
    while let Some(node) = stack.pop() {
        if node == to {
            return true;
        }
        let Some(mark) = seen.get_mut(node) else { continue };
        if std::mem::replace(mark, true) {
            continue;
        }
        stack.extend(edges.iter().filter(|edge| edge.before == node).map(|edge| edge.after));
    }
    false
}

/// The order: indices of nodes.
pub(super) fn order(nodes: &[Node], edges: &[Edge], family: Family) -> Result<Vec<usize>, Contradiction> {
    let mut waiting: Vec<usize> =
        (0..nodes.len()).map(|node| edges.iter().filter(|edge| edge.after == node).count()).collect();
    let key = |node: usize| {
        nodes.get(node).map(|own| Reverse((own.stage.rank(family), own.id.as_str(), own.item, node)))
    };
    let mut ready: BinaryHeap<_> = waiting
        .iter()
        .enumerate()
        .filter(|(_, count)| **count == 0)
        .filter_map(|(node, _)| key(node))
        .collect();
    let mut order = Vec::with_capacity(nodes.len());
    while let Some(Reverse((_, _, _, node))) = ready.pop() {
        order.push(node);
        for edge in edges.iter().filter(|edge| edge.before == node) {
            if let Some(count) = waiting.get_mut(edge.after) {
                *count -= 1;
                if *count == 0 {
                    ready.extend(key(edge.after));
                }
            }
        }
    }
    if order.len() == nodes.len() {
        return Ok(order);
    }
    let stuck = |node: &usize| !order.contains(node);
    let ids = (0..nodes.len())
        .filter(stuck)
        .filter_map(|node| nodes.get(node))
        .map(|node| node.id.clone())
        .collect();
    let mut rules: Vec<&'static str> = edges
        .iter()
        .filter(|edge| stuck(&edge.before) && stuck(&edge.after))
        .map(|edge| edge.rule.name)
        .collect();
    rules.sort_unstable();
    rules.dedup();
    Err(Contradiction { ids, rules })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sequence::rules::RULES;

    #[test]
    fn a_chain_leads_forward_only() {
        let rule = &RULES[0];
        let edge = |before, after| Edge { before, after, rule, must: true };
        let chain = [edge(0, 1), edge(1, 2)];
        assert!(reaches(&chain, 0, 2, 3) && reaches(&chain, 1, 2, 3));
        assert!(!reaches(&chain, 2, 0, 3) && !reaches(&[], 0, 1, 2));
        // A circle ends.
        assert!(!reaches(&[edge(0, 1), edge(1, 0)], 0, 2, 3));
    }

    #[test]
    fn rules_that_contradict_each_other_are_named_once_with_what_they_hold_up() {
        let (first, second) = (&RULES[0], &RULES[1]);
        let node = |id: &str, item| Node { id: id.to_owned(), item, stage: Stage::Salt };
        let nodes = [node("a", 0), node("b", 1), node("c", 2), node("d", 3)];
        let edge = |before, after, rule| Edge { before, after, rule, must: true };
        // A circle of the first two by one rule; the third goes before it by another, the fourth waits for nothing.
        let circle = [edge(0, 1, first), edge(1, 0, first), edge(2, 0, second)];
        let stuck = order(&nodes, &circle, Family::Other).unwrap_err();
        assert_eq!((stuck.ids, stuck.rules), (vec!["a".to_owned(), "b".to_owned()], vec![first.name]));
        assert_eq!(order(&nodes, &circle[2..], Family::Other), Ok(vec![1, 2, 0, 3]), "ties go by id");
    }

    #[test]
    fn a_custom_gives_way_to_what_must_be() {
        use crate::sequence::tests::items;
        // Custom has the alkali before phenidone, and amidol last; what must be has the preservative before any agent.
        let contents =
            Contents::of(&items(&[("phenidone", "grams = 2"), ("sodium-sulfite-anhydrous", "grams = 20")]));
        let node = |id: &str, item, stage| Node { id: id.to_owned(), item, stage };
        let nodes = [node("phenidone", 0, Stage::SlowAgent), node("sulfite", 1, Stage::Sulfite)];
        let edges = edges(&nodes, &contents);
        assert!(
            edges.iter().all(|own| (own.before, own.after) == (1, 0)),
            "none of itself, none the other way"
        );
        assert!(edges.iter().any(|own| own.must) && edges.iter().any(|own| !own.must));
    }
}
