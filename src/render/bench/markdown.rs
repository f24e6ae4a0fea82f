//! The bench page as a document of the common kind, for Markdown: one table a part, cautions as rows of it.

use crate::bench::table::Row;
use crate::bench::{BenchPart, BenchSheet, Minded};
use crate::quantity::rounding::show_short;
use crate::render::{Block, Column, Document};

/// The bench side.
pub fn bench_document(sheet: &BenchSheet) -> Document {
    let mut document = Document::new();
    let volumes: Vec<String> = sheet
        .parts
        .iter()
        .map(|part| match &part.name {
            Some(name) => format!("{} of {name}", part.volume),
            None => part.volume.clone(),
        })
        .collect();
    document.title(format!("{}: {}", sheet.name, volumes.join(", ")));
    let mut facts = vec![sheet.id.clone()];
    facts.extend(sheet.remark.clone());
    facts.push(sheet.evidence.clone());
    facts.extend(sheet.origin.iter().cloned());
    document.paragraph(facts.join(" · "));
    for label in ["Mixed on", "by", "bottle", "pH read"] {
        document.blocks.push(Block::Blank(label.to_owned()));
    }
    for text in &sheet.stop {
        document.caution("STOP", vec![text.clone()]);
    }
    let mut facts = vec![("WEAR".to_owned(), sheet.wear.clone())];
    let mind: Vec<String> = sheet.mind.iter().map(Minded::words).collect();
    for (label, text) in [("MIND", mind.join(" · ")), ("NEVER", sheet.never.clone())] {
        if !text.is_empty() {
            facts.push((label.to_owned(), text));
        }
    }
    facts.extend(sheet.opening.iter().map(|line| ("BEFORE".to_owned(), line.clone())));
    document.facts(facts);
    if !sheet.cautions.is_empty() {
        document.caution("CAUTION", sheet.cautions.clone());
    }
    for part in &sheet.parts {
        if let Some(name) = &part.name {
            document.heading(format!("Part {name}: {}", part.volume));
        }
        table(&mut document, part);
        if !part.ready.is_empty() {
            document.facts(vec![("READY".to_owned(), part.ready.join(" · "))]);
        }
    }
    let mut facts: Vec<(String, String)> =
        sheet.together.iter().map(|line| ("POUR".to_owned(), line.clone())).collect();
    facts.extend(sheet.together_marks.iter().map(|mark| ("!!".to_owned(), mark.text.clone())));
    facts.extend(sheet.gases.iter().map(|gas| ("GAS".to_owned(), gas.phrase.clone())));
    let aid = &sheet.first_aid;
    for (label, text) in [("EYES", &aid.eyes), ("SKIN", &aid.skin), ("MOUTH", &aid.mouth), ("AIR", &aid.air)]
    {
        facts.push((label.to_owned(), text.clone()));
    }
    facts.push(("CALL".to_owned(), format!("{} ____________________", aid.call)));
    document.facts(facts);
    document.facts(
        sheet
            .uses
            .iter()
            .map(|cell| (cell.name.clone(), cell.told().map(String::as_str).collect::<Vec<_>>().join("; ")))
            .collect(),
    );
    document
}

fn table(document: &mut Document, part: &BenchPart) {
    let columns = vec![
        Column::left("weighed"),
        Column::right("no."),
        Column::right("amount"),
        Column::left("do, and the sign that it is done"),
        Column::right("reads"),
        Column::left("read"),
        Column::left("in"),
    ];
    let blank = || "____".to_owned();
    let mut rows = Vec::new();
    for row in &part.rows {
        for mark in &row.marks {
            let sign = if mark.is_grave { "!!" } else { "!" };
            rows.push(cells("", "", sign, &mark.text, "", "", ""));
        }
        let reads = row.reads_c.map_or_else(String::new, |celsius| format!("{} °C", show_short(celsius, 0)));
        let read = if reads.is_empty() { String::new() } else { blank() };
        let tick = if row.is_weighed { "☐" } else { "" };
        rows.push(cells(tick, &row.number.to_string(), &row.amount, &act(row), &reads, &read, "☐"));
    }
    document.table(columns, rows);
}

fn cells(
    tick: &str,
    number: &str,
    amount: &str,
    act: &str,
    reads: &str,
    read: &str,
    done: &str,
) -> Vec<String> {
    [tick, number, amount, act, reads, read, done].map(str::to_owned).to_vec()
}

/// The act in capitals, then what belongs to the weighing and the sign.
fn act(row: &Row) -> String {
    let words = [row.act.capitals(), row.remark.clone(), row.sign(false)];
    words.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(". ")
}
