//! How the text of a label stands on it: name and part above, pictograms and signal word with the hazards, a rule, the date.
//!
//! A label is dressed as it is drawn where that has room; where it has not, the text is run together around the signal word, name and
//! the rest of the head are set smaller, each by itself, then background is left out. Hazards stand in 9 points and more. What someone acts
//! on stands in every telling; where none has room the label is refused for a larger one. What is no hazard by the rules may at last stand
//! on a short form.

use std::fmt;

use crate::lettering::Lettering;

/// Blank border inside a label, for a printer that is a little off, mm.
pub(crate) const BORDER_MM: f64 = 2.0;
/// Distance of lines over the size of type: 120 % (Regulation (EU) 2024/2865, as told on two consultants' pages).
pub(crate) const SPACING: f64 = 1.2;
/// Distance of lines of a name over its size.
pub(crate) const NAME_SPACING: f64 = 1.05;
/// Height of a line to write on, mm.
pub(crate) const WRITE_IN_MM: f64 = 6.0;
/// Width of a name to write, mm.
pub(crate) const BLANK_MM: f64 = 15.0;
/// Height of a row of boxes for films, mm, and the side of a box.
pub(crate) const TALLY_MM: f64 = 5.0;
/// Size of type of the foot, points.
pub(crate) const SMALL_PT: f64 = 7.0;
/// Between text and pictograms, name and ring, mm.
pub(crate) const GAP_MM: f64 = 1.5;
/// After a paragraph, mm.
pub(crate) const PARAGRAPH_MM: f64 = 0.6;
/// Frame and padding of the signal word beside its letters, mm.
pub(crate) const SIGNAL_SIDES_MM: f64 = 5.0;
/// Frame and padding of the signal word above and below them, mm.
pub(crate) const SIGNAL_BOX_MM: f64 = 2.2;
/// Beside a signal word narrower than this there is no room for text, mm.
const WORD_MM: f64 = 22.0;
/// The rule above the date with its distances, mm.
pub(crate) const RULE_MM: f64 = 1.5;
/// What a browser's rounding moves a line by, mm.
const LEVEL_MM: f64 = 0.4;
/// Least size of what is no hazard and no foot, points; also that of the words around one of two days.
pub(crate) const PLAIN_PT: f64 = 9.0;

/// How large stands what is read across the room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dress {
    /// The name, points.
    pub name_pt: f64,
    /// How it is used, points.
    pub use_pt: f64,
    /// The signal word, points.
    pub signal_pt: f64,
    /// The date, points.
    pub date_pt: f64,
    /// When it was mixed, points.
    pub mixed_pt: f64,
    /// Across the ring of a part, mm.
    pub ring_mm: f64,
    /// The letter in it, points.
    pub ring_pt: f64,
}

impl Dress {
    const fn new(name: f64, used: f64, signal: f64, date: f64, mixed: f64, ring: (f64, f64)) -> Self {
        Self {
            name_pt: name,
            use_pt: used,
            signal_pt: signal,
            date_pt: date,
            mixed_pt: mixed,
            ring_mm: ring.0,
            ring_pt: ring.1,
        }
    }
}

/// Sizes of the name, points: as drawn, and smaller where room is short.
const NAMES_PT: [f64; 7] = [20.0, 18.0, 16.0, 14.0, 13.0, 12.0, 10.5];
/// The rest as drawn, and smaller. The letter in the ring stays large longest: A taken for B is the mistake to prevent.
const DRESSES: [Dress; 7] = [
    Dress::new(20.0, 14.0, 17.0, 16.0, 12.0, (15.0, 30.0)),
    Dress::new(20.0, 13.0, 17.0, 15.0, 12.0, (15.0, 30.0)),
    Dress::new(20.0, 12.0, 15.0, 14.0, 11.0, (15.0, 30.0)),
    Dress::new(20.0, 11.0, 14.0, 13.0, 10.0, (13.5, 27.0)),
    Dress::new(20.0, 10.5, 13.0, 12.0, 10.0, (12.5, 25.0)),
    Dress::new(20.0, PLAIN_PT, 12.0, 11.0, PLAIN_PT, (11.0, 22.0)),
    Dress::new(20.0, PLAIN_PT, 10.5, 9.5, PLAIN_PT, (8.0, 16.0)),
];
/// Nearly as drawn, by steps of name and rest together: rather smaller in them than with fewer words.
const LARGE_STEPS: usize = 3;
/// The short form as drawn, and smaller.
const SHORT_DRESSES: [Dress; 4] = [
    Dress::new(16.0, 10.5, 13.0, 14.0, PLAIN_PT, (12.5, 26.0)),
    Dress::new(14.0, 10.0, 12.0, 13.0, PLAIN_PT, (11.0, 23.0)),
    Dress::new(12.0, PLAIN_PT, 11.0, 12.0, PLAIN_PT, (10.0, 21.0)),
    Dress::new(11.0, PLAIN_PT, 10.0, 10.0, PLAIN_PT, (8.0, 16.0)),
];

