//! From the fields of a chunk to an entry of its kind.

use super::entry::{
    Count, CurveMeasured, Developed, Discarded, Draw, Filled, Judged, Measurement, Mixed, Printed,
    Replenished, Taken,
};
use super::fields::{Fields, shown};
use super::unread::UnreadReason;
use super::{Date, Entry, Highlights, Shadows, Verdict};
use crate::quantity::{Films, MixRatio, Temperature};

/// The entry of that kind; unknown kinds come from a later version.
pub(super) fn build(kind: &str, fields: &mut Fields<'_>) -> Result<Entry, UnreadReason> {
    Ok(match kind {
        "mixed" => Entry::Mixed(mixed(fields)?),
        "developed" => Entry::Developed(developed(fields)?),
        "judged" => Entry::Judged(judged(fields)?),
        "replenished" => Entry::Replenished(replenished(fields)?),
        "measured" => Entry::Measured(measured(fields)?),
        "curve" => Entry::Curve(curve(fields)?),
        "printed" => Entry::Printed(printed(fields)?),
        "count" => Entry::Count(count(fields)?),
        "discarded" => Entry::Discarded(discarded(fields)?),
        _ => return Err(UnreadReason::Later { what: format!("kind `{}`", shown(kind)) }),
    })
}

fn damaged(error: &impl ToString) -> UnreadReason {
    UnreadReason::Damaged { what: error.to_string() }
}

fn date(fields: &mut Fields<'_>) -> Result<Date, UnreadReason> {
    fields.piece("date")?.parse().map_err(|error| damaged(&error))
}

fn dilution(fields: &mut Fields<'_>) -> Result<MixRatio, UnreadReason> {
    fields.piece("dilution")?.parse().map_err(|error| damaged(&error))
}

fn optional_films(fields: &mut Fields<'_>, key: &'static str) -> Result<Option<Films>, UnreadReason> {
    fields.optional_word(key, |text| text.parse().ok())
}

/// The one bottle of an entry; `bath` is how entries before there were bottles named it.
fn bottle(fields: &mut Fields<'_>) -> Result<String, UnreadReason> {
    match fields.optional_text("bottle")? {
        Some(bottle) => Ok(bottle),
        None => fields.text("bath"),
    }
}

fn bottles(fields: &mut Fields<'_>) -> Result<Vec<String>, UnreadReason> {
    let bottles = fields.texts("bottles")?;
    Ok(match fields.optional_text("bath")? {
        Some(bath) if bottles.is_empty() => vec![bath],
        _ => bottles,
    })
}

