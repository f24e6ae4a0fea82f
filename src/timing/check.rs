//! What a valid table of factors is: turns the shape on disk into a [`TimingTable`], every citation in place of its key, or says everything
//! that is wrong with it at once.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::agitation::Agitation;
use super::contrast::{Law, Shape};
use super::figure::{Support, TimingFigure};
use super::file::{FigureFile, LawFile, SideFile, TimingFile};
use super::judging::{Foot, SpeedClass};
use super::rows::{
    Class, Coefficient, Composition, DeveloperRelation, FactorialRow, GradientRule, OwnErrors, Push, Refused,
    RelationSide, Scatter, Scope, TimingLimits,
};
use super::table::TimingTable;
use crate::diagnostic::{Finding, TableSource, line_of, read_table};
use crate::packed::Placed;
use crate::suggestion;

/// Version of the file format that this program reads.
const FORMAT: u32 = 1;

/// Collects what is wrong.
struct Reader<'a> {
    text: &'a str,
    file: &'a str,
    sources: &'a BTreeMap<String, String>,
    findings: Vec<Finding>,
}

impl Reader<'_> {
    fn wrong<T>(&mut self, row: &Placed<T>, code: &'static str, message: String, fix: &str) {
        let line = line_of(self.text, row.start());
        self.findings.push(Finding::error(code, self.file, Some(line), message, fix));
    }

    fn citation<T>(&mut self, row: &Placed<T>, key: Option<&str>, support: Support) -> Option<String> {
        let Some(key) = key else {
            if support == Support::Published {
                let message = "a published figure names no source".to_owned();
                self.wrong(row, "no-source", message, "add `source` with a key of [sources]");
            }
            return None;
        };
        let citation = self.sources.get(key).cloned();
        if citation.is_none() {
            let near = suggestion::nearest(key, self.sources.keys().map(String::as_str));
            let fix = near
                .map_or_else(|| "add it to [sources]".to_owned(), |near| format!("did you mean `{near}`?"));
            self.wrong(row, "unknown-source", format!("the source `{key}` is not listed"), &fix);
        }
        citation
    }

    fn figure<T>(&mut self, row: &Placed<T>, file: &FigureFile<'_>) -> TimingFigure {
        let [low, central, high] = file.values;
        let sound = [low, central, high].iter().all(|value| value.is_finite() && *value > 0.0);
        if !sound || low > central || central > high {
            let message = format!("low {low}, central {central} and high {high} are no range above zero");
            self.wrong(row, "figure", message, "give three figures above zero, low to high");
        }
        let source = self.citation(row, file.source, file.support);
        TimingFigure { low, central, high, support: file.support, source, note: file.note.map(str::to_owned) }
    }

    fn side<T>(&mut self, row: &Placed<T>, side: &SideFile) -> Option<RelationSide> {
        match side.dilution.parse() {
            Ok(dilution) => Some(RelationSide {
                formula: side.formula.clone(),
                dilution,
                celsius: side.celsius,
                agitation: None,
            }),
            Err(error) => {
                self.wrong(row, "dilution", error.to_string(), "write stock, 1+1, 1+50 …");
                None
            }
        }
    }

    fn range<T>(&mut self, row: &Placed<T>, from: Option<f64>, to: Option<f64>) -> Option<(f64, f64)> {
        let range = from.zip(to).filter(|(from, to)| from.is_finite() && to.is_finite() && from < to);
        if range.is_none() {
            let message = "the range of the data is missing or upside down".to_owned();
            self.wrong(row, "range", message, "give the lowest and the highest of the data");
        }
        range
    }
}

impl TimingTable {
    /// Reads the table; `file` names it in messages.
    ///
    /// # Errors
    /// Everything wrong in it, with lines.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Vec<Finding>> {
        table(source.into(), file)
    }
}