/// A paragraph with its first words in bold.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct LabelLine {
    /// In bold; may be empty.
    pub lead: String,
    pub text: String,
}

impl LabelLine {
    /// A plain paragraph.
    pub(crate) fn plain(text: impl Into<String>) -> Self {
        Self { lead: String::new(), text: text.into() }
    }

    /// One with bold first words.
    pub(crate) fn led(lead: &str, text: impl Into<String>) -> Self {
        Self { lead: lead.to_owned(), text: text.into() }
    }

    /// As long as it is with its bold words, in plain letters.
    fn measured(&self) -> String {
        let wider = self.lead.chars().count().div_ceil(10);
        format!("{self}{}", "n".repeat(wider))
    }
}

impl fmt::Display for LabelLine {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.lead.is_empty(), self.text.is_empty()) {
            (true, _) => write!(formatter, "{}", self.text),
            (false, true) => write!(formatter, "{}", self.lead),
            (false, false) => write!(formatter, "{} {}", self.lead, self.text),
        }
    }
}

/// A day, or a span, with the words around it: they stand smaller than the day where two days stand one below the other.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Until {
    pub before: &'static str,
    pub day: String,
    pub after: &'static str,
}

impl Until {
    /// A day, with the words before and after it.
    pub(crate) fn new(before: &'static str, day: impl Into<String>, after: &'static str) -> Self {
        Self { before, day: day.into(), after }
    }

    /// Width with the words in their size, mm.
    fn width_mm(&self, day: Lettering, words_pt: f64) -> f64 {
        let words = Lettering::bold(words_pt, SPACING);
        let own = |text: &str| if text.is_empty() { 0.0 } else { words.width_mm(text) + words.width_mm(" ") };
        own(self.before) + day.width_mm(&self.day) + own(self.after)
    }
}

impl fmt::Display for Until {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words = [self.before, &self.day, self.after];
        let words: Vec<&str> = words.into_iter().filter(|own| !own.is_empty()).collect();
        formatter.write_str(&words.join(" "))
    }
}

/// The text of a label.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Face {
    /// Name, across the top.
    pub title: String,
    /// The part, in a ring beside the name.
    pub ring: Option<String>,
    /// What stands below it, told at length first and then in fewer words.
    pub tellings: Vec<Telling>,
    /// The signal word.
    pub signal: Option<&'static str>,
    /// How many pictograms.
    pub pictograms: usize,
    /// When it was mixed: the word, and the day where it is known; else it is written in.
    pub mixed: LabelLine,
    /// At the left of the foot.
    pub foot: String,
}

/// One way to tell what someone acts on.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Telling {
    /// The short form: the signal word beside its words, no pictograms.
    pub is_short: bool,
    /// What stands under the name: how strong it is and how it is used.
    pub uses: Vec<LabelLine>,
    /// Below that, small: for how long, and what is in the bottle.
    pub detail: String,
    /// Hazards and cautions.
    pub hazards: Vec<LabelLine>,
    /// Whether hazards and cautions stand in one paragraph.
    pub is_run_together: bool,
    /// To which day it is good, large; none where that is not known.
    pub good_to: Vec<Until>,
    /// How long it keeps, and by what that is told.
    pub basis: String,
    /// What stands at the right of the basis, and whether a name is written after it.
    pub beside: (String, bool),
    /// Lines to write on.
    pub write_in: Vec<String>,
    /// Boxes to strike, one a film.
    pub tally: usize,
    /// At the right of the foot; empty where there is no foot.
    pub foot: &'static str,
    /// Background that it leaves out; nothing that someone acts on.
    pub left_out: Vec<&'static str>,
}

