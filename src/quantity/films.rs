//! Films: how many of which size, as area and as the trade counts them.
//!
//! Areas: width times length of the perforated or backed strip, perforations not taken off. 135 is 34.975 mm wide, a frame takes 38.0 mm
//! (eight perforations of 0.1870 in), leader and trailer together 250 mm (ISO 1007 fixes the sizes; the width and the 250 mm are
//! memory). 120: 61.5 by 830 mm, 220: 61.5 by 1650 mm, 127: 46 by 610 mm, 110: 16 by 710 mm (lengths: memory). Sheets: nominal size; they
//! are cut one or two millimetres smaller, which is ignored. The trade's counts are common practice, no source.

use std::fmt;
use std::str::FromStr;

use super::QuantityError;
use super::number::parse_number;
use super::rounding::show_short;

/// Area of one film as formulas count it, cm²: 80 square inches, one sheet of 8 by 10 in.
pub const UNIT_CM2: f64 = 516.128;

/// Width of 135 film, mm. Source: 1 3/8 in; memory to the last digit.
const WIDTH_135_MM: f64 = 34.975;
/// Length that one frame of 135 takes, mm. Source: eight perforations of 0.1870 in.
const PITCH_135_MM: f64 = 38.0;
/// Leader and trailer of 135 together, mm. Source: memory (230 to 250).
const ENDS_135_MM: f64 = 250.0;
/// Frames of 135 where none are named.
const USUAL_FRAMES: u32 = 36;
/// Most films in one amount.
const MOST: f64 = 100_000.0;

const HOW: &str = "4films, 2x135, 135-24, 1x120 or 6x4x5in, several with a comma: 2x135-36,1x120";

/// Size of a film.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Format {
    /// A film of 516.128 cm², nothing else said.
    Unit,
    /// 135 with so many frames.
    Small(u32),
    /// 120.
    Roll120,
    /// 220.
    Roll220,
    /// 127.
    Roll127,
    /// 110.
    Roll110,
    /// A sheet; sides in the unit named.
    Sheet {
        /// Shorter or first side.
        width: f64,
        /// The other side.
        height: f64,
        /// Inches, else centimetres.
        is_inches: bool,
    },
}

impl Format {
    fn area_cm2(self) -> f64 {
        match self {
            Self::Unit => UNIT_CM2,
            Self::Small(frames) => WIDTH_135_MM * (f64::from(frames) * PITCH_135_MM + ENDS_135_MM) / 100.0,
            Self::Roll120 => 61.5 * 830.0 / 100.0,
            Self::Roll220 => 61.5 * 1650.0 / 100.0,
            Self::Roll127 => 46.0 * 610.0 / 100.0,
            Self::Roll110 => 16.0 * 710.0 / 100.0,
            Self::Sheet { width, height, is_inches } => {
                let side = if is_inches { 2.54 } else { 1.0 };
                width * height * side * side
            }
        }
    }

    /// As the trade counts: a roll is one film whatever its frames, a short one half.
    fn trade(self) -> f64 {
        match self {
            Self::Unit | Self::Roll120 => 1.0,
            Self::Small(frames) if frames <= 12 => 0.5,
            Self::Small(frames) => (f64::from(frames) / f64::from(USUAL_FRAMES)).max(1.0),
            Self::Roll220 => 2.0,
            Self::Roll127 => 0.5,
            Self::Roll110 => 0.25,
            Self::Sheet { .. } => self.area_cm2() / UNIT_CM2,
        }
    }

    fn name(self) -> String {
        match self {
            Self::Unit => "films".to_owned(),
            Self::Small(frames) => format!("135-{frames}"),
            Self::Roll120 => "120".to_owned(),
            Self::Roll220 => "220".to_owned(),
            Self::Roll127 => "127".to_owned(),
            Self::Roll110 => "110".to_owned(),
            Self::Sheet { width, height, is_inches } => {
                format!("{width}x{height}{}", if is_inches { "in" } else { "cm" })
            }
        }
    }

    fn parse(text: &str) -> Option<Self> {
        if let Some(frames) = text.strip_prefix("135-") {
            return frames.parse().ok().filter(|frames| (1..=250).contains(frames)).map(Self::Small);
        }
        Some(match text {
            "135" => Self::Small(USUAL_FRAMES),
            "120" => Self::Roll120,
            "220" => Self::Roll220,
            "127" => Self::Roll127,
            "110" | "110-24" => Self::Roll110,
            "film" | "films" => Self::Unit,
            _ => return None,
        })
    }

