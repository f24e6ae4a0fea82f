//! What is fed with it, and what must hold of every answer.

use super::*;

/// Cases of the long run.
pub(super) fn many() -> usize {
    std::env::var("SOUPCON_FUZZ_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(2_000_000)
}

pub(super) fn regex(pattern: &str) -> BoxedStrategy<String> {
    proptest::string::string_regex(pattern).unwrap().boxed()
}

pub(super) fn shipped(folder: impl Fn(&str) -> bool) -> Vec<Vec<u8>> {
    Library::shipped_files()
        .iter()
        .filter(|(path, _)| folder(path.split('/').next().unwrap()))
        .map(|(_, text)| text.as_bytes().to_vec())
        .collect()
}

/// Files with mistakes are seeds too.
pub(super) fn refused() -> Vec<Vec<u8>> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/refused");
    let mut paths: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths.iter().map(|path| std::fs::read(path).unwrap()).collect()
}

/// A mistake is told with a line of the text and a remedy, where either can be named.
pub(super) fn told(findings: &[Finding], text: &str) {
    /// Mistakes of the whole file.
    const OF_THE_FILE: &[&str] = &["file-too-large", "no-forms"];
    assert!(!findings.is_empty());
    let lines = text.matches('\n').count() + 1;
    for finding in findings {
        assert!(!finding.message.is_empty() && !finding.fix.is_empty(), "{finding:?}");
        let is_told = finding.line.is_some_and(|line| (1..=lines).contains(&line));
        assert!(is_told || OF_THE_FILE.contains(&finding.code), "{finding:?}");
    }
}

pub(super) fn formula_target() -> Target<'static> {
    let library = Library::shipped();
    let Tables { safety, relations, equilibria } = tables();
    let mut seeds = shipped(|folder| folder != "tables" && folder != "substances");
    seeds.extend(refused());
    let mut round = 0_usize;
    Target {
        name: "formula file",
        seeds,
        strategies: vec![],
        check: Box::new(move |case| {
            let text = String::from_utf8_lossy(case);
            let formula = match Formula::parse(&text, "any", "any.toml", &library) {
                Ok(formula) => formula,
                Err(findings) => {
                    told(&findings, &text);
                    return Verdict::Refused;
                }
            };
            round += 1;
            let ml = [0.001, 1.0, 333.0, 5000.0, 1e9][round % 5];
            let Ok(batch) = scale(&formula, &Request::volume(Volume::from_ml(ml)), relations) else {
                return Verdict::Accepted;
            };
            for (part, source) in batch.parts.iter().zip(&formula.parts) {
                for item in &part.items {
                    assert!(
                        item.amount.is_finite() && item.amount >= 0.0 && item.weigh.is_finite(),
                        "{item:?}"
                    );
                }
                let _ = sequence::plan(part, source, batch.balance);
            }
            // The whole sheet costs ten times as much: of every eighth formula.
            if round.is_multiple_of(8) {
                let _ = sheet(&formula, &batch, safety, equilibria);
            }
            Verdict::Accepted
        }),
    }
}

pub(super) fn substance_target() -> Target<'static> {
    let library = Library::shipped();
    Target {
        name: "substance file",
        seeds: shipped(|folder| folder == "substances"),
        strategies: vec![],
        check: Box::new(move |case| {
            let text = String::from_utf8_lossy(case);
            // Every form begins with the name of its file.
            let id = text
                .split("id = \"")
                .nth(1)
                .and_then(|rest| rest.split(['"', '-']).next())
                .unwrap_or("any")
                .to_owned();
            match Substance::parse(&text, &id, "any.toml", library.weights()) {
                Ok(substance) => {
                    for form in &substance.forms {
                        let figures =
                            [form.molar_mass_g_per_mol, form.solubility_per_100_g(20.0, library.weights())];
                        assert!(figures.iter().flatten().all(|value| value.is_finite()), "{form:?}");
                        assert!(
                            form.molar_mass_g_per_mol.is_none_or(|mass| mass > 0.0)
                                && form.assay_fraction() > 0.0,
                            "{form:?}"
                        );
                    }
                    Verdict::Accepted
                }
                Err(findings) => {
                    told(&findings, &text);
                    Verdict::Refused
                }
            }
        }),
    }
}