impl Telling {
    /// Size of the words around a day of that size: where there are two days, no larger than is read in the hand.
    pub(crate) fn words_pt(&self, date_pt: f64) -> f64 {
        if self.good_to.len() > 1 { date_pt.min(PLAIN_PT) } else { date_pt }
    }

    /// Whether volume and name stand beside the dates, of which there are two; else beside the basis.
    pub(crate) fn is_beside_dates(&self) -> bool {
        !self.is_short && self.good_to.len() > 1
    }
}

/// The label that a face must stand on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct LabelRoom {
    pub width_mm: f64,
    pub height_mm: f64,
    /// Least size of type of hazards, points.
    pub least_pt: f64,
    /// Largest size of type, points.
    pub most_pt: f64,
    /// The only sizes that are wanted: labels of one batch are alike.
    pub dress: Option<Dress>,
    /// Side of a pictogram, mm.
    pub pictogram_mm: f64,
}

/// How a face stands on a label.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layout {
    /// Size of type of hazards, points.
    pub type_pt: f64,
    /// Sizes of what is larger.
    pub dress: Dress,
    /// Letters after which the name goes on below in the size of its use.
    pub name_break: Option<u16>,
    /// Size of the date, points: no larger than that it stands beside the day of mixing.
    pub date_pt: f64,
    pub telling: usize,
    /// Width of the text beside the pictograms, mm.
    pub text_mm: f64,
    /// Whether the text begins beside the signal word, not below it.
    pub is_beside: bool,
    /// Width of the pictograms, mm.
    pub pictures_mm: f64,
    /// From corner to corner of a pictogram, mm.
    pub across_mm: f64,
    /// Height that all of it takes, borders included, mm.
    pub height_mm: f64,
}

/// Corner to corner of a square of this side that stands on its corner, mm.
pub(crate) fn across(side_mm: f64) -> f64 {
    side_mm * std::f64::consts::SQRT_2
}

/// Finds the fullest telling and then the largest type that have room.
///
/// # Errors
/// Nothing has; the layout of the fewest words in the smallest type says how high it would be.
pub(crate) fn lay_out(face: &Face, room: &LabelRoom) -> Result<Layout, Layout> {
    let least_pt = room.least_pt;
    let smallest = smallest();
    // Where the smallest has no room, no larger one has.
    let fits = |telling: usize| has_room(&attempt(face, room, (telling, smallest), least_pt), room);
    let long: Vec<(usize, &Telling)> =
        face.tellings.iter().enumerate().filter(|own| !own.1.is_short).collect();
    let usual: Vec<(usize, &Telling)> = long.into_iter().filter(|own| fits(own.0)).collect();
    let is_whole = |own: &&(usize, &Telling)| own.1.left_out.is_empty();
    let whole: Vec<usize> = usual.iter().filter(is_whole).map(|own| own.0).collect();
    let dresses = room.dress.map_or_else(dresses, |only| vec![(0, only)]);
    let one = |telling: usize, dress: Dress| largest(face, room, (telling, dress), least_pt);
    let large: Vec<Dress> = dresses.iter().filter(|own| own.0 <= LARGE_STEPS).map(|own| own.1).collect();
    // As drawn or nearly, nothing left out; then smaller heads, each with as many words as have room; then less background.
    let found = whole.iter().find_map(|telling| large.iter().find_map(|dress| one(*telling, *dress)));
    let found = found.or_else(|| {
        dresses.iter().find_map(|(_, dress)| whole.iter().find_map(|telling| one(*telling, *dress)))
    });
    let found = found.or_else(|| {
        usual.iter().find_map(|(telling, _)| dresses.iter().find_map(|(_, dress)| one(*telling, *dress)))
    });
    if let Some(layout) = found {
        return Ok(layout);
    }
    let is_wanted = |dress: &Dress| room.dress.is_none_or(|only| only == *dress);
    for (telling, _) in face.tellings.iter().enumerate().filter(|(_, own)| own.is_short) {
        for dress in SHORT_DRESSES.iter().copied().filter(is_wanted) {
            if let Some(layout) = largest(face, room, (telling, dress), PLAIN_PT) {
                return Ok(layout);
            }
        }
    }
    let last = face.tellings.len().saturating_sub(1);
    let is_short = face.tellings.get(last).is_some_and(|own| own.is_short);
    let [.., shortest] = SHORT_DRESSES;
    Err(if is_short {
        attempt(face, room, (last, shortest), PLAIN_PT)
    } else {
        attempt(face, room, (last, smallest), least_pt)
    })
}

