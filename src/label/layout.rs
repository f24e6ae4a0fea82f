//! How the text of a label stands on it: the largest type that has room, never below the least that hazards need.
//!
//! The title across, below it the pictograms in columns on the right with the text beside and then below them, at the foot who
//! vouches. Where room is short it is told in fewer words, and at last without background; what someone acts on stands in every
//! telling, and where none has room the label is refused.

use crate::lettering::Lettering;

/// Blank border inside a label, for a printer that is a little off, mm.
pub const BORDER_MM: f64 = 2.0;
/// Distance of lines over the size of type: 120 % (Regulation (EU) 2024/2865, as told on two consultants' pages).
pub const SPACING: f64 = 1.2;
/// Height of a line to write on, mm.
pub const WRITE_IN_MM: f64 = 6.0;
/// Size of type of the foot and of the names below pictograms, points.
pub const SMALL_PT: f64 = 7.0;
/// Height of the name below a pictogram, mm.
pub const CAPTION_MM: f64 = 3.4;
/// Between text and pictograms, and between pictograms side by side, mm.
pub const GAP_MM: f64 = 1.5;
/// After a paragraph, mm.
pub const PARAGRAPH_MM: f64 = 0.6;
/// Size of the title over that of the text; bold, so that it needs little more.
pub const TITLE: f64 = 1.15;
/// Size of the signal word over that of the text.
pub const SIGNAL: f64 = 1.5;

/// The text of a label.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Face {
    /// Name, across the top.
    pub title: String,
    /// What stands below it, told at length first and then in fewer words.
    pub tellings: Vec<Telling>,
    /// What is written in by hand.
    pub write_in: Vec<String>,
    /// The signal word.
    pub signal: Option<&'static str>,
    /// How many pictograms.
    pub pictograms: usize,
    /// Who vouches.
    pub foot: String,
}

/// One way to tell what someone acts on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Telling {
    /// Strength, use and keeping, above what is written in.
    pub facts: Vec<String>,
    /// Hazards and cautions, below it.
    pub hazards: Vec<String>,
    /// Background that it leaves out; nothing that someone acts on.
    pub left_out: Vec<&'static str>,
}

/// The label that a face must stand on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
    /// Least size of type, points.
    pub least_pt: f64,
    /// Largest size of type, points.
    pub most_pt: f64,
    /// Side of a pictogram, mm.
    pub pictogram_mm: f64,
}

/// How a face stands on a label.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layout {
    /// Size of type, points.
    pub type_pt: f64,
    /// Which telling.
    pub telling: usize,
    /// Width of the text beside the pictograms, mm.
    pub text_mm: f64,
    /// Width of the pictograms, mm.
    pub pictures_mm: f64,
    /// From corner to corner of a pictogram, mm.
    pub across_mm: f64,
    /// Height that all of it takes, borders included, mm.
    pub height_mm: f64,
}

/// Corner to corner of a square of this side that stands on its corner, mm.
pub fn across(side_mm: f64) -> f64 {
    side_mm * std::f64::consts::SQRT_2
}

/// Finds the fullest telling and then the largest type that have room.
///
/// # Errors
/// Nothing has; the layout of the fewest words in the smallest type says how high it would be.
pub fn lay_out(face: &Face, room: &Room) -> Result<Layout, Layout> {
    let mut smallest = attempt(face, room, 0, room.least_pt);
    for telling in 0..face.tellings.len() {
        // Where the smallest has no room, no larger one has.
        smallest = attempt(face, room, telling, room.least_pt);
        if !has_room(&smallest, room) {
            continue;
        }
        let mut type_pt = room.most_pt.max(room.least_pt);
        while type_pt > room.least_pt {
            let layout = attempt(face, room, telling, type_pt);
            if has_room(&layout, room) {
                return Ok(layout);
            }
            type_pt -= 0.5;
        }
        return Ok(smallest);
    }
    Err(smallest)
}

fn has_room(layout: &Layout, room: &Room) -> bool {
    // A column narrower than a long word has no room for text, whatever its height.
    layout.height_mm <= room.height_mm && layout.text_mm >= 3.0 * layout.type_pt
}

fn attempt(face: &Face, room: &Room, telling: usize, type_pt: f64) -> Layout {
    let width_mm = room.width_mm - 2.0 * BORDER_MM;
    let text = Lettering::regular(type_pt, SPACING);
    let title_mm = Lettering::bold(type_pt * TITLE, SPACING).height_mm(&face.title, width_mm) + PARAGRAPH_MM;
    let foot_mm = Lettering::regular(SMALL_PT, SPACING).height_mm(&face.foot, width_mm);
    let across_mm = across(room.pictogram_mm);
    let each_mm = across_mm + CAPTION_MM;
    let between_mm = room.height_mm - 2.0 * BORDER_MM - title_mm - foot_mm;
    let columns = columns(face.pictograms, between_mm / each_mm);
    let rows = face.pictograms.div_ceil(columns.max(1));
    let pictures_mm = as_f64(columns) * (across_mm + GAP_MM);
    let text_mm = (width_mm - pictures_mm).max(1.0);
    let mut words =
        Words { text, below_mm: as_f64(rows) * each_mm, beside_mm: text_mm, width_mm, height_mm: 0.0 };
    let told = face.tellings.get(telling);
    told.iter().flat_map(|own| &own.facts).for_each(|own| words.add(own));
    words.height_mm += as_f64(face.write_in.len()) * WRITE_IN_MM;
    if face.signal.is_some() {
        words.height_mm += Lettering::bold(type_pt * SIGNAL, SPACING).line_mm();
    }
    told.iter().flat_map(|own| &own.hazards).for_each(|own| words.add(own));
    let words_mm = words.height_mm;
    let height_mm = 2.0 * BORDER_MM + title_mm + words_mm.max(as_f64(rows) * each_mm) + foot_mm;
    Layout { type_pt, telling, text_mm, pictures_mm, across_mm, height_mm }
}