pub(super) fn texts(texts: &[&str]) -> Vec<Vec<u8>> {
    texts.iter().map(|text| text.as_bytes().to_vec()).collect()
}

/// Anything, and what looks like a figure with a unit.
pub(super) fn short_texts() -> Vec<BoxedStrategy<String>> {
    vec![
        regex("\\PC{0,24}"),
        regex("[-+0-9.,eE/: %a-zA-Z°µ()\\[\\]·]{0,16}"),
        regex(
            "[-+]?[0-9]{1,12}([.,][0-9]{0,9})?([eE][-+]?[0-9]{1,3})? ?(m?l|L|us-[a-z]{2,4}|imp-[a-z]{2,4}|[mk]?g|grain|oz|lb|C|F|K|min|s|h|% ?(w/[vw]|v/v)?)",
        ),
    ]
}

pub(super) fn quantity_target() -> Target<'static> {
    Target {
        name: "quantity",
        seeds: texts(&[
            "500ml",
            "1L",
            "32us-floz",
            "1 us-qt",
            "20imp-floz",
            "2.5g",
            "500mg",
            "20grain",
            "1oz",
            "20C",
            "68F",
            "293K",
            "8min",
            "8:30",
            "8m30s",
            "510s",
            "10 % w/v",
            "28 % w/w",
            "50 % v/v",
            "1 1/2 oz",
            "1/4 lb",
            "2026-11-25",
        ]),
        strategies: short_texts(),
        check: Box::new(|case| {
            let text = String::from_utf8_lossy(case);
            let mut verdict = Verdict::Refused;
            let mut sound = |value: f64, low: f64, high: f64, shown: String| {
                assert!((low..=high).contains(&value), "{text:?} gave {value}");
                assert!(
                    !shown.contains("NaN") && !shown.contains("inf") && !shown.starts_with("-0 "),
                    "{text:?} shows {shown}"
                );
                verdict = Verdict::Accepted;
            };
            if let Ok(mass) = text.parse::<Mass>() {
                sound(mass.as_g(), 0.0, 1e9, mass.to_string());
            }
            if let Ok(mass) = parse_historical_mass(&text) {
                sound(mass.as_g(), 0.0, 1e9, mass.to_string());
            }
            if let Ok(volume) = text.parse::<Volume>() {
                sound(volume.as_ml(), 1e-6, 1e9, volume.to_string());
            }
            if let Ok(temperature) = text.parse::<Temperature>() {
                sound(temperature.as_c(), -273.15, 1e6, temperature.to_string());
            }
            if let Ok(duration) = text.parse::<quantity::Duration>() {
                sound(duration.as_s(), 0.0, 1e9, duration.to_string());
            }
            if let Ok(strength) = text.parse::<Strength>() {
                sound(strength.percent(), 0.0, 100.0, strength.to_string());
            }
            if let Ok(date) = text.parse::<Date>() {
                assert_eq!(date.to_string().parse::<Date>().unwrap(), date);
                sound(0.0, 0.0, 0.0, date.to_string());
            }
            verdict
        }),
    }
}

pub(super) fn dilution_target() -> Target<'static> {
    Target {
        name: "dilution",
        seeds: texts(&["stock", "1+1", "1+3", "1+31", "1:10", "1+1+8", "2+1+100", "0.5+9.5", "1+0"]),
        strategies: vec![
            regex("\\PC{0,24}"),
            regex("[-+0-9.,:eE a-z]{0,16}"),
            regex("[0-9]{1,6}([.][0-9]{0,4})?([+:][0-9]{1,6}){0,5}"),
        ],
        check: Box::new(|case| {
            let text = String::from_utf8_lossy(case);
            let mut verdict = Verdict::Refused;
            if let Ok(ratio) = text.parse::<MixRatio>() {
                let parts = ratio.parts();
                assert!(parts[0] > 0.0 && parts.iter().all(|part| (0.0..=1e9).contains(part)), "{text:?}");
                verdict = Verdict::Accepted;
            }
            verdict
        }),
    }
}

