//! The same text for printers and terminals that know ASCII only.

/// Replaces every character outside ASCII by its nearest spelling: `20 °C` becomes `20 deg C`.
pub fn to_ascii(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '°' => plain.push_str("deg "),
            'µ' | 'μ' => plain.push('u'),
            '×' => plain.push('x'),
            '·' | '\u{2801}'..='\u{28ff}' => plain.push('.'),
            '−' | '–' | '—' | '‐' | '‑' | '─' | '╌' => plain.push('-'),
            '≥' => plain.push_str(">="),
            '≤' => plain.push_str("<="),
            '±' => plain.push_str("+/-"),
            '→' => plain.push_str("->"),
            '…' => plain.push_str("..."),
            '“' | '”' | '„' => plain.push('"'),
            '‘' | '’' => plain.push('\''),
            '²' => plain.push('2'),
            '³' => plain.push('3'),
            '\u{2080}'..='\u{2089}' => {
                plain.extend(char::from_digit(u32::from(character) - 0x2080, 10));
            }
            'ä' => plain.push_str("ae"),
            'ö' => plain.push_str("oe"),
            'ü' => plain.push_str("ue"),
            'ß' => plain.push_str("ss"),
            'é' | 'è' | 'ê' => plain.push('e'),
            'ç' => plain.push('c'),
            'å' | 'à' => plain.push('a'),
            '│' => plain.push('|'),
            '└' | '┘' | '┴' => plain.push('+'),
            '●' => plain.push('o'),
            '\u{a0}' | '\u{202f}' | '\u{2009}' => plain.push(' '),
            ascii if ascii.is_ascii() => plain.push(ascii),
            _ => plain.push('?'),
        }
    }
    plain
}

/// The same page in ASCII: other characters become numeric references, which a browser shows as they were.
pub fn to_ascii_page(page: &str) -> String {
    let mut plain = String::with_capacity(page.len());
    for character in page.chars() {
        if character.is_ascii() {
            plain.push(character);
        } else {
            plain.push_str(&format!("&#{};", u32::from(character)));
        }
    }
    plain
}
