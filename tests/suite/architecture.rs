//! The direction of dependencies: read from the source, so that it cannot drift.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use soupcon::substance::Class;

/// What each module may name of the crate. `render` and `cli` stand above the domain.
const MAY_NAME: &[(&str, &[&str])] = &[
    ("suggestion", &[]),
    ("lettering", &[]),
    ("doubt", &[]),
    ("packed", &[]),
    ("diagnostic", &["packed", "suggestion"]),
    ("quantity", &["suggestion"]),
    ("configuration", &["diagnostic", "exposure", "lettering", "quantity", "suggestion"]),
    ("schema", &[]),
    ("substance", &["diagnostic", "packed"]),
    ("formula", &["diagnostic", "packed", "quantity", "substance", "suggestion"]),
    ("library", &["diagnostic", "formula", "packed", "quantity", "substance", "suggestion"]),
    ("solution", &["packed"]),
    ("bath", &["diagnostic", "doubt", "formula", "journal", "quantity", "substance"]),
    ("cooling", &[]),
    ("vessel", &["formula", "quantity", "substance"]),
    ("scale", &["diagnostic", "formula", "quantity", "substance", "vessel"]),
    ("sequence", &["formula", "quantity", "scale", "substance"]),
    ("safety", &["diagnostic", "formula", "packed", "substance", "vessel"]),
    ("composition", &["diagnostic", "formula", "library", "quantity", "substance", "vessel"]),
    ("qualities", &["composition", "diagnostic", "doubt", "formula", "library", "substance"]),
    ("wishes", &["composition", "diagnostic", "formula", "library", "qualities"]),
    ("compare", &["composition", "diagnostic", "formula", "qualities", "quantity", "substance", "vessel"]),
    ("nearest", &["composition", "formula", "substance"]),
    ("can_make", &["formula", "quantity", "scale", "substance", "vessel"]),
    (
        "predict",
        &["formula", "quantity", "scale", "sequence", "solution", "substance", "suggestion", "vessel"],
    ),
    ("mixing", &["formula", "predict", "quantity", "safety", "solution", "substance", "vessel"]),
    ("timing", &["diagnostic", "doubt", "formula", "journal", "packed", "quantity", "suggestion"]),
    ("curve", &["diagnostic", "quantity", "suggestion", "timing"]),
    ("journal", &["diagnostic", "quantity"]),
    (
        "lint",
        &[
            "composition",
            "diagnostic",
            "formula",
            "library",
            "predict",
            "quantity",
            "safety",
            "scale",
            "sheet",
            "solution",
            "substance",
            "suggestion",
            "vessel",
        ],
    ),
    ("evening", &["bath", "diagnostic", "doubt", "formula", "quantity", "suggestion"]),
    (
        "bench",
        &[
            "cooling",
            "diagnostic",
            "formula",
            "predict",
            "quantity",
            "safety",
            "scale",
            "sequence",
            "sheet",
            "substance",
        ],
    ),
    ("exposure", &["quantity"]),
    ("shelf", &["journal", "scale", "substance"]),
    (
        "label",
        &[
            "diagnostic",
            "formula",
            "journal",
            "lettering",
            "predict",
            "quantity",
            "safety",
            "scale",
            "sheet",
            "substance",
        ],
    ),
    (
        "sheet",
        &[
            "formula",
            "mixing",
            "predict",
            "quantity",
            "safety",
            "scale",
            "sequence",
            "solution",
            "substance",
            "vessel",
        ],
    ),
];

/// Words that no domain module may contain: the command line, rendering, the environment, the clock, the streams.
const FORBIDDEN_IN_DOMAIN: &[&str] = &[
    "crate::cli",
    "crate::render",
    "clap",
    "std::env",
    "std::process",
    "SystemTime",
    "Instant",
    "println!",
    "eprintln!",
    "IsTerminal",
];

/// Modules that may read or write disk.
const MAY_TOUCH_DISK: &[&str] = &["library", "journal", "cli", "main", "lint"];