/// Every name with every rest, as drawn first; of two with as many steps down the one with the larger name.
fn dresses() -> Vec<(usize, Dress)> {
    let all = DRESSES.iter().enumerate().flat_map(|(rest, dress)| {
        NAMES_PT
            .iter()
            .enumerate()
            .map(move |(name, name_pt)| (name + rest, Dress { name_pt: *name_pt, ..*dress }))
    });
    let mut all: Vec<(usize, Dress)> = all.collect();
    all.sort_by(|one, other| one.0.cmp(&other.0).then(other.1.name_pt.total_cmp(&one.1.name_pt)));
    all
}

/// The smallest name with the smallest rest.
fn smallest() -> Dress {
    let ([.., name_pt], [.., rest]) = (NAMES_PT, DRESSES);
    Dress { name_pt, ..rest }
}

/// The largest type from `least_pt` on that has room.
fn largest(face: &Face, room: &LabelRoom, drawn: (usize, Dress), least_pt: f64) -> Option<Layout> {
    // Where the smallest has no room, no larger one has.
    let mut layout = Some(attempt(face, room, drawn, least_pt)).filter(|own| has_room(own, room))?;
    let mut type_pt = least_pt + 0.5;
    while type_pt <= room.most_pt {
        let next = attempt(face, room, drawn, type_pt);
        if !has_room(&next, room) {
            break;
        }
        layout = next;
        type_pt += 0.5;
    }
    Some(layout)
}

fn has_room(layout: &Layout, room: &LabelRoom) -> bool {
    // A column narrower than a long word has no room for text, whatever its height.
    layout.height_mm <= room.height_mm && layout.text_mm >= 3.0 * layout.type_pt
}

fn attempt(face: &Face, room: &LabelRoom, (telling, dress): (usize, Dress), type_pt: f64) -> Layout {
    let empty = Telling::default();
    let told = face.tellings.get(telling).unwrap_or(&empty);
    let width_mm = room.width_mm - 2.0 * BORDER_MM;
    let (head_mm, name_break) = head(face, told, &dress, width_mm);
    let (date_mm, date_pt) = date_mm(face, told, &dress, width_mm);
    let (left, right) = (&face.foot, told.foot);
    let small = Lettering::regular(SMALL_PT, SPACING);
    let foot_mm = if right.is_empty() {
        0.0
    } else if small.width_mm(left) + small.width_mm(right) + GAP_MM <= width_mm {
        small.line_mm()
    } else {
        small.height_mm(left, width_mm) + small.height_mm(right, width_mm)
    };
    let around_mm = 2.0 * BORDER_MM + head_mm + date_mm + foot_mm;
    let signal = Lettering::bold(dress.signal_pt, 1.0);
    let signal_mm = face.signal.map_or(0.0, |_| signal.line_mm() + SIGNAL_BOX_MM);
    let across_mm = across(room.pictogram_mm);
    let pictograms = if told.is_short { 0 } else { face.pictograms };
    let text = Lettering::regular(type_pt, SPACING);
    let with = |columns: usize| {
        let rows = pictograms.div_ceil(columns.max(1));
        let mut pictures_mm = as_f64(columns) * across_mm + if columns > 0 { GAP_MM } else { 0.0 };
        let mut below_mm = as_f64(rows) * across_mm;
        if told.is_short && face.signal.is_some() {
            let word = face.signal.unwrap_or_default().to_uppercase();
            pictures_mm = signal.width_mm(&word) + SIGNAL_SIDES_MM + GAP_MM;
            below_mm = signal_mm;
        }
        let text_mm = (width_mm - pictures_mm).max(1.0);
        // A signal word wider than the column beside the pictograms stands below them.
        let word_mm = face.signal.map_or(0.0, |own| signal.width_mm(&own.to_uppercase()) + SIGNAL_SIDES_MM);
        // Text that is run together begins beside it, where a word has room there.
        let besides_mm = text_mm - word_mm - GAP_MM;
        let is_beside = told.is_run_together && !told.is_short && word_mm > 0.0 && besides_mm >= WORD_MM;
        let above_mm = match (told.is_short || is_beside, word_mm > text_mm) {
            (true, _) => 0.0,
            (false, true) => below_mm + signal_mm,
            (false, false) => signal_mm,
        };
        // A line that begins level with the foot of the pictograms may still stand beside them.
        let narrow_mm = if below_mm > 0.0 { below_mm + LEVEL_MM } else { 0.0 };
        let signal = if is_beside { (signal_mm + LEVEL_MM, besides_mm) } else { (0.0, text_mm) };
        let mut words =
            Words { text, signal, below_mm: narrow_mm, beside_mm: text_mm, width_mm, height_mm: above_mm };
        if told.is_run_together {
            let all: Vec<String> = told.hazards.iter().map(LabelLine::measured).collect();
            words.add(&all.join(" "));
        } else {
            told.hazards.iter().for_each(|hazard| words.add(&hazard.measured()));
        }
        let height_mm = around_mm + words.height_mm.max(below_mm);
        Layout {
            type_pt,
            dress,
            name_break,
            date_pt,
            telling,
            text_mm,
            is_beside,
            pictures_mm,
            across_mm,
            height_mm,
        }
    };
    // The fewest columns that have room leave the text widest; where none has, the lowest tells how high it is.
    let first = with(pictograms.min(1));
    let all = std::iter::once(first).chain((2..=pictograms).map(with));
    let mut lowest = first;
    for layout in all {
        if has_room(&layout, room) {
            return layout;
        }
        if layout.height_mm < lowest.height_mm {
            lowest = layout;
        }
    }
    lowest
}