/// Reads the table.
fn table(source: TableSource<'_>, file: &str) -> Result<TimingTable, Vec<Finding>> {
    // Packed, nothing is wrong in it, and no line is asked for.
    let text = if let TableSource::Text(text) = source { text } else { "" };
    let shape: TimingFile = read_table(source, file).map_err(|finding| vec![finding])?;
    let mut reader = Reader { text, file, sources: &shape.sources, findings: Vec::new() };
    if shape.format != FORMAT {
        let message = format!("format = {} is not known to this version", shape.format);
        reader.findings.push(Finding::error(
            "format",
            file,
            Some(1),
            message,
            format!("write format = {FORMAT}"),
        ));
    }
    let class_names: BTreeSet<&str> = shape.class.iter().map(|class| class.name.as_str()).collect();
    let table = TimingTable {
        agents: shape.agent.iter().map(|agent| (agent.name.clone(), agent.substances.clone())).collect(),
        temperature: temperature(&shape, &class_names, &mut reader),
        dilution: dilution(&shape, &class_names, &mut reader),
        agitation: agitation(&shape, &mut reader),
        relations: relations(&shape, &mut reader),
        factorial: factorial(&shape, &mut reader),
        guess: reader.figure(&shape.guess, &shape.guess.get_ref().figures()),
        guess_farthest: shape.guess.get_ref().farthest,
        contrast: contrast(&shape, &class_names, &mut reader),
        gradient: GradientRule {
            most_steps: shape.gradient.most_steps,
            subject_range: shape.gradient.subject_range,
            flare: shape.gradient.flare,
            step: shape.gradient.step,
            reading_error: shape.gradient.reading_error,
            normal: shape.gradient.normal,
        },
        push: Push {
            figure: reader.figure(&shape.push, &shape.push.get_ref().figures()),
            most_stops: shape.push.get_ref().most_stops,
        },
        scatter: Scatter {
            floor: shape.scatter.floor,
            per_degree: shape.scatter.per_degree,
            swap: shape.scatter.swap,
            typed_per_degree: shape.scatter.typed_per_degree,
        },
        own: OwnErrors {
            judged_right: shape.own.judged_right,
            not_judged: shape.own.not_judged,
            one_sided: shape.own.one_sided,
            own_normal: shape.own.own_normal,
        },
        foot: Foot {
            step: shape.foot.step,
            aim: shape.foot.aim,
            net_density: shape.foot.net_density.clone(),
            slight_stops: shape.foot.slight,
            clear_stops: shape.foot.clear,
        },
        limits: limits(&shape),
        classes: shape
            .class
            .into_iter()
            .map(|class| Class {
                name: class.name,
                composition: Composition::new(class.only_agents, class.all_agents, class.any_substance),
            })
            .collect(),
        speed: shape
            .speed
            .into_iter()
            .map(|row| SpeedClass {
                name: row.name,
                composition: Composition::new(row.only_agents, row.all_agents, row.any_substance),
                stops: (row.low, row.high),
            })
            .collect(),
        refused: shape
            .refused
            .into_iter()
            .map(|refused| Refused {
                name: refused.name,
                composition: Composition::new(refused.only_agents, Vec::new(), refused.any_substance),
                reason: refused.reason,
            })
            .collect(),
    };
    if reader.findings.is_empty() { Ok(table) } else { Err(reader.findings) }
}

fn limits(shape: &TimingFile) -> TimingLimits {
    let file = &shape.limits;
    TimingLimits {
        coldest_celsius: file.coldest_celsius,
        hottest_celsius: file.hottest_celsius,
        hydroquinone_cold_celsius: file.hydroquinone_cold_celsius,
        hydroquinone_inactive_celsius: file.hydroquinone_inactive_celsius,
        gelatin_soft_celsius: file.gelatin_soft_celsius,
        shortest_minutes: file.shortest_minutes,
        longest_minutes: file.longest_minutes,
        doubtful_degrees: file.doubtful_degrees,
        beyond_data_degrees: file.beyond_data_degrees,
        usual_celsius: file.usual_celsius,
        usual_paper_celsius: file.usual_paper_celsius,
        farthest_dilution: file.farthest_dilution,
        roll_cm2: file.roll_cm2,
    }
}

fn scope<T>(
    row: &Placed<T>,
    formulas: &[String],
    agents: &[String],
    class: Option<&String>,
    classes: &BTreeSet<&str>,
    reader: &mut Reader<'_>,
) -> Scope {
    match (formulas, agents, class) {
        ([], [], None) => Scope::Any,
        (_, [], None) => Scope::Formulas(formulas.to_vec()),
        ([], _, None) => Scope::Agents(agents.iter().cloned().collect()),
        ([], [], Some(class)) => {
            if !classes.contains(class.as_str()) {
                reader.wrong(
                    row,
                    "unknown-class",
                    format!("no class is called `{class}`"),
                    "name one of [[class]]",
                );
            }
            Scope::Class(class.clone())
        }
        _ => {
            let message = "a row belongs to formulas, to agents or to a class, not to two of them".to_owned();
            reader.wrong(row, "scope", message, "keep one of `formulas`, `agents` and `class`");
            Scope::Any
        }
    }
}

