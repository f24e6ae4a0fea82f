//! What has room on a label, and what is left out first.

use super::*;

fn face(hazard: &str) -> Face {
    let telling = |basis: &str, left_out: Vec<&'static str>| Telling {
        uses: vec![LabelLine::led("25 A + 15 B + 960 water,", "20 °C")],
        hazards: vec![LabelLine::plain(hazard)],
        good_to: vec![Until::new("good to", "2027-05-24", "")],
        basis: basis.to_owned(),
        beside: ("500 mL, by".to_owned(), true),
        foot: "no legal label",
        left_out,
        ..Telling::default()
    };
    Face {
        title: "A developer".to_owned(),
        ring: Some("A".to_owned()),
        tellings: vec![
            telling(&"a long story of how long it keeps, told in full ".repeat(2), Vec::new()),
            telling("stated", vec!["the story"]),
        ],
        signal: Some("Danger"),
        pictograms: 1,
        mixed: LabelLine::led("mixed", "2026-11-25"),
        foot: "a-developer".to_owned(),
    }
}

const ROOM: LabelRoom = LabelRoom {
    width_mm: 99.1,
    height_mm: 67.7,
    least_pt: 9.0,
    most_pt: 11.0,
    pictogram_mm: 16.0,
    dress: None,
};

/// Source of the sizes: the drawing of the label (name 20, dilution 14, date 16, signal word 17 points, ring 15 mm).
#[test]
fn where_there_is_room_a_label_is_dressed_as_drawn() {
    let layout = lay_out(&face("Causes burns."), &ROOM).unwrap();
    assert_eq!((layout.telling, layout.type_pt), (0, 11.0));
    let Dress { name_pt, use_pt, signal_pt, ring_mm, ring_pt, .. } = layout.dress;
    assert_eq!((name_pt, use_pt, signal_pt, ring_mm, ring_pt), (20.0, 14.0, 17.0, 15.0, 30.0));
    assert!((15.0..=16.0).contains(&layout.date_pt), "{}", layout.date_pt);
    assert!((layout.across_mm - 22.627).abs() < 0.01);
}

#[test]
fn heads_grow_smaller_then_words_fewer_before_a_label_is_refused_and_type_never_below_nine_points() {
    let layouts: Vec<Option<Layout>> =
        (0..100).map(|times| lay_out(&face(&"Causes burns. ".repeat(times)), &ROOM).ok()).collect();
    let mut kinds: Vec<Option<usize>> = layouts.iter().map(|own| own.map(|own| own.telling)).collect();
    kinds.dedup();
    assert_eq!(kinds, [Some(0), Some(1), None]);
    assert!(layouts.iter().flatten().all(|own| own.type_pt >= 9.0));
    let mut heads: Vec<f64> = layouts
        .iter()
        .flatten()
        .filter(|layout| layout.telling == 0)
        .map(|layout| layout.dress.name_pt)
        .collect();
    heads.dedup();
    assert!(heads.first() == Some(&20.0) && heads.len() > 1, "{heads:?}");
    let refused = lay_out(&face(&"Causes burns. ".repeat(99)), &ROOM).unwrap_err();
    assert!(refused.height_mm > ROOM.height_mm && refused.type_pt >= ROOM.least_pt);
}

#[test]
fn text_below_the_pictograms_has_the_whole_width() {
    let lettering = Lettering::regular(8.0, SPACING);
    let long = "word ".repeat(120);
    let mut words = Words {
        text: lettering,
        signal: (0.0, 50.0),
        below_mm: 20.0,
        beside_mm: 50.0,
        width_mm: 95.0,
        height_mm: 0.0,
    };
    words.add(&long);
    let (narrow, wide) = (lettering.height_mm(&long, 50.0), lettering.height_mm(&long, 95.0));
    assert!(words.height_mm < narrow && words.height_mm > wide, "{}", words.height_mm);
    let mut words = Words {
        text: lettering,
        signal: (0.0, 50.0),
        below_mm: 20.0,
        beside_mm: 50.0,
        width_mm: 95.0,
        height_mm: 20.0,
    };
    words.add(&long);
    assert!((words.height_mm - 20.0 - wide - PARAGRAPH_MM).abs() < 1e-9);
}

#[test]
fn pictograms_stand_above_each_other_as_far_as_they_can() {
    // Two squares of 16 mm on their corners are 45 mm high one above the other, 68 mm hold that with head and date only just.
    let two = Face { pictograms: 2, ..face("Causes burns.") };
    let side_by_side = lay_out(&two, &ROOM).unwrap();
    assert!((side_by_side.pictures_mm - 2.0 * across(16.0) - GAP_MM).abs() < 1e-9);
    let above = lay_out(&two, &LabelRoom { height_mm: 120.0, ..ROOM }).unwrap();
    assert!((above.pictures_mm - across(16.0) - GAP_MM).abs() < 1e-9);
}

#[test]
fn a_column_too_narrow_for_words_is_no_room() {
    let narrow = LabelRoom { width_mm: 40.0, height_mm: 500.0, ..ROOM };
    assert!(lay_out(&face("Causes burns."), &narrow).is_err());
}

/// Source of the sizes: the drawing of the short form (name 16, ring 12.5 mm, signal word 13, date 14 points).
#[test]
fn a_short_form_stands_on_a_small_label_and_has_no_pictograms() {
    let mut face = face("burns skin, eyes");
    face.tellings = vec![Telling {
        is_short: true,
        hazards: vec![LabelLine::plain("burns skin, eyes")],
        good_to: vec![Until::new("good to", "2027-05-24", "")],
        basis: "mixed 2026-11-25, 500 mL".to_owned(),
        beside: ("see card".to_owned(), false),
        ..Telling::default()
    }];
    let small = LabelRoom { width_mm: 63.5, height_mm: 38.1, ..ROOM };
    let layout = lay_out(&face, &small).unwrap();
    let Dress { name_pt, signal_pt, ring_mm, .. } = layout.dress;
    assert_eq!((name_pt, signal_pt, ring_mm, layout.date_pt), (16.0, 13.0, 12.5, 14.0));
}
