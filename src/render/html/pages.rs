//! Pieces of known height are laid on pages: what belongs together stays together, and every page knows its number.
//!
//! Browsers number printed pages only in margins that some do not print. So the pages are made here, as boxes that fit both A4 and
//! Letter, and numbered in their own text. The heights are upper estimates ([`crate::lettering`]): a page may end a little early, never late.

/// A piece of a document on its way to a page.
#[derive(Debug)]
pub(super) enum Flow {
    /// Never split.
    Whole {
        /// Markup.
        html: String,
        /// Height, mm.
        height_mm: f64,
        /// Whether the next piece must stand on the same page.
        keeps_with_next: bool,
    },
    /// Split only between its rows; what opens and closes it is repeated on each page.
    Rows {
        /// Markup before the rows, a heading row included.
        open: String,
        /// Markup after the rows.
        close: &'static str,
        /// Height of what opens and closes it, mm.
        around_mm: f64,
        /// Rows with their heights, mm.
        rows: Vec<(String, f64)>,
        /// Whether a short one is not split.
        kept_whole: bool,
    },
}

impl Flow {
    /// A piece that is never split.
    pub(super) fn whole(html: String, height_mm: f64) -> Self {
        Self::Whole { html, height_mm, keeps_with_next: false }
    }

    /// Height of all of it.
    fn height_mm(&self) -> f64 {
        match self {
            Self::Whole { height_mm, .. } => *height_mm,
            Self::Rows { around_mm, rows, .. } => {
                around_mm + rows.iter().map(|(_, height)| height).sum::<f64>()
            }
        }
    }
}

/// A page.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Page {
    /// Markup.
    pub(super) html: String,
    /// How many sheets of paper it takes; more than one only where a single piece is higher than a page.
    pub(super) sheets: u32,
}

/// Up to this share of a page rows that are kept whole are not split.
const KEPT_WHOLE: f64 = 0.5;

/// The steps under one heading, with the heading: places among the pieces.
#[derive(Debug)]
pub(super) struct Chapter {
    /// Its heading.
    pub(super) start: usize,
    /// After the steps that stand together where it begins.
    pub(super) least_end: usize,
    /// After its last step.
    pub(super) end: usize,
}

/// Lays pieces on pages of a height. A chapter that fits on one page stands on one, where that takes no sheet more.
pub(super) fn lay(flows: &[Flow], chapters: &[Chapter], room_mm: f64) -> Vec<Page> {
    let sheets = |pages: &[Page]| -> u32 { pages.iter().map(|page| page.sheets).sum() };
    let mut together: Vec<(usize, usize)> =
        chapters.iter().map(|chapter| (chapter.start, chapter.least_end)).collect();
    let mut pages = lay_with(flows, &together, room_mm);
    for (index, chapter) in chapters.iter().enumerate() {
        if height_mm(flows, chapter.start, chapter.end) > room_mm {
            continue;
        }
        let mut other = together.clone();
        if let Some(own) = other.get_mut(index) {
            own.1 = chapter.end;
        }
        let laid = lay_with(flows, &other, room_mm);
        if sheets(&laid) <= sheets(&pages) {
            (pages, together) = (laid, other);
        }
    }
    pages
}

/// Height of the pieces from one place up to another.
fn height_mm(flows: &[Flow], start: usize, end: usize) -> f64 {
    flows.get(start..end).unwrap_or_default().iter().map(Flow::height_mm).sum()
}

/// Lays pieces on pages; from the first of each pair up to the second they stand on one page, if that is high enough.
fn lay_with(flows: &[Flow], together: &[(usize, usize)], room_mm: f64) -> Vec<Page> {
    let mut desk = Desk { pages: Vec::new(), html: String::new(), used_mm: 0.0, room_mm };
    for (index, flow) in flows.iter().enumerate() {
        let least = least_mm(flows.get(index..).unwrap_or_default(), room_mm);
        let end = together.iter().find(|(start, _)| *start == index).map_or(index, |(_, end)| *end);
        let all = height_mm(flows, index, end);
        let needs_mm = if all <= room_mm { all.max(least) } else { least };
        if !desk.has_room(needs_mm) {
            desk.turn();
        }
        match flow {
            Flow::Whole { html, height_mm, .. } => desk.put(html, *height_mm),
            Flow::Rows { open, close, around_mm, rows, .. } => desk.put_rows(open, close, *around_mm, rows),
        }
    }
    desk.turn();
    desk.pages
}

/// The least height that the first of these pieces needs on a page, with what must stand beside it.
fn least_mm(flows: &[Flow], room_mm: f64) -> f64 {
    let Some((first, rest)) = flows.split_first() else { return 0.0 };
    match first {
        Flow::Whole { height_mm, keeps_with_next: true, .. } => {
            let together = height_mm + least_mm(rest, room_mm);
            if together > room_mm { *height_mm } else { together }
        }
        Flow::Whole { height_mm, .. } => *height_mm,
        Flow::Rows { kept_whole: true, .. } if first.height_mm() <= KEPT_WHOLE * room_mm => first.height_mm(),
        Flow::Rows { around_mm, rows, .. } => around_mm + rows.first().map_or(0.0, |(_, height)| *height),
    }
}

struct Desk {
    pages: Vec<Page>,
    html: String,
    used_mm: f64,
    room_mm: f64,
}

