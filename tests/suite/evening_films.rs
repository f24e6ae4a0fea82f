//! Evenings from films and a bottle, bottles and water baths, and the writing of the journal.

use std::path::Path;
use std::process::Command;

use crate::common::{Ran, command, soupcon};

/// A journal and a configuration of the invented weekend class.
struct Class {
    folder: tempfile::TempDir,
}

impl Class {
    fn new(litres: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let tanks = "cold_tap = \"12 C\"\nhot_tap = \"45 C\"\n[tanks.A]\nvolume = \"600 ml\"\nreels = 2\n[tanks.B]\nvolume = \"600 ml\"\nreels = 2\n";
        std::fs::write(folder.path().join("config.toml"), tanks).unwrap();
        let class = Self { folder };
        class.good(&["record", "add", "mixed", "mq-borax-classic", litres, "--bottle", "D3"]);
        class.good(&["record", "add", "mixed", "acetic-acid-stop-bath", "1L", "--bottle", "S1"]);
        class
    }

    fn path(&self, name: &str) -> std::path::PathBuf {
        self.folder.path().join(name)
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        command(arguments)
            .env("SOUPCON_JOURNAL", self.path("journal.toml"))
            .env("SOUPCON_CONFIG", self.path("config.toml"))
            .output()
            .unwrap()
            .into()
    }

    fn good(&self, arguments: &[&str]) -> Ran {
        let ran = self.run(arguments);
        assert_eq!(ran.code, 0, "{arguments:?}: {}", ran.whole());
        ran
    }

    fn entries(&self) -> usize {
        self.good(&["record", "list", "--json"]).json()["entries"].as_array().unwrap().len()
    }
}

fn develop_s(told: &serde_json::Value, tank: usize) -> i64 {
    let step = &told["tanks"][tank]["steps"][0];
    assert_eq!(step["name"], "develop");
    step["end_s"].as_i64().unwrap() - step["start_s"].as_i64().unwrap()
}

#[test]
fn films_and_a_bottle_are_an_evening_that_is_recorded_and_repeated() {
    let class = Class::new("2L");
    let known = ["record", "add", "developed", "8min", "--bottle", "D3", "--film", "my 400 film"];
    class.good(&[&known[..], &["--films", "2x135-36", "--tank", "600ml", "--dilution", "stock"]].concat());
    let told = class.good(&["evening", "4x135-36", "D3", "--start", "19:30", "--json"]).json();
    // Two reels a tank; each takes what the class rule adds for the films that went through: a litre has had one, then two.
    assert_eq!(told["tanks"].as_array().unwrap().len(), 2);
    let (first, second) = (develop_s(&told, 0), develop_s(&told, 1));
    assert!(first >= 480 && second > first, "{first} {second}");
    assert_eq!((first % 5, second % 5), (0, 0));
    assert_eq!(told["needs"][0]["bottle"], "D3");
    assert_eq!(told["needs"][0]["enough"], true);
    assert!(told["needs"].as_array().unwrap().iter().any(|own| own["bottle"] == "S1"));
    let lines = told["record"].as_array().unwrap();
    assert!(lines.iter().all(|own| own.as_str().unwrap().contains("--film 'my 400 film'")), "{lines:?}");
    let before = class.entries();
    class.good(&["evening", "4x135-36", "D3", "--record"]);
    assert_eq!(class.entries(), before + 2);
    // By then the bottle has had six films, and two litres of it do eight (4 a litre, stated): it says so, and ends with 1.
    let again = class.run(&["evening", "again", "--json"]);
    assert_eq!(again.code, 1);
    let again = again.json();
    assert!(again["missing"][0].as_str().unwrap().contains("2 more films"), "{}", again["missing"]);
    // That day's three loads, in the order in which they were written.
    assert_eq!(again["tanks"].as_array().unwrap().len(), 3);
    assert_eq!((develop_s(&again, 1), develop_s(&again, 2)), (first, second));
    assert_eq!(again["needs"][0]["each_ml"], 600.0);
}

