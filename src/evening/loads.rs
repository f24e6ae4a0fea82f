//! Films shared out over the tanks that there are.

use crate::quantity::Films;

/// A tank that may be loaded.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TankRoom {
    pub name: String,
    /// What covers its reels, mL.
    pub volume_ml: f64,
    /// Reels of 135 that it holds; a 120 takes the room of two.
    pub reels: u32,
}

/// A tank and its films.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Load {
    pub room: TankRoom,
    /// What goes in.
    pub films: Films,
}

/// Films as single pieces: room on reels, and the size as it is typed.
fn pieces(films: &Films) -> Vec<(u32, String)> {
    let mut all = Vec::new();
    for lot in films.to_string().split(',') {
        let digits = lot.bytes().take_while(u8::is_ascii_digit).count();
        let (count, size) = lot.split_at(digits);
        let size = size.strip_prefix('x').unwrap_or(size).trim_end_matches("films").trim_end_matches("film");
        let room = if size == "120" || size == "220" { 2 } else { 1 };
        for _ in 0..count.parse::<u32>().unwrap_or(0) {
            all.push((room, size.to_owned()));
        }
    }
    all
}

fn joined(sizes: &[String]) -> Option<Films> {
    let mut lots: Vec<(usize, &String)> = Vec::new();
    for size in sizes {
        match lots.last_mut().filter(|(_, own)| *own == size) {
            Some((count, _)) => *count += 1,
            None => lots.push((1, size)),
        }
    }
    let words: Vec<String> = lots
        .iter()
        .map(
            |(count, size)| if size.is_empty() { format!("{count}films") } else { format!("{count}x{size}") },
        )
        .collect();
    words.join(",").parse().ok()
}

/// Puts films into tanks, each tank used once, the largest first; the last load goes into the smallest that holds it. Wide films stand before
/// narrow ones, so that none is left over for want of two places.
///
/// # Errors
/// How many films find no room.
pub(crate) fn loads(films: &Films, rooms: &[TankRoom]) -> Result<Vec<Load>, usize> {
    let mut rest = pieces(films);
    rest.sort_by_key(|own| std::cmp::Reverse(own.0));
    let mut rooms = rooms.to_vec();
    rooms.sort_by(|one, other| other.reels.cmp(&one.reels).then_with(|| one.name.cmp(&other.name)));
    let mut all = Vec::new();
    while !rest.is_empty() {
        let places: u32 = rest.iter().map(|own| own.0).sum();
        let fitting = rooms
            .iter()
            .enumerate()
            .filter(|(_, room)| room.reels >= places)
            .min_by(|one, other| one.1.volume_ml.total_cmp(&other.1.volume_ml))
            .map(|(place, _)| place);
        if rooms.is_empty() {
            return Err(rest.len());
        }
        let room = rooms.remove(fitting.unwrap_or(0));
        let mut left = room.reels;
        let mut loads = Vec::new();
        rest.retain(|(places, size)| {
            let fits = *places <= left;
            if fits {
                left -= places;
                loads.push(size.clone());
            }
            !fits
        });
        if let Some(films) = joined(&loads) {
            all.push(Load { room, films });
        }
    }
    all.sort_by(|one, other| one.room.name.cmp(&other.room.name));
    Ok(all)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::restriction, reason = "a panic is how a test fails")]
    use super::*;

    fn room(name: &str, volume_ml: f64, reels: u32) -> TankRoom {
        TankRoom { name: name.to_owned(), volume_ml, reels }
    }

    fn told(films: &str, rooms: &[TankRoom]) -> Vec<String> {
        let all = loads(&films.parse().unwrap(), rooms).unwrap();
        all.iter().map(|own| format!("{} {}", own.room.name, own.films)).collect()
    }

    /// Counted by hand: a 120 takes the room of two reels of 135.
    #[test]
    fn films_find_room() {
        let rooms = [room("A", 600.0, 2), room("B", 600.0, 2), room("C", 290.0, 1)];
        assert_eq!(told("4x135-36", &rooms), ["A 2x135-36", "B 2x135-36"]);
        assert_eq!(told("3films", &rooms), ["A 2films", "C 1film"]);
        assert_eq!(told("1x135-36", &rooms), ["C 1x135-36"]);
        assert_eq!(told("2x135-36,1x120", &rooms), ["A 1x120", "B 2x135-36"]);
        assert_eq!(loads(&"7films".parse().unwrap(), &rooms), Err(2));
    }
}