pub(super) fn chemical_formula_target() -> Target<'static> {
    let library = Library::shipped();
    let mut seeds = texts(&["H2O", "(NH4)2Fe(SO4)2.6H2O", "K2CO3.1.5H2O", "[Fe(CN)6]K3"]);
    let (substances, _) = library.all_substances().unwrap();
    let forms = substances.iter().flat_map(|substance| &substance.forms);
    seeds
        .extend(forms.filter_map(|form| form.chemical_formula.as_ref()).map(|text| text.as_bytes().to_vec()));
    Target {
        name: "chemical formula",
        seeds,
        strategies: vec![
            regex("\\PC{0,24}"),
            regex("[A-Za-z0-9().\\[\\]·]{0,40}"),
            regex("((Na|K|H|C|O|N|S|Fe|Br|Cl|\\(|\\)|\\[|\\])[0-9]{0,4}){1,30}([.·][0-9.]{0,5}H2O){0,3}"),
        ],
        check: Box::new(move |case| {
            let text = String::from_utf8_lossy(case);
            let Ok(formula) = ChemicalFormula::parse(&text) else { return Verdict::Refused };
            assert!(formula.crystal_water().is_finite() && formula.crystal_water() >= 0.0, "{text:?}");
            if let Ok(mass) = formula.molar_mass(library.weights()) {
                assert!(mass > 0.0 && mass.is_finite(), "{text:?} weighs {mass}");
                let water = formula.crystal_water() * 18.015;
                assert!(mass >= water * 0.999, "{text:?} weighs {mass}, its water {water}");
            }
            Verdict::Accepted
        }),
    }
}

pub(super) fn journal_target() -> Target<'static> {
    let entry = "[[entry]]\nversion = 1\nkind = \"developed\"\ndate = \"2026-11-25\"\nfilm = \"slow film, roll 3\"\nformula = \"mq-borax-classic\"\ndilution = \"1+1\"\ncelsius = 20.5\nagitation = \"inversion\"\nminutes = 11.5\ngradient = 0.58\nverdict = \"right\"\nend = true\n";
    let bath = "[[entry]]\nversion = 1\nkind = \"mixed\"\ndate = \"2026-11-01\"\nbath = \"tank 1\"\nformula = \"mq-borax-classic\"\nvolume_ml = 1000.0\nnote = \"shelf\"\nend = true\n";
    let mut seeds = texts(&[entry, bath, ""]);
    seeds.push(format!("# head\nformat = 1\n\n{entry}\n{bath}\n{entry}").into_bytes());
    Target {
        name: "journal",
        seeds,
        strategies: vec![],
        check: Box::new(|case| {
            let journal = Journal::parse(case);
            let lines = String::from_utf8_lossy(case).matches('\n').count() + 1;
            for unread in &journal.unread {
                assert!((1..=lines).contains(&unread.line), "{unread}");
                assert!(unread.to_string().len() > 10);
            }
            for entry in &journal.entries {
                assert!(entry.check().is_ok(), "{entry:?}");
            }
            if journal.entries.is_empty() { Verdict::Refused } else { Verdict::Accepted }
        }),
    }
}

