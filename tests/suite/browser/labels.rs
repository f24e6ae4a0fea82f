//! The labels of the library as a browser makes them: sizes of type, and nothing over anything else.

use std::fs;

use super::browser;
use crate::common::shipped::{Shipped, shipped};
use soupcon::label::Label;
use soupcon::render::label::{Placing, check, label_sheet_html};

/// Source: the specification of the label: statements 9 points, name 20, foot 7. The browser's computed styles say whether what was computed is
/// what is printed: no word but those of the foot in less than 9 points, nothing wider or higher than its label, hazards above the date.
#[test]
#[ignore = "needs chromium"]
fn no_word_of_a_label_is_below_nine_points_but_its_foot() {
    const LOOK: &str = r"<script>window.onload = () => {
        const bad = [];
        const size = (element) => Math.round(parseFloat(getComputedStyle(element).fontSize) * 0.75 * 4) / 4;
        let words = 0, names = 0, large = 0;
        [...document.querySelectorAll('.label')].forEach((label, index) => {
            const told = (text) => bad.push('label ' + index + ': ' + text);
            const own = label.getBoundingClientRect();
            const walk = document.createTreeWalker(label, NodeFilter.SHOW_TEXT);
            while (walk.nextNode()) {
                if (!walk.currentNode.textContent.trim()) continue;
                words += 1;
                const points = size(walk.currentNode.parentElement);
                const least = walk.currentNode.parentElement.closest('.foot') ? 7 : walk.currentNode.parentElement.closest('.days > b') ? 8 : 9;
                if (points < least) told(points + ' points: ' + walk.currentNode.textContent.slice(0, 40));
            }
            const name = size(label.querySelector('.top b'));
            names += 1;
            large += name === 20 ? 1 : 0;
            const body = label.querySelector('.body'), range = document.createRange();
            range.selectNodeContents(body);
            const date = label.querySelector('.date').getBoundingClientRect();
            for (const box of range.getClientRects())
                if (box.bottom > date.top + 1) { told('hazards run into the date'); break; }
            if (label.scrollHeight > own.height + 1 || label.scrollWidth > own.width + 1) told('more than its label holds');
        });
        document.body.textContent = 'looked at ' + words + ' in ' + names + ', names of 20: ' + large + ', found ' + bad.length + ': ' + bad.slice(0, 20).join('; ');
    };</script>";
    let Shipped { sheets, batches } = shipped();
    let placing = Placing { first: 0, shift_mm: (0.0, 0.0), outline: false };
    for size in sheets.sheets.iter().filter(|own| own.width >= 99.0) {
        let all = batches.iter().flat_map(|(_, labels)| labels);
        let fit: Vec<Label> = all.filter(|label| check(label, size, sheets).is_ok()).cloned().collect();
        let html = label_sheet_html(&fit, size, sheets, &placing).unwrap();
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("page.html"), html.replace("</body>", &format!("{LOOK}</body>")))
            .unwrap();
        let tree = browser(folder.path(), &["--window-size=1200,900", "--dump-dom", "page.html"]);
        let tree = String::from_utf8(tree).unwrap();
        let found = &tree[tree.rfind("<body").unwrap_or(0)..];
        println!("{}: {found}", size.size);
        assert!(found.contains(&format!(" in {}, ", fit.len())) && found.contains("found 0:"), "{found}");
    }
}
