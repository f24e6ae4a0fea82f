use super::*;

#[test]
fn five_shells_get_a_script_that_knows_every_command() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = good(&["completions", shell]).out;
        for word in ["scale", "completions", "balance"] {
            assert!(script.contains(word), "{shell} lacks {word}");
        }
    }
    assert_eq!(soupcon(&["completions", "tcsh"]).code, 2);
    assert_eq!(soupcon(&["completions", "bash", "--json"]).code, 2);
}

#[test]
fn bash_takes_the_script_and_completes_a_command() {
    let script = good(&["completions", "bash"]).out;
    let ask = format!(
        "{script}\nCOMP_WORDS=(soupcon sca); COMP_CWORD=1; _soupcon soupcon sca soupcon; echo \"${{COMPREPLY[@]}}\""
    );
    let Ok(output) = std::process::Command::new("bash").args(["--norc", "-c", &ask]).output() else {
        return;
    };
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    assert_eq!(String::from_utf8_lossy(&output.stdout).trim(), "scale");
}