/// Words before which a name is best broken.
const BREAKS: [&str; 8] = ["with", "for", "from", "of", "without", "after", "in", "made"];
/// What is left of a name before such a word says what it is, letters.
const HEAD_LETTERS: usize = 8;

/// Where a name that has no room on one line goes on below in the size of its use: before a word like `with`, else where the line ends.
/// None where it has room, or where its first word has none.
fn name_break(title: &str, name: Lettering, column_mm: f64) -> Option<usize> {
    if name.lines(title, column_mm) == 1 {
        return None;
    }
    let breaks = title.match_indices(' ').map(|(at, _)| at);
    let fits: Vec<usize> =
        breaks.filter(|at| title.get(..*at).is_some_and(|head| name.lines(head, column_mm) == 1)).collect();
    let is_best = |at: &&usize| {
        let next = title.get(**at..).and_then(|rest| rest.split_whitespace().next());
        **at >= HEAD_LETTERS && next.is_some_and(|next| BREAKS.contains(&next))
    };
    fits.iter().rev().find(is_best).or(fits.last()).copied()
}

/// Height of name, ring, and how it is used, mm, and where the name is broken.
fn head(face: &Face, told: &Telling, dress: &Dress, width_mm: f64) -> (f64, Option<u16>) {
    let ring_mm = face.ring.as_ref().map_or(0.0, |_| dress.ring_mm);
    let beside_mm = (width_mm - if ring_mm > 0.0 { ring_mm + GAP_MM } else { 0.0 }).max(1.0);
    let name = Lettering::bold(dress.name_pt, NAME_SPACING);
    let broken = name_break(&face.title, name, beside_mm).filter(|_| dress.use_pt < dress.name_pt);
    let (first, rest) = broken.and_then(|at| face.title.split_at_checked(at)).unwrap_or((&face.title, ""));
    let rest_mm = match rest.trim() {
        "" => 0.0,
        rest => Lettering::bold(dress.use_pt, NAME_SPACING).height_mm(rest, beside_mm),
    };
    let name_mm = name.height_mm(first, beside_mm) + rest_mm;
    let uses = Lettering::regular(dress.use_pt, SPACING);
    let uses_mm: f64 =
        told.uses.iter().map(|listed_use| uses.height_mm(&listed_use.measured(), beside_mm)).sum();
    let detail_mm = if told.detail.is_empty() {
        0.0
    } else {
        Lettering::regular(PLAIN_PT, SPACING).height_mm(&told.detail, beside_mm)
    };
    let broken = broken.and_then(|at| u16::try_from(face.title.get(..at)?.chars().count()).ok());
    ((name_mm + uses_mm + detail_mm).max(ring_mm) + PARAGRAPH_MM, broken)
}