    fn sheet(width: &str, height: &str) -> Option<Self> {
        let (height, is_inches) = match (height.strip_suffix("in"), height.strip_suffix("cm")) {
            (Some(inches), _) => (inches, true),
            (None, Some(centimetres)) => (centimetres, false),
            (None, None) => return None,
        };
        let side = |text: &str| parse_number(text).ok().filter(|side| (0.5..=200.0).contains(side));
        Some(Self::Sheet { width: side(width)?, height: side(height)?, is_inches })
    }
}

/// So many films of one size.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Lot {
    count: u32,
    format: Format,
}

/// An amount of films, at least one.
#[derive(Debug, Clone, PartialEq)]
pub struct Films {
    lots: Vec<Lot>,
}

impl Films {
    /// So many films of 516.128 cm² each; none of zero.
    pub fn of_units(count: u32) -> Option<Self> {
        (count > 0).then(|| Self { lots: vec![Lot { count, format: Format::Unit }] })
    }

    /// The whole area, cm².
    pub fn area_cm2(&self) -> f64 {
        self.lots.iter().map(|lot| f64::from(lot.count) * lot.format.area_cm2()).sum()
    }

    /// The area in films of 516.128 cm²: the count against a limit given in area.
    pub fn units(&self) -> f64 {
        self.area_cm2() / UNIT_CM2
    }

    /// As the trade counts rolls: the count against a limit given per roll.
    pub fn trade(&self) -> f64 {
        self.lots.iter().map(|lot| f64::from(lot.count) * lot.format.trade()).sum()
    }

    /// Pieces, sheets or rolls, whatever their size.
    pub fn pieces(&self) -> u32 {
        self.lots.iter().map(|lot| lot.count).sum()
    }

    /// Rolls of 135 and their like, of 120 and 220, and sheets: what must find room in a tank.
    pub fn reels(&self) -> Reels {
        let count = |wanted: fn(&Format) -> bool| {
            self.lots.iter().filter(|lot| wanted(&lot.format)).map(|lot| lot.count).sum()
        };
        Reels {
            narrow: count(|format| {
                matches!(format, Format::Unit | Format::Small(_) | Format::Roll127 | Format::Roll110)
            }),
            wide: count(|format| matches!(format, Format::Roll120 | Format::Roll220)),
            sheets: count(|format| matches!(format, Format::Sheet { .. })),
        }
    }

    /// In words: `2 films 135-36 and 6 sheets 4x5in`.
    pub fn words(&self) -> String {
        let lot = |lot: &Lot| {
            let plural = if lot.count == 1 { "" } else { "s" };
            match lot.format {
                Format::Unit => format!("{} film{plural}", lot.count),
                Format::Sheet { .. } => format!("{} sheet{plural} {}", lot.count, lot.format.name()),
                _ => format!("{} film{plural} {}", lot.count, lot.format.name()),
            }
        };
        let words: Vec<String> = self.lots.iter().map(lot).collect();
        match words.split_last() {
            Some((last, [])) => last.clone(),
            Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
            None => String::new(),
        }
    }

    /// Both counts in words: `1132 cm2, 2.19 films by area, 2 by the trade's count`.
    pub fn counts(&self) -> String {
        let (area, trade) = (show_short(self.units(), 2), show_short(self.trade(), 2));
        let area_cm2 = show_short(self.area_cm2(), 0);
        if area == trade {
            format!("{area_cm2} cm², {area} film{}", if area == "1" { "" } else { "s" })
        } else {
            format!("{area_cm2} cm², {area} by area, {trade} by the trade's count")
        }
    }
}

/// How many of each kind must find room in a tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Reels {
    /// 135 and narrower, and films of no named size.
    pub narrow: u32,
    /// 120 and 220.
    pub wide: u32,
    /// Sheet film of any size.
    pub sheets: u32,
}

