//! Headings and Markdown: what is written is what is read, whatever a text begins with.

use soupcon::render::{Document, TextStyle, to_markdown, to_text};

#[test]
fn a_heading_in_capitals_leaves_units_what_they_are() {
    let heading = |text: &str| {
        let mut document = Document::new();
        document.heading(text);
        to_text(&document, TextStyle::default()).trim_end().to_owned()
    };
    // SI Brochure, 9th edition, 5.1 and 5.2: unit symbols are written as they are whatever the type around them; m is milli, M is mega.
    assert_eq!(heading("Part A: 1000 mL"), "PART A: 1000 mL");
    assert_eq!(heading("first 5 g, then 2 mol/L of it"), "FIRST 5 g, THEN 2 mol/L OF IT");
    assert_eq!(heading("the pH at 20 °C"), "THE pH AT 20 °C");
    // A word that looks like a unit and follows no number is a word.
    assert_eq!(heading("kept s h and so on"), "KEPT S H AND SO ON");
}

#[test]
fn markdown_keeps_a_list_mark_at_the_beginning_of_a_text_as_text() {
    let mut document = Document::new();
    for text in
        ["- wear gloves", "+ and goggles", "1. of two", "12) of many", "=== so", "  - indented", "-5 °C"]
    {
        document.caution("MIND", vec![text.to_owned()]);
        document.paragraph(text);
        document.list(vec![text.to_owned()]);
    }
    let text = to_markdown(&document);
    // CommonMark 0.31: list items (5.2), thematic breaks (4.1) and setext headings (4.3) begin with these at the start of a line;
    // any ASCII punctuation may be escaped by a backslash (2.4).
    for line in text.lines() {
        let content =
            line.trim_start_matches("> ").strip_prefix("- ").unwrap_or(line.trim_start_matches("> "));
        let is_mark =
            content.starts_with(['-', '+', '=']) || content.starts_with("1.") || content.starts_with("12)");
        assert!(!is_mark, "{line}");
        assert!(!line.trim_start_matches('>').starts_with("  "), "{line:?} may be code");
    }
    for escaped in ["\\- wear gloves", "\\+ and goggles", "1\\. of two", "12\\) of many", "\\- indented"] {
        assert_eq!(text.matches(escaped).count(), 3, "{escaped}: {text}");
    }
    // Ordinary figures at the beginning stay as they are.
    let mut plain = Document::new();
    plain.paragraph("20 °C, 1.5 times");
    assert_eq!(to_markdown(&plain), "20 °C, 1.5 times\n");
}

#[test]
fn markdown_makes_no_link_of_an_address_in_a_text() {
    let mut document = Document::new();
    document.caution("MIND", vec!["see http://x.example/a or www.x.example, ask a@b.example".to_owned()]);
    let text = to_markdown(&document);
    // GFM 0.29, 6.9: what begins with http://, https:// or www. and what holds an @ between names is linked.
    for linked in ["http://", "www.x", "a@b"] {
        assert!(!text.contains(linked), "{text}");
    }
    assert_eq!(
        text.replace('\\', ""),
        "> **MIND**\n>\n> see http://x.example/a or www.x.example, ask a@b.example\n"
    );
}