pub(super) fn configuration_target() -> Target<'static> {
    let whole = "#:schema ./configuration.schema.json\nformat = 1\nbalance = \"0.01 g\"\nbalance_max = \"200 g\"\npaper = \"letter\"\nhot_tap = \"118F\"\ncold_tap = \"12 C\"\nlibrary = [\"library\", \"~/darkroom\"]\n\n[assay]\npotassium-hydroxide = \"88 %\"\nacetic-acid = \"99,5 % w/w\"\n";
    let wrong = "balance = 0.1\npaper = \"lettre\"\nlibrary = \"x\"\nassay.borax = \"120 %\"\n";
    Target {
        name: "configuration",
        seeds: texts(&[whole, &whole.replace("99,5", "99.5"), wrong, ""]),
        strategies: vec![],
        check: Box::new(|case| {
            let text = String::from_utf8_lossy(case);
            match Configuration::parse(&text, "config.toml") {
                Ok(read) => {
                    let masses = [&read.balance, &read.balance_max];
                    assert!(masses.iter().all(|own| own.as_ref().is_none_or(|own| own.value.as_g() > 0.0)));
                    let taps = [&read.hot_tap, &read.cold_tap];
                    let is_water = |celsius: f64| (0.0..=100.0).contains(&celsius);
                    assert!(taps.iter().all(|own| own.as_ref().is_none_or(|own| is_water(own.value.as_c()))));
                    assert!(read.assay.iter().all(|(_, own)| own.value > 0.0 && own.value <= 1.0));
                    Verdict::Accepted
                }
                Err(findings) => {
                    told(&findings, &text);
                    Verdict::Refused
                }
            }
        }),
    }
}

/// A shelf's file, read for a batch and for all formulas that it can make.
pub(super) fn shelf_target() -> Target<'static> {
    let whole = "#:schema ./shelf.schema.json\nformat = 1\nhave = [\"sodium-sulfite-anhydrous=450g\", \"hydroquinone\", \"borax-decahydrate=1 kg\"]\n\n[[jars]]\nform = \"metol\"\namount = \"25 g\"\ncounted = \"2026-11-25\"\nprice = 12.5\nsize = \"100 g\"\nassay = \"98 %\"\n\n[[jars]]\nform = \"acetic-acid-28\"\namount = \"500 ml\"\n\n[own]\nplace = \"cellar\"\n";
    let wrong = "format = 2\nhave = [\"metol=0g\", \"metl\", \"sodium-carbonate\"]\n[[jars]]\nform = \"metol\"\namount = \"nan g\"\nprice = -1\nassay = \"120 %\"\n";
    let mut round = 0_usize;
    Target {
        name: "shelf",
        seeds: texts(&[whole, "format = 1\nhave = [\"metol\"]\n", wrong, ""]),
        strategies: vec![],
        check: Box::new(move |case| {
            round += 1;
            let line = if round.is_multiple_of(40) {
                "soupcon list --can-make --shelf -"
            } else {
                "soupcon scale mq-borax-classic 1L --json --shelf -"
            };
            let arguments: Vec<_> = line.split(' ').map(std::ffi::OsString::from).collect();
            let (mut out, mut err, mut input) = (Vec::new(), Vec::new(), case);
            let mut streams = Streams { out: &mut out, err: &mut err, input: &mut input };
            let code = run(&arguments, &mut streams, &Environment::default());
            assert!(code <= 2, "exit {code}");
            let (out, err) = (String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap());
            assert!(code == 0 || err.contains("fix"), "exit {code} without a remedy: {err}");
            assert!(code != 2 || out.is_empty(), "a refusal printed a result");
            assert!(!out.contains("NaN"), "{out}");
            let bad = out.chars().chain(err.chars()).find(|&own| own != '\n' && is_hostile(own));
            assert!(bad.is_none(), "printed {bad:?}");
            if code == 0 { Verdict::Accepted } else { Verdict::Refused }
        }),
    }
}

