//! How much of each bath an evening needs.

use super::file::Evening;

/// A bath in the order of use.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// Bath: developer, stop, fixer, rinse, washing aid, wash, wetting.
    pub bath: &'static str,
    /// Of all tanks together, mL; none where a tank's volume is not given.
    pub volume_ml: Option<f64>,
    /// How often it is poured afresh, and how much each time, mL.
    pub fresh: (usize, Option<f64>),
    /// Formula as named.
    pub formula: Option<String>,
    /// How it is used, as named.
    pub use_name: Option<String>,
    /// Bottle as named.
    pub bottle: Option<String>,
}

/// The baths in order. A developer is poured afresh for each tank, water for rinsing too; the rest serves one tank after the other.
/// `fills` is the number of fills of a wash in the tank; none for a hose, which is not counted.
pub fn needs(evening: &Evening, fills: Option<usize>) -> Vec<Need> {
    let mut all: Vec<Need> = Vec::new();
    for tank in &evening.tanks {
        let volume = tank.volume.map(crate::quantity::Volume::as_ml);
        let same = all.iter_mut().find(|own| {
            own.formula == tank.developer
                && own.use_name == tank.use_name
                && own.bottle == tank.bottle
                && own.fresh.1 == volume
        });
        if let Some(own) = same {
            own.fresh.0 += 1;
            own.volume_ml = own.volume_ml.zip(volume).map(|(sum, own)| sum + own);
        } else {
            all.push(Need {
                bath: "developer",
                volume_ml: volume,
                fresh: (1, volume),
                formula: tank.developer.clone(),
                use_name: tank.use_name.clone(),
                bottle: tank.bottle.clone(),
            });
        }
    }
    let volumes: Option<Vec<f64>> =
        evening.tanks.iter().map(|own| own.volume.map(crate::quantity::Volume::as_ml)).collect();
    let largest = volumes.as_ref().map(|own| own.iter().copied().fold(0.0, f64::max));
    let sum = volumes.as_ref().map(|own| own.iter().sum::<f64>());
    let is_alike = volumes.as_ref().is_some_and(|own| own.iter().all(|ml| Some(*ml) == largest));
    let count = evening.tanks.len();
    if evening.tanks.iter().any(|own| own.presoak_s > 0) {
        all.insert(0, water("presoak", sum, (count, largest.filter(|_| is_alike))));
    }
    for (step, bath) in [
        ("stop", "stop"),
        ("fix", "fixer"),
        ("rinse", "rinse"),
        ("aid", "washing aid"),
        ("wash", "wash"),
        ("wetting", "wetting"),
    ] {
        if evening.time_s(step) == 0 {
            continue;
        }
        let key = if step == "fix" { "fixer" } else { step };
        let named = evening.baths.get(key);
        let once = Need {
            formula: named.and_then(|own| own.formula.clone()),
            bottle: named.and_then(|own| own.bottle.clone()),
            ..water(bath, largest, (1, largest))
        };
        match step {
            "rinse" => all.push(water(bath, sum, (count, largest.filter(|_| is_alike)))),
            "wash" => {
                if let Some(fills) = fills {
                    #[allow(clippy::cast_precision_loss, reason = "a few fills")]
                    let times = fills as f64;
                    all.push(water(
                        bath,
                        sum.map(|ml| ml * times),
                        (fills * count, largest.filter(|_| is_alike)),
                    ));
                }
            }
            _ => all.push(once),
        }
    }
    all
}

fn water(bath: &'static str, volume_ml: Option<f64>, fresh: (usize, Option<f64>)) -> Need {
    Need { bath, volume_ml, fresh, formula: None, use_name: None, bottle: None }
}
