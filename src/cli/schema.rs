//! `soupcon schema`: JSON Schemas of the files that are read and of what `--json` prints.

use super::context::Context;
use super::error::CliError;
use super::files::deliver;
use crate::render::Document;
use crate::render::json::document;
use crate::render::schema::{SchemaName, SchemasBody};
use crate::schema::{self, Schema};
use clap::Args;
use clap::builder::PossibleValuesParser;
use std::path::PathBuf;

const EXAMPLES: &str = "\
Examples:
  soupcon schema                                        what schemas there are
  soupcon schema formula -o formula.schema.json         for an editor that checks as you type
  soupcon schema scale                                  what `soupcon scale --json` prints";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct SchemaArguments {
    /// A kind of file, or a command for what it prints with --json; without it all are listed
    #[arg(value_name = "NAME", value_parser = PossibleValuesParser::new(schema::names()), hide_possible_values = true)]
    name: Option<String>,
    /// Write to FILE instead of standard output (- for standard output)
    #[arg(short, long, value_name = "FILE", requires = "name", help_heading = "Output")]
    output: Option<PathBuf>,
    /// Overwrite an existing file
    #[arg(long, requires = "output", help_heading = "Output")]
    force: bool,
}

pub(super) fn run(arguments: &SchemaArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    let Some(name) = &arguments.name else {
        let names = || schema::ALL.iter();
        context.answer(
            || {
                let mut list = Document::new();
                list.facts(names().map(|name| (name.name.to_owned(), name.title.to_owned())).collect());
                list
            },
            || {
                let schemas = names()
                    .map(|name| SchemaName { name: name.name, title: name.title.to_owned() })
                    .collect();
                document(SchemasBody { schemas })
            },
        )?;
        return Ok(0);
    };
    let text = schema::by_name(name).map_or("", |Schema { text, .. }| text);
    deliver(context, arguments.output.as_deref(), text, arguments.force)?;
    Ok(0)
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory as _;

    use super::SchemasBody;
    use crate::render::adjust::AdjustBody;
    use crate::render::bottles::BottlesBody;
    use crate::render::chart::ChartBody;
    use crate::render::check::CheckBody;
    use crate::render::compare::CompareBody;
    use crate::render::concentrate::ConcentrateBody;
    use crate::render::config::ConfigBody;
    use crate::render::cool::CoolBody;
    use crate::render::curve::json::{CurveBody, DensityBody, SpeedBody};
    use crate::render::dilute::DiluteBody;
    use crate::render::evening::EveningBody;
    use crate::render::exchange::ExchangeBody;
    use crate::render::exposure::json::ExposureBody;
    use crate::render::factorial::FactorialBody;
    use crate::render::json::{ErrorDocument, RefusedBody};
    use crate::render::label::LabelBody;
    use crate::render::list::ListBody;
    use crate::render::list::WishBody;
    use crate::render::list::{MakeBody, NearBody};
    use crate::render::percent::PercentBody;
    use crate::render::predict::PredictBody;
    use crate::render::record;
    use crate::render::replenish::ReplenishBody;
    use crate::render::review::Reviewed;
    use crate::render::safety::SafetyBody;
    use crate::render::scale::ScaleBody;
    use crate::render::sheet::SheetBody;
    use crate::render::shelf::ShelfBody;
    use crate::render::shopping::ShoppingBody;
    use crate::render::show::ShowBody;
    use crate::render::substance::{SubstanceBody, SubstancesBody};
    use crate::render::time::TimeBody;
    use crate::render::water::WaterBody;
    use crate::schema::tests::{assert_document_schema, assert_plain_schema};

    #[test]
    fn the_schema_of_each_document_is_current() {
        assert_document_schema::<ListBody>("list");
        assert_document_schema::<NearBody>("list-near");
        assert_document_schema::<MakeBody>("list-can-make");
        assert_document_schema::<WishBody>("list-wish");
        assert_document_schema::<Reviewed<ShowBody>>("show");
        assert_document_schema::<CompareBody>("compare");
        assert_document_schema::<SubstancesBody>("substance-list");
        assert_document_schema::<SubstanceBody>("substance-card");
        assert_document_schema::<Reviewed<ScaleBody>>("scale");
        assert_document_schema::<Reviewed<SheetBody>>("sheet");
        assert_document_schema::<Reviewed<LabelBody>>("label");
        assert_document_schema::<Reviewed<DiluteBody>>("dilute");
        assert_document_schema::<Reviewed<PercentBody>>("percent");
        assert_document_schema::<PredictBody>("predict");
        assert_document_schema::<Reviewed<AdjustBody>>("adjust");
        assert_document_schema::<Reviewed<ConcentrateBody>>("concentrate");
        assert_document_schema::<ExchangeBody>("exchange");
        assert_document_schema::<WaterBody>("water");
        assert_document_schema::<Reviewed<SafetyBody<'_>>>("safety");
        assert_document_schema::<CoolBody>("cool");
        assert_document_schema::<TimeBody>("time");
        assert_document_schema::<ChartBody>("chart");
        assert_document_schema::<FactorialBody>("factorial");
        assert_document_schema::<ExposureBody>("exposure");
        assert_document_schema::<EveningBody>("evening");
        assert_document_schema::<CurveBody>("curve");
        assert_document_schema::<SpeedBody>("curve-speed");
        assert_document_schema::<DensityBody>("curve-density");
        assert_document_schema::<record::AddedBody>("record-add");
        assert_document_schema::<record::ListBody>("record-list");
        assert_document_schema::<BottlesBody>("bottles");
        assert_document_schema::<ShelfBody>("shelf-left");
        assert_document_schema::<ShoppingBody>("shopping");
        assert_document_schema::<ReplenishBody>("replenish");
        assert_document_schema::<CheckBody>("check");
        assert_document_schema::<ConfigBody>("config");
        assert_document_schema::<SchemasBody>("schema-list");
        assert_document_schema::<RefusedBody>("refused");
        assert_plain_schema::<ErrorDocument>("error");
    }

    /// Commands that print no JSON.
    const WITHOUT_JSON: &[&str] = &["new", "completions", "man"];

    #[test]
    fn every_command_with_json_has_a_schema() {
        for own in crate::cli::Arguments::command().get_subcommands() {
            let name = own.get_name();
            let of_it = |schema: &str| schema == name || schema.starts_with(&format!("{name}-"));
            assert!(
                WITHOUT_JSON.contains(&name) || crate::schema::names().any(of_it),
                "{name}: give its JSON a line in src/schema.rs and in the test above"
            );
        }
    }
}
