//! Length of what is read at the bench, over the whole library.

use crate::common::in_process;
use crate::common::shipped::shipped;

/// Most words of a sentence at the bench. Source: the style guide of the house.
const MOST_WORDS: usize = 12;

/// The pieces of markup between two marks.
fn between<'t>(html: &'t str, start: &str, end: &str) -> Vec<&'t str> {
    html.split(start).skip(1).filter_map(|piece| piece.split(end).next()).collect()
}

/// Text without tags, and with plain blanks.
fn plain(html: &str) -> String {
    let mut text = String::new();
    for piece in html.split('<') {
        text.push(' ');
        text.push_str(piece.split_once('>').map_or(piece, |(_, text)| text));
    }
    text.replace('\u{a0}', " ")
}

/// Sentences of a text: a colon or a semicolon ends one as well.
fn sentences(text: &str) -> impl Iterator<Item = &str> {
    let ends = [". ", "! ", "? ", "; ", ": ", " · "];
    let mut all = vec![text];
    for end in ends {
        all = all.into_iter().flat_map(|piece| piece.split(end)).collect();
    }
    all.into_iter().filter(|piece| !piece.trim().is_empty())
}

/// Cautions, signs, what is read before a jar is opened, gas, first aid and uses; of the box above the table not the lists of what is worn and minded,
/// of the uses not the list of days for which it keeps, of what stands below not the list of what is poured together.
#[test]
fn a_sentence_at_the_bench_has_at_most_twelve_words() {
    let (mut long, mut seen) = (Vec::new(), 0);
    for (mixing, _) in &shipped().batches {
        let id = mixing.formula.id.as_str();
        let html = in_process(&["sheet", id, "1L", "--format", "html", "--side", "bench"]).out;
        let mut texts: Vec<String> = Vec::new();
        for bar in between(&html, "<div class=\"bar", "</div>") {
            let bar = bar.split_once('>').map_or("", |(_, rest)| rest);
            let own = bar.replace("<p", "\u{1}<p").replace("<span", "\u{1}<span");
            texts.extend(own.split('\u{1}').map(plain));
        }
        texts.extend(
            between(&html, "<td class=\"do\"><b>", "</td>")
                .iter()
                .filter_map(|cell| cell.split_once("</b>").map(|(_, sign)| plain(sign))),
        );
        for line in between(&html, "<b>", "</span>") {
            let Some((label, text)) = line.split_once("</b><span>") else { continue };
            if ["NEVER", "BEFORE", "GAS", "EYES", "SKIN", "MOUTH", "AIR", "READY"].contains(&label) {
                texts.push(plain(text));
            }
        }
        for uses in between(&html, "<div class=\"uses", "</div>\n") {
            let lines = between(uses, "<p>", "</p>").into_iter().map(plain);
            texts.extend(lines.filter(|line| !line.contains("full bottle")));
        }
        for text in &texts {
            for sentence in sentences(text) {
                let words = sentence.split_whitespace().filter(|word| word.contains(char::is_alphanumeric));
                seen += 1;
                if words.count() > MOST_WORDS {
                    long.push(format!("{id}: {}", sentence.trim()));
                }
            }
        }
    }
    assert!(seen > 7000, "only {seen} sentences are read");
    long.sort();
    assert!(long.is_empty(), "{} of {seen}:\n{}", long.len(), long.join("\n"));
}