/// The rule, the date beside the day of mixing, what it goes by, and what is written in; with the size of the date.
fn date_mm(face: &Face, told: &Telling, dress: &Dress, width_mm: f64) -> (f64, f64) {
    let plain = Lettering::regular(PLAIN_PT, SPACING);
    let (beside, is_blank) = &told.beside;
    let beside_mm = plain.width_mm(beside) * 1.09 + if *is_blank { BLANK_MM } else { 0.0 };
    let dates = as_f64(told.good_to.len());
    let mut right_mm = (0.0_f64, 0.0);
    if !told.is_short {
        let mixed = Lettering::bold(dress.mixed_pt, SPACING);
        let blank_mm = if face.mixed.text.is_empty() { BLANK_MM } else { 0.0 };
        right_mm = (mixed.width_mm(&face.mixed.to_string()) + blank_mm, mixed.line_mm());
        if told.is_beside_dates() {
            right_mm = (right_mm.0.max(beside_mm), right_mm.1 + plain.line_mm());
        }
    }
    let left_mm = (width_mm - right_mm.0 - if right_mm.0 > 0.0 { GAP_MM } else { 0.0 }).max(1.0);
    let wide_mm = |date_pt: f64| {
        let date = Lettering::bold(date_pt, SPACING);
        let words_pt = told.words_pt(date_pt);
        told.good_to.iter().map(|own| own.width_mm(date, words_pt)).fold(0.0, f64::max)
    };
    let mut date_pt = dress.date_pt;
    while date_pt > SMALL_PT && wide_mm(date_pt) > left_mm {
        date_pt -= 0.5;
    }
    let mut height_mm = RULE_MM + (dates * Lettering::bold(date_pt, SPACING).line_mm()).max(right_mm.1);
    let (below_mm, beside_mm) = if told.is_beside_dates() {
        (0.0, width_mm)
    } else {
        (plain.line_mm(), (width_mm - beside_mm - GAP_MM).max(1.0))
    };
    let signal = (0.0, beside_mm);
    let mut basis = Words { text: plain, signal, below_mm, beside_mm, width_mm, height_mm: 0.0 };
    basis.add(&told.basis);
    basis.height_mm -= PARAGRAPH_MM;
    height_mm += if told.basis.is_empty() { below_mm } else { basis.height_mm.max(below_mm) };
    height_mm += as_f64(told.write_in.len()) * WRITE_IN_MM;
    if told.tally > 0 {
        let a_row = (width_mm / TALLY_MM).floor().max(1.0);
        height_mm += (as_f64(told.tally) / a_row).ceil() * TALLY_MM;
    }
    (height_mm, date_pt)
}

/// Paragraphs that run beside the signal word, then beside the pictograms and then below them.
struct Words {
    text: Lettering,
    /// Down to which height the signal word stands before the text, and what it leaves of the width.
    signal: (f64, f64),
    below_mm: f64,
    beside_mm: f64,
    width_mm: f64,
    height_mm: f64,
}

impl Words {
    /// Adds a paragraph, word by word: a line that begins beside the pictograms is as narrow as those above it.
    fn add(&mut self, text: &str) {
        let lettering = self.text;
        let (line_mm, space_mm) = (lettering.line_mm(), lettering.width_mm(" "));
        let column = |height_mm: f64| match self.signal {
            (signal_mm, besides_mm) if height_mm < signal_mm - 1e-6 => besides_mm,
            _ if height_mm < self.below_mm - 1e-6 => self.beside_mm,
            _ => self.width_mm,
        };
        let mut height_mm = self.height_mm;
        let mut used_mm = 0.0;
        for word in text.split_whitespace() {
            let word_mm = lettering.width_mm(word);
            let before_mm = if used_mm > 0.0 { used_mm + space_mm } else { 0.0 };
            if before_mm + word_mm <= column(height_mm) {
                used_mm = before_mm + word_mm;
                continue;
            }
            if used_mm > 0.0 {
                height_mm += line_mm;
            }
            // A word longer than a line is cut.
            let column_mm = column(height_mm);
            let cuts = as_f64(lettering.lines(word, column_mm).saturating_sub(1));
            height_mm += cuts * line_mm;
            used_mm = if cuts > 0.0 { column_mm } else { word_mm };
        }
        self.height_mm = height_mm + line_mm + PARAGRAPH_MM;
    }
}

fn as_f64(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests;