impl FromStr for Films {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let plain = text.trim().to_lowercase().replace('×', "x").replace(char::is_whitespace, "");
        let wrong = || QuantityError::NotFilms { text: text.trim().chars().take(80).collect(), how: HOW };
        if plain.is_empty() {
            return Err(QuantityError::Empty);
        }
        if plain.bytes().all(|byte| byte.is_ascii_digit()) && Format::parse(&plain).is_none() {
            return Err(QuantityError::NoUnit { kind: "number of films", examples: HOW });
        }
        let mut lots = Vec::new();
        for piece in plain.split(',') {
            let lot = lot(piece).ok_or_else(wrong)?;
            if lot.count == 0 {
                return Err(QuantityError::Zero { kind: "number of films", text: piece.to_owned() });
            }
            lots.push(lot);
        }
        let films = Self { lots };
        if films.lots.iter().map(|lot| f64::from(lot.count)).sum::<f64>() > MOST {
            return Err(QuantityError::TooLarge { text: text.trim().to_owned() });
        }
        Ok(films)
    }
}

/// One piece between commas, without spaces, in lower case.
fn lot(piece: &str) -> Option<Lot> {
    let one = |format| Lot { count: 1, format };
    if let Some(count) = piece.strip_suffix("films").or_else(|| piece.strip_suffix("film")) {
        let count = count.strip_suffix('x').unwrap_or(count);
        return Some(Lot { count: count.parse().ok()?, format: Format::Unit });
    }
    let parts: Vec<&str> = piece.split('x').collect();
    match parts.as_slice() {
        [format] => Format::parse(format).map(one),
        [first, second] => match Format::sheet(first, second) {
            Some(sheet) => Some(one(sheet)),
            None => Some(Lot { count: first.parse().ok()?, format: Format::parse(second)? }),
        },
        [count, width, height] => {
            Some(Lot { count: count.parse().ok()?, format: Format::sheet(width, height)? })
        }
        _ => None,
    }
}

impl fmt::Display for Films {
    /// As it may be typed again: `2x135-36,1x120,6x4x5in`.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, lot) in self.lots.iter().enumerate() {
            let comma = if index == 0 { "" } else { "," };
            match lot.format {
                Format::Unit => {
                    write!(formatter, "{comma}{}film{}", lot.count, if lot.count == 1 { "" } else { "s" })?;
                }
                format => write!(formatter, "{comma}{}x{}", lot.count, format.name())?,
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn films(text: &str) -> Films {
        text.parse().unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    #[test]
    fn films_are_read_as_the_trade_writes_them() {
        for (text, canonical) in [
            ("4films", "4films"),
            ("1 film", "1film"),
            ("4 x films", "4films"),
            ("2x135", "2x135-36"),
            ("135", "1x135-36"),
            ("2 × 135-24", "2x135-24"),
            ("2x135-36,1x120,6x4x5in", "2x135-36,1x120,6x4x5in"),
            ("4x5in", "1x4x5in"),
            ("3x9x12cm", "3x9x12cm"),
            ("2x2.25x3.25in", "2x2.25x3.25in"),
            ("220, 127, 110-24", "1x220,1x127,1x110"),
        ] {
            assert_eq!(films(text).to_string(), canonical, "{text}");
            assert_eq!(films(canonical), films(text));
        }
        for text in [
            "",
            "4",
            "0films",
            "2x136",
            "2x135-0",
            "x135",
            "2x",
            "4x5",
            "-1films",
            "1.5films",
            "2x135,",
            ",",
            "2x4x5x6in",
            "99999999films",
            "3x0x5in",
            "500ml",
        ] {
            assert!(text.parse::<Films>().is_err(), "{text}");
        }
    }

    // Common practice, no source: rolls are counted as one whatever the frames, short ones as half, sheets by their area.
    #[test]
    fn the_trade_counts_rolls() {
        for (text, count) in
            [("135-24", 1.0), ("135-12", 0.5), ("120", 1.0), ("220", 2.0), ("4x4x5in", 1.0), ("8x10in", 1.0)]
        {
            assert!((films(text).trade() - count).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn words_say_what_and_both_counts() {
        assert_eq!(films("2x135-36,1x120,6x4x5in").words(), "2 films 135-36, 1 film 120 and 6 sheets 4x5in");
        assert_eq!(films("2x135").counts(), "1132 cm², 2.19 by area, 2 by the trade's count");
        assert_eq!(films("4films").counts(), "2065 cm², 4 films");
    }
}