#[test]
fn a_line_to_paste_runs_as_it_is_printed() {
    let class = Class::new("2L");
    let file = class.path("evening.toml");
    let text = "[[tanks]]\nname = \"A\"\nbottle = \"D3\"\nfilm = \"Bea's 400 -- half --stop\"\nfilms = \"2x135-36\"\nvolume = \"600ml\"\ndeveloper = \"mq-borax-classic\"\nuse = \"undiluted\"\ntime = \"8min\"\n\
                [[tanks]]\nname = \"B\"\nfilms = \"1x120\"\nvolume = \"500ml\"\ndeveloper = \"two-bath-metol-sulfite-borax\"\ntime = \"4min + 3min\"\nway = \"rotary\"\n";
    std::fs::write(&file, text).unwrap();
    let shown = class.good(&["evening", file.to_str().unwrap()]).out;
    // The commands as a person copies them from the terminal, line ends and all.
    let from = shown.find("soupcon record add").unwrap();
    let script = format!("set -e\nsoupcon() {{ \"$SOUPCON\" \"$@\"; }}\n{}", &shown[from..]);
    let ran: Ran = Command::new("sh")
        .args(["-c", &script])
        .env_clear()
        .env("SOUPCON", env!("CARGO_BIN_EXE_soupcon"))
        .env("SOUPCON_JOURNAL", class.path("journal.toml"))
        .output()
        .unwrap()
        .into();
    assert_eq!(ran.code, 0, "{script}\n{}", ran.whole());
    let entries = class.good(&["record", "list", "--json"]).json();
    let developed: Vec<_> =
        entries["entries"].as_array().unwrap().iter().filter(|own| own["kind"] == "developed").collect();
    assert_eq!(developed.len(), 2, "{entries}");
    assert_eq!(developed[0]["film"], "Bea's 400 -- half --stop");
    // The same lines are what --record writes.
    let before = class.entries();
    class.good(&["evening", file.to_str().unwrap(), "--record"]);
    assert_eq!(class.entries(), before + 2);
}

#[test]
fn a_bottle_that_holds_too_little_is_told_before_anything_is_mixed() {
    let class = Class::new("1L");
    let one = ["--bottle", "D3", "--films", "1x135-36", "--tank", "290ml"];
    class.good(&[&["record", "add", "developed", "8min"][..], &one].concat());
    let ran = class.run(&["evening", "4x135-36", "D3", "--json"]);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    let told = ran.json();
    assert_eq!(told["needs"][0]["enough"], false);
    assert_eq!(
        (told["needs"][0]["drawn_ml"].as_f64(), told["needs"][0]["holds_ml"].as_f64()),
        (Some(1200.0), Some(1000.0))
    );
    assert!(told["missing"].to_string().contains("200 mL too little"), "{}", told["missing"]);
    let unknown = class.run(&["evening", "4x135-36", "D9"]);
    assert_eq!(unknown.code, 2);
    assert!(unknown.err.contains("D3"), "{}", unknown.err);
    let crowd = class.run(&["evening", "7x135-36", "D3"]);
    assert_eq!(crowd.code, 1);
    assert!(crowd.whole().contains("3 of them find no room"), "{}", crowd.whole());
}

/// Heat given is heat taken (4.18 J/gK): 1.2 L from 14 to 20 °C by water that goes from 24 to 20 °C takes 1.8 L of it, and a little more for
/// the glass; 1.2 L of water at 20 °C from taps of 45 and 12 °C is 8/33 hot.
#[test]
fn a_water_bath_ends_at_the_target_with_its_litres() {
    let class = Class::new("2L");
    let file = class.path("evening.toml");
    let tank = "[[tanks]]\nbottle = \"D3\"\nfilms = \"2x135-36\"\nvolume = \"600ml\"\ndeveloper = \"mq-borax-classic\"\nuse = \"undiluted\"\ntime = \"8min\"\n";
    let times = "[times]\nstop = \"0s\"\nfix = \"0s\"\nwash = \"0s\"\naid = \"0s\"\n";
    std::fs::write(&file, format!("bottles_at = \"14C\"\n{times}{tank}{tank}")).unwrap();
    let told = class.good(&["evening", file.to_str().unwrap(), "--json"]).json();
    let fact = |name: &str| {
        let all = told["before"].as_array().unwrap();
        all.iter()
            .find(|own| own["name"] == name)
            .map(|own| own["text"].as_str().unwrap().to_owned())
            .unwrap()
    };
    let litres = |text: &str, before: &str| -> f64 {
        let head = text.split(before).next().unwrap();
        head.rsplit(' ').next().unwrap().parse().unwrap()
    };
    let bath = litres(&fact("warm"), " L of water at 24 °C");
    assert!((1.8..2.1).contains(&bath), "{}", fact("warm"));
    // Rinsing takes 1.2 L.
    let hot = litres(&fact("water"), " L of 45 °C");
    assert!((hot - 1.2 * 8.0 / 33.0).abs() < 0.01, "{}", fact("water"));
}

#[test]
fn without_a_journal_nothing_is_known_and_that_is_said() {
    let ran = soupcon(&["evening", "4films", "D3"]);
    assert_eq!(ran.code, 2, "{}", ran.whole());
    let ran = soupcon(&["evening", "4films"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("bottle"), "{}", ran.err);
    assert!(!Path::new("4films").exists());
}