/// Whole command lines, in the process: nothing that writes a file.
pub(super) fn command_line_target() -> Target<'static> {
    let lines = [
        "list borax --kind fixer",
        "list --with metol --without hydroquinone",
        "list --near metol=2,sodium-sulfite-anhydrous=100 --most 3",
        "list --can-make --have metol --have sodium-sulfite-anhydrous=450g",
        "show mq-borax-classic",
        "show - --format html",
        "scale mq-borax-classic 500ml --balance 0.01g",
        "scale mq-borax-classic 1L --working 1+3 --json",
        "scale mq-borax-classic --limit metol=3.2g",
        "scale mq-borax-classic 1L --have sodium-sulfite-heptahydrate --assay metol=98%",
        "sheet mq-borax-classic 500ml --ascii",
        "sheet mq-carbonate-tray-tank 1us-qt --format markdown",
        "safety mq-borax-classic wash plain-thiosulfate-fixer",
        "compare mq-borax-classic mq-carbonate-tray-tank",
        "substance metol",
        "substance 497-19-8 --json",
        "exchange 10g sodium-carbonate-anhydrous --for sodium-carbonate-monohydrate",
        "percent potassium-bromide 10%w/v 100ml",
        "dilute 1+3 1L --formula mq-borax-classic --films 2",
        "water 1L --hot 45C --cold 12C --target 20C",
        "time 8min --from mq-borax-classic --to-temp 22C",
        "chart 8min --from mq-borax-classic",
        "factorial 30s --agent metol",
        "exposure change 12s --stops +1/3",
        "exposure strip 8s --step 1/3 --strips 7 --clock 1s",
        "exposure size 10s --from 4x --to 8x --from-f 8 --to-f 5.6",
        "exposure two-filter --soft 8s,20s --hard 24s,10s",
        "exposure silver --sheet 38.7mg --carried 10ml --sheets 40 --volume 1L",
        "curve speed 437",
        "curve - --tablet 21x0.15+0.05 --lux 10 --seconds 1/50",
        "scale --help",
        "--version",
    ];
    let mut round = 0_usize;
    Target {
        name: "command line",
        seeds: texts(&lines),
        strategies: vec![],
        check: Box::new(move |case| {
            let text = String::from_utf8_lossy(case);
            let words: Vec<&str> = text.split([' ', '\n']).filter(|word| !word.is_empty()).collect();
            // No case writes a file, waits at a device, or reads what is not the program's.
            let touches_disk = |word: &&str| {
                word.contains(['/', '\\']) && !word.contains('%')
                    || word.starts_with("-o")
                    || word.starts_with("--o")
                    || word.contains("toml")
            };
            if words.iter().any(touches_disk) || words.contains(&"record") {
                return Verdict::Refused;
            }
            round += 1;
            let mut arguments = vec!["soupcon".into()];
            arguments.extend(words.iter().map(std::ffi::OsString::from));
            let columns = ["80", "40", "20", "200"][round % 4];
            let environment = Environment {
                variables: BTreeMap::from([("COLUMNS".to_owned(), columns.into())]),
                ..Environment::default()
            };
            let (mut out, mut err) = (Vec::new(), Vec::new());
            let mut input: &[u8] = b"format = 1\ntitle = \"x\"\nkind = \"fixer\"\nsummary = \"x\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n";
            let mut streams = Streams { out: &mut out, err: &mut err, input: &mut input };
            let code = run(&arguments, &mut streams, &environment);
            assert!(code <= 2, "exit {code}");
            let (out, err) = (String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap());
            assert!(code != 2 || out.is_empty(), "a refusal printed a result");
            assert!(code == 0 || !err.is_empty() || !out.is_empty(), "exit {code} without a word");
            for printed in [&out, &err] {
                let bad = printed.chars().find(|&letter| letter != '\n' && is_hostile(letter));
                // The argument reader's own messages repeat what was typed.
                assert!(bad.is_none() || printed.contains("--help"), "printed {bad:?}: {printed}");
            }
            assert!(!out.contains("NaN") || text.contains("NaN"), "{out}");
            if code == 0 { Verdict::Accepted } else { Verdict::Refused }
        }),
    }
}