fn mixed(fields: &mut Fields<'_>) -> Result<Mixed, UnreadReason> {
    let volume_ml = fields.optional_figure("volume_ml")?;
    let of_old = fields.optional_text("bath")?;
    let bottles = fields.texts("bottles")?;
    let parts = fields.texts("parts")?;
    let volumes = fields.figures("volumes_ml", bottles.len())?;
    let mut filled: Vec<Filled> = bottles
        .into_iter()
        .zip(volumes)
        .enumerate()
        .map(|(index, (bottle, volume_ml))| Filled {
            bottle,
            part: parts.get(index).filter(|part| !part.is_empty()).cloned(),
            volume_ml,
        })
        .collect();
    filled.extend(of_old.map(|bottle| Filled { bottle, part: None, volume_ml }));
    let taken = fields.texts("taken")?;
    Ok(Mixed {
        date: date(fields)?,
        formula: fields.optional_text("formula")?,
        volume_ml,
        dilution: fields.optional_word("dilution", |text| text.parse().ok())?,
        filled,
        taken: taken.iter().map(|text| taken_from(text)).collect::<Result<_, _>>()?,
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}

/// `metol 2 g` as it was written.
fn taken_from(text: &str) -> Result<Taken, UnreadReason> {
    let wrong =
        || UnreadReason::Damaged { what: format!("taken `{}` is no form with its amount", shown(text)) };
    let mut words = text.split(' ');
    let (Some(form), Some(amount), Some(unit @ ("g" | "ml")), None) =
        (words.next(), words.next(), words.next(), words.next())
    else {
        return Err(wrong());
    };
    Ok(Taken { form: form.to_owned(), amount: amount.parse().map_err(|_| wrong())?, is_ml: unit == "ml" })
}

fn developed(fields: &mut Fields<'_>) -> Result<Developed, UnreadReason> {
    let bottles = fields.texts("bottles")?;
    let drawn = fields.figures("drawn_ml", bottles.len())?;
    let returned = fields.figures("returned_ml", bottles.len())?;
    let draws = bottles
        .into_iter()
        .zip(drawn.into_iter().zip(returned))
        .map(|(bottle, (drawn_ml, returned_ml))| Draw { bottle, drawn_ml, returned_ml });
    Ok(Developed {
        date: date(fields)?,
        film: fields.optional_text("film")?,
        formula: fields.text("formula")?,
        dilution: dilution(fields)?,
        temperature: Temperature::from_c(fields.figure("celsius")?),
        agitation: fields.text("agitation")?,
        minutes: fields.figure("minutes")?,
        gradient: fields.optional_figure("gradient")?,
        verdict: fields.optional_word("verdict", Verdict::from_word)?,
        shadows: fields.optional_word("shadows", Shadows::from_word)?,
        highlights: fields.optional_word("highlights", Highlights::from_word)?,
        films: optional_films(fields, "films")?,
        rolls: fields.texts("rolls")?,
        draws: draws.collect(),
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}

fn judged(fields: &mut Fields<'_>) -> Result<Judged, UnreadReason> {
    Ok(Judged {
        date: date(fields)?,
        roll: fields.text("roll")?,
        shadows: fields.optional_word("shadows", Shadows::from_word)?,
        highlights: fields.optional_word("highlights", Highlights::from_word)?,
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}

fn replenished(fields: &mut Fields<'_>) -> Result<Replenished, UnreadReason> {
    Ok(Replenished {
        date: date(fields)?,
        bottle: bottle(fields)?,
        formula: fields.optional_text("formula")?,
        volume_ml: fields.optional_figure("volume_ml")?,
        from: fields.optional_text("from")?,
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}

fn measured(fields: &mut Fields<'_>) -> Result<Measurement, UnreadReason> {
    Ok(Measurement {
        date: date(fields)?,
        subject: fields.text("subject")?,
        quantity: fields.text("quantity")?,
        value: fields.figure("value")?,
        unit: fields.optional_text("unit")?,
        film: fields.optional_text("film")?,
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}

fn curve(fields: &mut Fields<'_>) -> Result<CurveMeasured, UnreadReason> {
    Ok(CurveMeasured {
        date: date(fields)?,
        film: fields.text("film")?,
        formula: fields.text("formula")?,
        dilution: dilution(fields)?,
        temperature: Temperature::from_c(fields.figure("celsius")?),
        agitation: fields.text("agitation")?,
        minutes: fields.figure("minutes")?,
        gradient: fields.figure("gradient")?,
        speed: fields.optional_figure("speed")?,
        roll: fields.optional_text("roll")?,
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}

fn printed(fields: &mut Fields<'_>) -> Result<Printed, UnreadReason> {
    let sheets = optional_films(fields, "sheets")?;
    Ok(Printed {
        date: date(fields)?,
        sheets: sheets.ok_or_else(|| UnreadReason::Damaged { what: "missing field `sheets`".to_owned() })?,
        bottles: fields.texts("bottles")?,
        negative: fields.optional_text("negative")?,
        paper: fields.optional_text("paper")?,
        grade: fields.optional_text("grade")?,
        exposure_s: fields.optional_figure("exposure_s")?,
        exposure: fields.optional_text("exposure")?,
        stops: fields.optional_figure("stops")?,
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}

fn count(fields: &mut Fields<'_>) -> Result<Count, UnreadReason> {
    Ok(Count {
        date: date(fields)?,
        bottle: fields.text("bottle")?,
        films: fields.figure("films")?,
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}

fn discarded(fields: &mut Fields<'_>) -> Result<Discarded, UnreadReason> {
    Ok(Discarded {
        date: date(fields)?,
        bottles: bottles(fields)?,
        formula: fields.optional_text("formula")?,
        volume_ml: fields.optional_figure("volume_ml")?,
        by: fields.optional_text("by")?,
        note: fields.optional_text("note")?,
    })
}