impl Desk {
    fn has_room(&self, height_mm: f64) -> bool {
        self.html.is_empty() || self.used_mm + height_mm <= self.room_mm
    }

    fn put(&mut self, html: &str, height_mm: f64) {
        self.html.push_str(html);
        self.html.push('\n');
        self.used_mm += height_mm;
    }

    fn put_rows(&mut self, open: &str, close: &str, around_mm: f64, rows: &[(String, f64)]) {
        self.put(open, around_mm);
        for (index, (row, height_mm)) in rows.iter().enumerate() {
            if index > 0 && !self.has_room(*height_mm) {
                self.html.push_str(close);
                self.turn();
                self.put(open, around_mm);
            }
            self.put(row, *height_mm);
        }
        self.html.push_str(close);
        self.html.push('\n');
    }

    /// Ends the page.
    fn turn(&mut self) {
        if self.html.is_empty() {
            return;
        }
        let mut sheets = 1;
        while f64::from(sheets) * self.room_mm < self.used_mm {
            sheets += 1;
        }
        self.pages.push(Page { html: std::mem::take(&mut self.html), sheets });
        self.used_mm = 0.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(name: &str, height_mm: f64) -> Flow {
        Flow::whole(name.to_owned(), height_mm)
    }

    fn heading(name: &str, height_mm: f64) -> Flow {
        Flow::Whole { html: name.to_owned(), height_mm, keeps_with_next: true }
    }

    fn words(flows: &[Flow]) -> Vec<String> {
        lay(flows, &[], 100.0)
            .into_iter()
            .map(|page| page.html.split_whitespace().collect::<Vec<_>>().join(" "))
            .collect()
    }

    #[test]
    fn a_piece_that_does_not_fit_goes_to_the_next_page() {
        assert_eq!(words(&[piece("a", 60.0), piece("b", 40.0), piece("c", 1.0)]), ["a b", "c"]);
        assert!(lay(&[], &[], 100.0).is_empty());
    }

    #[test]
    fn a_heading_never_stands_last_on_a_page() {
        assert_eq!(words(&[piece("a", 80.0), heading("h", 10.0), piece("b", 20.0)]), ["a", "h b"]);
        let chain = [piece("a", 60.0), heading("h", 10.0), heading("caution", 10.0), piece("step", 30.0)];
        assert_eq!(words(&chain), ["a", "h caution step"]);
    }

    #[test]
    fn rows_are_split_between_rows_and_opened_again() {
        let rows = Flow::Rows {
            open: "<t>".to_owned(),
            close: "</t>",
            around_mm: 10.0,
            rows: (1..=5).map(|number| (number.to_string(), 30.0)).collect(),
            kept_whole: true,
        };
        assert_eq!(words(&[rows]), ["<t> 1 2 3 </t>", "<t> 4 5 </t>"]);
    }

    #[test]
    fn short_rows_are_kept_whole_where_they_must() {
        let rows = |kept_whole| Flow::Rows {
            open: "<t>".to_owned(),
            close: "</t>",
            around_mm: 0.0,
            rows: vec![("1".to_owned(), 20.0), ("2".to_owned(), 20.0)],
            kept_whole,
        };
        assert_eq!(words(&[piece("a", 70.0), rows(true)]), ["a", "<t> 1 2 </t>"]);
        assert_eq!(words(&[piece("a", 70.0), rows(false)]), ["a <t> 1 </t>", "<t> 2 </t>"]);
    }

    #[test]
    fn a_chapter_stands_on_one_page_where_that_takes_no_sheet_more_and_begins_with_several_steps() {
        let laid = |before_mm: f64, after_mm: f64| {
            let step = |name| piece(name, 20.0);
            let steps = [heading("h", 10.0), step("1"), step("2"), step("3")];
            let mut flows = vec![piece("a", before_mm)];
            flows.extend(steps);
            flows.push(piece("b", after_mm));
            let chapter = Chapter { start: 1, least_end: 4, end: 5 };
            let pages = lay(&flows, &[chapter], 100.0).into_iter();
            pages.map(|page| page.html.split_whitespace().collect::<Vec<_>>().join(" ")).collect::<Vec<_>>()
        };
        assert_eq!(laid(30.0, 60.0), ["a h 1 2 3", "b"]);
        assert_eq!(laid(40.0, 30.0), ["a", "h 1 2 3 b"]);
        assert_eq!(laid(40.0, 60.0), ["a h 1 2", "3 b"], "a third page is not worth it");
        assert_eq!(laid(60.0, 60.0), ["a", "h 1 2 3", "b"], "one step alone is worth a page");
        let flows =
            [piece("a", 40.0), heading("h", 10.0), piece("1", 30.0), piece("2", 30.0), piece("3", 60.0)];
        let pages = lay(&flows, &[Chapter { start: 1, least_end: 4, end: 5 }], 100.0);
        assert!(pages[1].html.starts_with('h'), "higher than a page, it begins with several steps too");
    }

    #[test]
    fn a_piece_higher_than_a_page_has_a_page_box_of_its_own_and_counts_its_sheets() {
        let pages = lay(&[piece("a", 10.0), piece("b", 250.0), piece("c", 10.0)], &[], 100.0);
        let sheets: Vec<u32> = pages.iter().map(|page| page.sheets).collect();
        assert_eq!(sheets, [1, 3, 1]);
    }
}