fn temperature(
    shape: &TimingFile,
    classes: &BTreeSet<&str>,
    reader: &mut Reader<'_>,
) -> Vec<Arc<Coefficient>> {
    let mut rows = Vec::new();
    for spanned in &shape.temperature {
        let row = spanned.get_ref();
        let figure = reader.figure(spanned, &row.figures());
        let Some(convention) = row.convention else {
            let message = "a temperature coefficient without its convention".to_owned();
            reader.wrong(
                spanned,
                "convention",
                message,
                "add `convention`, such as \"factor-for-10-degrees\"",
            );
            continue;
        };
        let range = reader.range(spanned, row.from_celsius, row.to_celsius);
        let scope = Some(scope(spanned, &row.formulas, &row.agents, row.class.as_ref(), classes, reader));
        let figure = figure.map(|value| convention.ln_per_degree(value));
        rows.push(Arc::new(Coefficient { name: row.name.clone(), figure, bend: None, range, scope }));
    }
    rows
}

fn contrast(shape: &TimingFile, classes: &BTreeSet<&str>, reader: &mut Reader<'_>) -> Vec<Shape> {
    let mut rows = Vec::new();
    for spanned in &shape.contrast {
        let row = spanned.get_ref();
        let figure = reader.figure(spanned, &row.figures());
        let law = match row.law {
            Some(LawFile::GrowsToAnEnd) => Law::GrowsToAnEnd,
            Some(LawFile::Power) => Law::Power,
            None => {
                let message = "a relation of gradient and time without its law".to_owned();
                reader.wrong(spanned, "law", message, "add `law`, \"grows-to-an-end\" or \"power\"");
                continue;
            }
        };
        let scope = scope(spanned, &[], &[], row.class.as_ref(), classes, reader);
        rows.push(Shape { name: row.name.clone(), law, figure, scope: Some(scope) });
    }
    rows
}

fn dilution(shape: &TimingFile, classes: &BTreeSet<&str>, reader: &mut Reader<'_>) -> Vec<Arc<Coefficient>> {
    let mut rows = Vec::new();
    for spanned in &shape.dilution {
        let row = spanned.get_ref();
        let figure = reader.figure(spanned, &row.figures());
        let range = reader.range(spanned, row.from_ratio, row.to_ratio);
        let scope = Some(scope(spanned, &row.formulas, &[], row.class.as_ref(), classes, reader));
        let bend = row.bend.map(|bend| {
            let (source, note) = (row.source.as_deref(), row.note.as_deref());
            let values = [bend.low, bend.central, bend.high];
            let support = row.evidence;
            reader.figure(spanned, &FigureFile { values, support, source, note }).map(f64::ln)
        });
        rows.push(Arc::new(Coefficient { name: row.name.clone(), figure, bend, range, scope }));
    }
    rows
}

fn agitation(shape: &TimingFile, reader: &mut Reader<'_>) -> Vec<Agitation> {
    let mut all = Vec::new();
    for spanned in &shape.agitation {
        let row = spanned.get_ref();
        let factor = match (row.low, row.central, row.high, row.evidence, &row.refused) {
            (None, None, None, None, Some(reason)) => Err(reason.clone()),
            (Some(low), Some(central), Some(high), Some(support), None) => {
                let (source, note) = (row.source.as_deref(), row.note.as_deref());
                Ok(reader
                    .figure(spanned, &FigureFile { values: [low, central, high], support, source, note }))
            }
            _ => {
                let message = format!("`{}` has neither a whole figure nor a refusal", row.name);
                reader.wrong(
                    spanned,
                    "agitation",
                    message,
                    "give low, central, high and evidence, or `refused`",
                );
                continue;
            }
        };
        all.push(Agitation {
            name: row.name.clone(),
            aliases: row.aliases.clone(),
            words: row.words.clone(),
            factor,
        });
    }
    all
}

fn relations(shape: &TimingFile, reader: &mut Reader<'_>) -> Vec<DeveloperRelation> {
    let mut all = Vec::new();
    for spanned in &shape.relation {
        let row = spanned.get_ref();
        let figure = reader.figure(spanned, &row.figures());
        if let (Some(from), Some(to)) = (reader.side(spanned, &row.from), reader.side(spanned, &row.to)) {
            all.push(DeveloperRelation { from, to, figure });
        }
    }
    all
}

fn factorial(shape: &TimingFile, reader: &mut Reader<'_>) -> Vec<FactorialRow> {
    let mut all = Vec::new();
    for spanned in &shape.factorial {
        let row = spanned.get_ref();
        let values = [row.soft.unwrap_or(row.normal), row.normal, row.strong.unwrap_or(row.normal)];
        let (source, note) = (row.source.as_deref(), row.note.as_deref());
        let figure = reader.figure(spanned, &FigureFile { values, support: row.evidence, source, note });
        all.push(FactorialRow {
            agents: row.agents.iter().cloned().collect(),
            strength: row.strength.clone(),
            soft: row.soft,
            strong: row.strong,
            figure,
        });
    }
    all
}