/// Paragraphs that run beside the pictograms and then below them.
struct Words {
    text: Lettering,
    below_mm: f64,
    beside_mm: f64,
    width_mm: f64,
    height_mm: f64,
}

impl Words {
    /// Adds a paragraph; where it goes on below the pictograms, a line more than its share, for the words that break otherwise.
    fn add(&mut self, text: &str) {
        let lettering = self.text;
        let line_mm = lettering.line_mm();
        let mut lines_mm = lettering.height_mm(text, self.width_mm);
        let beside_mm = self.below_mm - self.height_mm;
        if beside_mm > 0.0 {
            let narrow_mm = lettering.height_mm(text, self.beside_mm);
            lines_mm = if narrow_mm <= beside_mm {
                narrow_mm
            } else {
                let first_mm = (beside_mm / line_mm).ceil() * line_mm;
                let share = (narrow_mm - first_mm).max(0.0) * self.beside_mm / self.width_mm;
                narrow_mm.min(first_mm + ((share / line_mm).ceil() + 1.0) * line_mm)
            };
        }
        self.height_mm += lines_mm + PARAGRAPH_MM;
    }
}

/// Columns of pictograms if so many stand above each other.
fn columns(pictograms: usize, fit: f64) -> usize {
    (1..=pictograms).find(|columns| as_f64(pictograms.div_ceil(*columns)) <= fit).unwrap_or(pictograms)
}

fn as_f64(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn face(hazard: &str) -> Face {
        let telling = |fact: &str| Telling {
            facts: vec![fact.to_owned()],
            hazards: vec![hazard.to_owned()],
            left_out: Vec::new(),
        };
        Face {
            title: "A developer".to_owned(),
            tellings: vec![
                telling(&"a long story of how it is used and how long it keeps, told in full".repeat(2)),
                telling("keeps 6 months"),
            ],
            write_in: vec!["Mixed on".to_owned()],
            signal: Some("Danger"),
            pictograms: 1,
            foot: "In-house help, not a legal label.".to_owned(),
        }
    }

    const ROOM: Room =
        Room { width_mm: 99.1, height_mm: 67.7, least_pt: 7.75, most_pt: 11.0, pictogram_mm: 16.0 };

    #[test]
    fn where_there_is_room_the_type_is_largest_and_the_telling_fullest() {
        let layout = lay_out(&face("Causes burns."), &ROOM).unwrap();
        assert_eq!((layout.type_pt, layout.telling), (11.0, 0));
        assert!((layout.across_mm - 22.627).abs() < 0.01);
    }

    #[test]
    fn words_grow_fewer_before_a_label_is_refused() {
        let tellings: Vec<Option<usize>> = (0..100)
            .map(|times| {
                lay_out(&face(&"Causes burns. ".repeat(times)), &ROOM).ok().map(|layout| layout.telling)
            })
            .collect();
        let mut kinds = tellings.clone();
        kinds.dedup();
        assert_eq!(kinds, [Some(0), Some(1), None]);
        let refused = lay_out(&face(&"Causes burns. ".repeat(99)), &ROOM).unwrap_err();
        assert!(refused.height_mm > ROOM.height_mm && refused.type_pt >= ROOM.least_pt);
    }

    #[test]
    fn text_below_the_pictograms_has_the_whole_width() {
        let lettering = Lettering::regular(8.0, SPACING);
        let long = "word ".repeat(120);
        let mut words =
            Words { text: lettering, below_mm: 20.0, beside_mm: 50.0, width_mm: 95.0, height_mm: 0.0 };
        words.add(&long);
        let (narrow, wide) = (lettering.height_mm(&long, 50.0), lettering.height_mm(&long, 95.0));
        assert!(words.height_mm < narrow && words.height_mm > wide, "{}", words.height_mm);
        let mut words =
            Words { text: lettering, below_mm: 20.0, beside_mm: 50.0, width_mm: 95.0, height_mm: 20.0 };
        words.add(&long);
        assert!((words.height_mm - 20.0 - wide - PARAGRAPH_MM).abs() < 1e-9);
    }

    #[test]
    fn pictograms_stand_above_each_other_as_far_as_they_can() {
        assert_eq!(columns(0, 2.0), 0);
        assert_eq!(columns(2, 2.3), 1);
        assert_eq!(columns(3, 2.3), 2);
        assert_eq!(columns(3, 0.4), 3);
        let three = Face { pictograms: 3, ..face("Causes burns.") };
        let layout = lay_out(&three, &ROOM).unwrap();
        assert!((layout.pictures_mm - 2.0 * (across(16.0) + GAP_MM)).abs() < 1e-9);
    }

    #[test]
    fn a_column_too_narrow_for_words_is_no_room() {
        let narrow = Room { width_mm: 40.0, height_mm: 500.0, ..ROOM };
        assert!(lay_out(&face("Causes burns."), &narrow).is_err());
    }
}