/// Path below `root` with strokes, and text, of every file with that extension.
fn files_below(root: &Path, wanted: &str) -> Vec<(String, String)> {
    fn collect(root: &Path, folder: &Path, wanted: &str, found: &mut Vec<(String, String)>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                collect(root, &path, wanted, found);
            } else if path.extension().is_some_and(|extension| extension == wanted) {
                let relative = path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
                found.push((relative, fs::read_to_string(&path).unwrap()));
            }
        }
    }
    let mut found = Vec::new();
    collect(root, root, wanted, &mut found);
    found.sort();
    found
}

/// Module name → (file, code without tests and comments).
fn modules() -> BTreeMap<String, Vec<(String, String)>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut modules: BTreeMap<String, Vec<(String, String)>> = BTreeMap::new();
    for (relative, text) in files_below(&root, "rs") {
        let module = relative.split('/').next().unwrap().trim_end_matches(".rs").to_owned();
        if relative.ends_with("/tests.rs") {
            continue;
        }
        let code = text.split("#[cfg(test)]\nmod tests {").next().unwrap();
        let code = code.split("#[cfg(test)]\npub(crate) mod tests {").next().unwrap().to_owned();
        let code =
            code.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n");
        modules.entry(module).or_default().push((relative, code));
    }
    modules
}

#[test]
fn every_module_names_only_those_below_it() {
    for (module, files) in modules() {
        if ["main", "lib", "build", "cli", "render"].contains(&module.as_str()) {
            continue;
        }
        let Some((_, allowed)) = MAY_NAME.iter().find(|(name, _)| *name == module) else {
            panic!("module {module} has no line in the table of dependencies; add one");
        };
        for (file, code) in files {
            for (position, _) in code.match_indices("crate::") {
                let rest = &code[position + 7..];
                let named: String =
                    rest.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect();
                assert!(
                    named == module || named.is_empty() || allowed.contains(&named.as_str()),
                    "{file} names crate::{named}"
                );
            }
            for word in FORBIDDEN_IN_DOMAIN {
                assert!(!code.contains(word), "{file} names {word}");
            }
        }
    }
}

/// The files of a room that a file names.
fn names_in_room(room: &str, file: &str, code: &str, files: &BTreeSet<String>) -> BTreeSet<String> {
    let parent = file.rsplit_once('/').map(|(parent, _)| format!("{parent}/")).unwrap_or_default();
    let mut named = BTreeSet::new();
    let roots = [("super::".to_owned(), parent), (format!("crate::{room}::"), String::new())];
    for (root, folder) in roots {
        for (at, _) in code.match_indices(&root) {
            let rest = &code[at + root.len()..];
            // Of a group in braces every first name; the head of a room (`mod.rs`) may name all below it.
            let group =
                rest.strip_prefix('{').map_or(rest, |inside| inside.split("};").next().unwrap_or(inside));
            let only_first = !rest.starts_with('{');
            let words = group.split(|letter: char| !(letter.is_alphanumeric() || letter == '_'));
            named.extend(
                words.take(if only_first { 1 } else { usize::MAX }).map(|word| format!("{folder}{word}")),
            );
        }
    }
    named.into_iter().filter(|name| files.contains(name) && name != file).collect()
}

#[test]
fn no_two_files_of_a_room_name_each_other_in_a_circle() {
    for (room, files) in modules() {
        let own = |path: &str| {
            let inside = path.split_once(&format!("{room}/")).map_or("", |(_, inside)| inside);
            inside.trim_end_matches(".rs").to_owned()
        };
        let names: BTreeSet<String> =
            files.iter().map(|(path, _)| own(path)).filter(|name| !name.ends_with("mod")).collect();
        let named: BTreeMap<String, BTreeSet<String>> = files
            .iter()
            .filter(|(path, _)| names.contains(&own(path)))
            .map(|(path, code)| (own(path), names_in_room(&room, &own(path), code, &names)))
            .collect();
        for start in named.keys() {
            let (mut seen, mut stack) = (BTreeSet::new(), vec![start]);
            while let Some(file) = stack.pop() {
                for next in &named[file] {
                    assert!(next != start, "{room}/{start} comes back to itself through {room}/{file}");
                    if seen.insert(next) {
                        stack.push(next);
                    }
                }
            }
        }
    }
}

