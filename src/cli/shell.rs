//! Names in commands that a person copies out of a remedy.

use std::path::Path;

/// A path that a POSIX shell reads as one word; plain ones stay as they are.
///
/// Source: POSIX.1-2017, Shell Command Language, 2.2.2 Single-Quotes.
pub(super) fn quoted(path: &Path) -> String {
    let text = path.display().to_string();
    quoted_word(&if text.starts_with('-') { format!("./{text}") } else { text })
}

/// The same of any word.
pub(super) fn quoted_word(text: &str) -> String {
    let is_plain = |letter: char| {
        letter.is_ascii_alphanumeric() || matches!(letter, '/' | '.' | '_' | '-' | '+' | ',' | ':')
    };
    if !text.is_empty() && text.chars().all(is_plain) {
        text.to_owned()
    } else {
        format!("'{}'", text.replace('\'', "'\\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shell_reads_back_the_very_path() {
        for (path, word) in [
            ("pages/x", "pages/x"),
            ("my pages", "'my pages'"),
            ("a'b;touch pwn", r"'a'\''b;touch pwn'"),
            ("-rf", "./-rf"),
            ("$(id)", "'$(id)'"),
            ("", "''"),
        ] {
            assert_eq!(quoted(Path::new(path)), word);
        }
    }
}
