//! Mixtures that are known to be dangerous, or harmless, outside of this program.

use super::*;

/// Rows of a table in `tests/data`: every cell in quotes or without a comma.
fn rows_of(text: &str) -> Vec<Vec<String>> {
    let cells = |line: &str| {
        let mut cells = vec![String::new()];
        let mut quoted = false;
        for letter in line.chars() {
            match letter {
                '"' => quoted = !quoted,
                ',' if !quoted => cells.push(String::new()),
                other => cells.last_mut().unwrap().push(other),
            }
        }
        cells
    };
    text.lines().skip(1).map(cells).collect()
}

/// `id=grams; id=grams` in a litre.
fn contents_of(library: &Library, text: &str) -> Vessel {
    let one = |item: &str| {
        let (id, grams) = item.split_once('=').unwrap();
        Content::grams(&library.form(id.trim()).unwrap(), grams.trim().parse().unwrap())
    };
    Vessel::from(text.split(';').map(one).collect::<Vec<_>>())
}

/// What is told of a mixture of the table: the verdict, and the words of what has that verdict.
fn told_of(library: &Library, data: &SafetyData, contents: &str) -> Vec<(&'static str, String)> {
    let words = |cautions: Vec<Caution>| {
        cautions
            .into_iter()
            .map(|own| (own.severity.word(), format!("{} {}", own.product, own.text)))
            .collect()
    };
    if let Some(dry) = contents.strip_prefix("dry:") {
        let bench: Vec<Content> =
            dry.split(';').map(|id| Content::grams(&library.form(id.trim()).unwrap(), 1.0)).collect();
        return words(data.dry(&bench));
    }
    if let Some((first, second)) = contents.split_once('>') {
        let baths = [first, second].map(|bath| BathSummary {
            name: String::new(),
            contents: Vessel::default().with(contents_of(library, bath)),
        });
        return words(data.between(&[&baths[0], &baths[1]]).into_iter().map(|own| own.caution).collect());
    }
    match mixed_of(data, contents_of(library, contents)) {
        Err(refusal) => {
            assert!(!refusal.fix().is_empty(), "{contents}");
            vec![("refuse", format!("{} {}", refusal.product, refusal.text))]
        }
        Ok(cautions) => words(cautions),
    }
}

#[test]
fn dangerous_mixtures_are_refused_or_told() {
    let library = Library::shipped();
    let data = safety();
    let rows = rows_of(include_str!("../../data/dangerous-mixtures.csv"));
    assert!(rows.len() >= 60);
    let mut wrong = Vec::new();
    for row in &rows {
        let [mixture, contents, expected, forms, source] = row.as_slice() else { panic!("{row:?}") };
        assert!(!source.is_empty(), "{mixture}: no source");
        let told = told_of(&library, data, contents);
        if !told.iter().any(|(verdict, words)| verdict == expected && words.contains(forms.as_str())) {
            wrong.push(format!("{mixture}: not {expected} of {forms}, but {told:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn harmless_mixtures_are_not_warned_of() {
    let library = Library::shipped();
    let data = safety();
    let rows = rows_of(include_str!("../../data/harmless-mixtures.csv"));
    assert!(rows.len() >= 40);
    let mut wrong = Vec::new();
    for row in &rows {
        let [words, contents, source] = row.as_slice() else { panic!("{row:?}") };
        assert!(!source.is_empty(), "{words}: no source");
        match mixed_of(data, contents_of(&library, contents)) {
            Err(refusal) => wrong.push(format!("{words}: refused, {}", refusal.id)),
            Ok(cautions) => {
                // What holds only in a hot step says so itself.
                let grave = cautions
                    .iter()
                    .filter(|own| own.severity >= Severity::Warning && own.only_above_c.is_none());
                wrong.extend(grave.map(|caution| format!("{words}: {}", caution.id)));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_row_that_forbids_a_mixture_refuses_it() {
    let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/combinations.toml"));
    for row in text.split("[[combinations]]").skip(1) {
        let plain = row.lines().find_map(|line| line.strip_prefix("plain = ")).unwrap();
        let in_vessel = row.lines().find(|line| line.starts_with("where")).unwrap().contains("one-vessel");
        let forbids =
            ["Do not put", "Never together", "Do not make this", "Do not use or store them together"]
                .iter()
                .any(|words| plain.contains(words));
        assert!(!(in_vessel && forbids) || row.contains("refuse = true"), "{row}");
    }
}
