//! Random text from the words of the files, and changes to it.

use super::*;

/// Longest that one case may take, on a busy machine and unoptimised.
pub(super) const LONGEST: Duration = Duration::from_secs(10);

/// A small generator whose whole state is one number (splitmix64).
pub(super) struct Random(pub(super) u64);

impl Random {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    pub(super) fn below(&mut self, end: usize) -> usize {
        let end = u64::try_from(end.max(1)).unwrap();
        usize::try_from(self.next() % end).unwrap()
    }

    fn pick<'t, T>(&mut self, from: &'t [T]) -> &'t T {
        &from[self.below(from.len())]
    }
}

/// Tokens that readers find hard.
pub(super) const TOKENS: &[&str] = &[
    "0",
    "-0",
    "1",
    "-1",
    "2.5",
    "1e308",
    "-1e308",
    "1e-308",
    "5e-324",
    "1e400",
    "nan",
    "inf",
    "-inf",
    "0x10",
    "1_000",
    "1,5",
    "1.5.2",
    "9223372036854775808",
    "true",
    "1979-05-27",
    "07:32:00",
    "\"\"",
    "''",
    "[]",
    "{}",
    "[[",
    "]]",
    "[",
    "]",
    "{",
    "}",
    "=",
    ".",
    ",",
    "#",
    "\"",
    "'",
    "\"\"\"",
    "\\",
    "\\u0000",
    "\\u202e",
    "\\x1b",
    "\u{1b}[2J",
    "\u{202e}",
    "\u{200b}",
    "\u{feff}",
    "\0",
    "\r",
    "\r\n",
    "\t",
    "°",
    "µ",
    "·",
    "²",
    "漢字",
    "\u{1f469}\u{200d}\u{1f52c}",
    "e\u{301}",
    "[[ingredients]]",
    "[[parts]]",
    "[[parts.ingredients]]",
    "[mixing]",
    "[[use]]",
    "[keeping]",
    "[capacity]",
    "[stated]",
    "[[forms]]",
    "[[entry]]",
    "end = true",
    "substance",
    "grams",
    "millilitres",
    "strength",
    "amount",
    "per",
    "format = 1",
    "\"metol\"",
    "\"hydroquinone\"",
    "\"sodium-sulfite-anhydrous\"",
    "\"sodium-hydroxide\"",
    "\"acetic-acid-glacial\"",
    "\"sulfuric-acid\"",
    "\"phenidone\"",
    "\"borax-decahydrate\"",
    "\"potassium-dichromate\"",
    "\"sodium-thiosulfate-pentahydrate\"",
    "\"sodium-carbonate\"",
    "\"film-developer\"",
    "\"fixer\"",
    "\"memory\"",
    "\"10 % w/v\"",
    "\"99 % w/w\"",
    "\"1 us-gal\"",
    "\"20 grain\"",
    "g",
    "mg",
    "kg",
    "ml",
    "mL",
    "L",
    "us-floz",
    "imp-gal",
    "oz",
    "C",
    "F",
    "K",
    "min",
    "s",
    "h",
    "%",
    "w/v",
    "w/w",
    "v/v",
    "+",
    ":",
    "1+1",
    "1:10",
    "1+1+100",
    "stock",
    "1/4",
    "1 1/2",
    "H2O",
    "Na2CO3.10H2O",
    "(NH4)2SO4",
    ".7H2O",
    "(",
    ")",
    "9999",
    "2026-11-25",
    "2024-02-30",
];

/// Changes a text in one to four places.
pub(super) fn mutated(seed: &[u8], others: &[Vec<u8>], random: &mut Random) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for _ in 0..=random.below(4) {
        match random.below(12) {
            0 if !bytes.is_empty() => {
                let at = random.below(bytes.len());
                bytes[at] ^= 1 << random.below(8);
            }
            1 => {
                let at = random.below(bytes.len() + 1);
                let token = random.pick(TOKENS).as_bytes();
                bytes.splice(at..at, token.iter().copied());
            }
            2 => {
                bytes.truncate(random.below(bytes.len() + 1));
            }
            3 => {
                let start = random.below(bytes.len() + 1);
                let end = (start + random.below(40)).min(bytes.len());
                bytes.drain(start..end);
            }
            4 => {
                let other = random.pick(others);
                let start = random.below(other.len() + 1);
                let end = (start + random.below(300)).min(other.len());
                let at = random.below(bytes.len() + 1);
                bytes.splice(at..at, other[start..end].iter().copied());
            }
            5..=7 => {
                let mut lines: Vec<&[u8]> = bytes.split_inclusive(|&byte| byte == b'\n').collect();
                if lines.is_empty() {
                    continue;
                }
                let (one, two) = (random.below(lines.len()), random.below(lines.len()));
                match random.below(3) {
                    0 => drop(lines.remove(one)),
                    1 => lines.insert(two, lines[one]),
                    _ => lines.swap(one, two),
                }
                bytes = lines.concat();
            }
            _ => replace_a_token(&mut bytes, random),
        }
    }
    bytes
}

/// Puts another token in the place of one.
pub(super) fn replace_a_token(bytes: &mut Vec<u8>, random: &mut Random) {
    let is_gap = |byte: &u8| matches!(byte, b' ' | b'\n' | b'=' | b',');
    let from = random.below(bytes.len() + 1);
    let Some(start) = bytes[from..].iter().position(|byte| !is_gap(byte)).map(|offset| from + offset) else {
        return;
    };
    let end = bytes[start..].iter().position(is_gap).map_or(bytes.len(), |offset| start + offset);
    let token = random.pick(TOKENS).as_bytes();
    bytes.splice(start..end, token.iter().copied());
}