#[test]
fn render_does_not_name_the_command_line() {
    for (file, code) in &modules()["render"] {
        for word in ["crate::cli", "clap", "std::env", "std::process", "SystemTime"] {
            assert!(!code.contains(word), "{file} names {word}");
        }
    }
}

#[test]
fn only_library_journal_and_command_line_touch_disk() {
    for (module, files) in modules() {
        if MAY_TOUCH_DISK.contains(&module.as_str()) || module == "build" {
            continue;
        }
        for (file, code) in files {
            for word in ["std::fs", "fs::read", "File::open", "std::net"] {
                assert!(!code.contains(word), "{file} names {word}");
            }
        }
    }
}

#[test]
fn the_table_allows_no_more_than_is_named() {
    let modules = modules();
    for (name, allowed) in MAY_NAME {
        let files =
            modules.get(*name).unwrap_or_else(|| panic!("the table names {name}, which is no module"));
        for other in *allowed {
            let named = format!("crate::{other}");
            assert!(files.iter().any(|(_, code)| code.contains(&named)), "{name} does not name {other}");
        }
    }
}

#[test]
fn embedded_files_are_the_files_on_disk() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("formulas");
    let on_disk = files_below(&root, "toml");
    let embedded: Vec<(String, String)> = soupcon::library::Library::shipped_files()
        .iter()
        .map(|(path, text)| ((*path).to_owned(), (*text).to_owned()))
        .collect();
    assert_eq!(embedded.len(), on_disk.len());
    assert_eq!(embedded, on_disk);
}

#[test]
fn the_classes_of_the_code_are_those_of_the_substances() {
    let library = soupcon::library::Library::shipped();
    let of_data: BTreeSet<Class> = library
        .all_substances()
        .unwrap()
        .0
        .into_iter()
        .flat_map(|own| own.parent.classes.clone().unwrap_or_default())
        .collect();
    let of_code: BTreeSet<Class> = Class::KNOWN.iter().cloned().collect();
    // A class that nothing has would mean "no hazard" wherever the code asks for it; one that only a file has is a word of its own.
    assert_eq!(of_code, of_data);
    for class in Class::KNOWN {
        assert_eq!(Class::from(class.word().to_owned()), *class);
    }
    assert_eq!(Class::from("my-class".to_owned()), Class::Own("my-class".to_owned()));
}

/// Where a command is named beside its own files in `src`; `tests/suite/cli_machine/` is the sixth place. DEVELOPERS.md lists them.
const PLACES_OF_A_COMMAND: [&str; 5] =
    ["cli/help.rs", "cli/mod.rs", "cli/schema.rs", "render/mod.rs", "schema.rs"];

#[test]
fn a_command_is_named_in_six_places_beside_its_own_files() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    // Commands whose names mean nothing else in the code.
    for word in ["list", "show", "dilute", "shopping"] {
        let mut places = BTreeSet::new();
        for (file, text) in files_below(&root, "rs") {
            let is_its_own = file.split(['/', '.']).any(|name| name == word);
            let names = [format!("\"{word}\""), format!("mod {word};")];
            if !is_its_own && names.iter().any(|name| text.contains(name)) {
                places.insert(file);
            }
        }
        assert!(
            !places.is_empty() && places.iter().all(|file| PLACES_OF_A_COMMAND.contains(&file.as_str())),
            "{word}: {places:?}"
        );
        let developers = fs::read_to_string(root.join("../DEVELOPERS.md")).unwrap();
        assert!(places.iter().all(|file| developers.contains(&format!("src/{file}"))), "{places:?}");
    }
}
