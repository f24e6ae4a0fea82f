use super::*;
use std::process::Stdio;

#[test]
fn a_closed_pipe_ends_quietly() {
    let mut child = command(&["list"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_reported_without_a_panic() {
    for arguments in [vec!["list"], vec!["--help"], vec!["sheet", "mq-borax-classic", "1L"]] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let output = command(&arguments)
            .stdout(full)
            .stderr(Stdio::piped())
            .spawn()
            .unwrap()
            .wait_with_output()
            .unwrap();
        assert_eq!(output.status.code(), Some(1), "{arguments:?}");
        assert!(!String::from_utf8_lossy(&output.stderr).contains("panicked"));
    }
}

#[test]
fn the_same_input_gives_the_same_bytes_in_any_locale() {
    let plain = good(&["scale", "mq-borax-classic", "500ml", "--json"]).out;
    for locale in ["C", "de_DE.UTF-8", "tr_TR.UTF-8"] {
        let output = command(&["scale", "mq-borax-classic", "500ml", "--json"])
            .env("LC_ALL", locale)
            .output()
            .unwrap();
        assert_eq!(String::from_utf8(output.stdout).unwrap(), plain);
    }
}
