//! `soupcon list`: formulas by words, kind and chemicals, by nearness in composition, and by what the shelf allows.

use super::context::Context;
use super::error::CliError;
use super::shelf::ShelfArguments;
use crate::can_make::{CanMake, can_make};
use crate::composition::{Composer, typed};
use crate::formula::{Formula, Kind};
use crate::library::{FoundFormula, Header};
use crate::nearest::{Near, Point, nearest};
use crate::qualities::Qualities;
use crate::render::json::document;
use crate::render::list::{
    LeftOut, ListBody, ListedFormula, MakeBody, NearBody, WishBody, Wished, list_document, make_document,
    near_document, wished_document,
};
use crate::suggestion;
use crate::wishes::{self, AskedWishes, WantedWish, Wishes};
use clap::Args;
use std::collections::BTreeSet;

/// Columns of a hint of several lines.
const HINT_COLUMNS: usize = 72;
const NOTHING: &str = "no formula matches; `soupcon list` without arguments shows all";

const EXAMPLES: &str = "\
Examples:
  soupcon list                                       all formulas
  soupcon list --kind fixer
  soupcon list --with metol --without hydroquinone
  soupcon list sharper, softer highlights            by wish: finer grain, more speed, keeps long, one-shot …
  soupcon list borax fine grain no hydroquinone      wishes, a word that must occur, a chemical to leave out
  soupcon list --near mq-borax-classic               the nearest in composition, itself first
  soupcon list --near metol=2,sodium-sulfite-anhydrous=100,hydroquinone=5,borax-decahydrate=2
  soupcon list --can-make --have metol --have sodium-sulfite-anhydrous=450g
  soupcon list --can-make --shelf shelf.toml

A chemical includes all its forms: --with sodium-carbonate finds every hydrate.
In a composition after --near bare numbers are grams per litre; 2g and, for liquids, 48ml are understood too.
A distance of 0 is the same bath; 1 is an agent doubled or halved. Hydrates make no difference.
A shelf file holds the lines: format = 1 and have = [\"metol=25g\", \"borax-decahydrate\"]
--can-make takes other forms of a chemical and exchanges that are exact, and says which.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ListArguments {
    /// Wishes (finer grain, keeps long, for beginners …), and words that must occur in the id, title, summary or aliases
    words: Vec<String>,
    /// Only this kind: film-developer, paper-developer, fixer …
    #[arg(long)]
    kind: Option<String>,
    /// Only with this chemical, in any form
    #[arg(long, value_name = "SUBSTANCE")]
    with: Vec<String>,
    /// Only without this chemical, in any form
    #[arg(long, value_name = "SUBSTANCE")]
    without: Vec<String>,
    /// Nearest in composition to a formula, or to form=grams per litre joined by commas
    #[arg(long, value_name = "FORMULA|COMPOSITION", conflicts_with = "can_make")]
    near: Option<String>,
    /// How many to list with --near or by wish
    #[arg(long, value_name = "COUNT", default_value_t = 20, hide_default_value = false)]
    most: usize,
    /// What can be mixed from the shelf now, and what lacks one chemical
    #[arg(long)]
    can_make: bool,
    #[command(flatten)]
    shelf: ShelfArguments,
}

pub(super) fn run(arguments: &ListArguments, context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.check_folders()?;
    let kind = arguments.kind.as_deref().map(kind).transpose()?;
    let with = chemicals(&arguments.with, context)?;
    let mut without = chemicals(&arguments.without, context)?;
    // Without a word there is no wish to read.
    let wishes =
        if arguments.words.is_empty() { Wishes::default() } else { Wishes::shipped(&context.library) };
    let asked = {
        let context: &Context<'_, '_> = context;
        let is_chemical = |name: &str| chemicals(&[name.to_owned()], context).is_ok();
        wishes.read(&arguments.words, &is_chemical)
    };
    without.extend(chemicals(&asked.without, context)?);
    // Without a wish, and with nothing to leave out, every word typed must occur.
    let only_kinds = !asked.kinds.is_empty() && asked.words.is_empty() && asked.not_understood.is_empty();
    let as_typed = asked.wishes.is_empty() && asked.without.is_empty() && !only_kinds;
    let words: Vec<String> = if as_typed {
        arguments.words.iter().map(|word| word.to_lowercase()).collect()
    } else {
        asked.words.clone()
    };
    let kinds_named = if asked.wishes.is_empty() && !as_typed { asked.kinds.clone() } else { Vec::new() };
    // With a wish, a word is looked for in names only, and is left out where nothing has it.
    let by_wish = !asked.wishes.is_empty();
    let fits = |header: &Header| {
        kind.is_none_or(|kind| header.kind == kind)
            && (kinds_named.is_empty() || kinds_named.contains(&header.kind))
            && (by_wish || words.iter().all(|word| header.mentions(word)))
    };
    let asks_composition = !asked.wishes.is_empty()
        || !with.is_empty()
        || !without.is_empty()
        || arguments.near.is_some()
        || arguments.can_make;
    if !asks_composition {
        let (headers, findings) = context.library.headers()?;
        context.warn_of(&findings);
        let (mut found, mut others) = parted(headers, fits);
        if found.is_empty() {
            // Not word for word: as it was understood, idle words stepped over.
            let as_understood = |header: &Header| {
                (asked.kinds.is_empty() || asked.kinds.contains(&header.kind))
                    && kind.is_none_or(|kind| header.kind == kind)
                    && asked
                        .words
                        .iter()
                        .all(|word| header.mentions(word) || header.mentions(word.trim_end_matches('s')))
            };
            let anything = !asked.kinds.is_empty() || !asked.words.is_empty();
            if anything && asked.not_understood.is_empty() && asked.elsewhere.is_empty() {
                (found, others) = others.into_iter().partition(as_understood);
            }
        }
        let code = answer(&found, context)?;
        if found.is_empty() {
            for line in nothing_matches(&words, &others, &wishes, &asked) {
                context.hint(&line);
            }
        } else {
            asked.elsewhere.iter().for_each(|answered| context.hint(answered));
        }
        return Ok(code);
    }
    let all = to_look_at(&with, &without, context)?;
    // Who wants a bath without a chemical means the kinds of bath that have it.
    let has_it: BTreeSet<Kind> = all
        .iter()
        .filter(|own| without.iter().any(|chemical| contains(&own.formula, chemical)))
        .map(|own| own.formula.kind)
        .collect();
    let all_formulas: Vec<FoundFormula> = all
        .into_iter()
        .filter(|found| {
            let formula = &found.formula;
            with.iter().all(|chemical| contains(formula, chemical))
                && !without.iter().any(|chemical| contains(formula, chemical))
                && fits(&Header::of(found))
        })
        .collect();
    let left_over = if asked.without.is_empty() || kind.is_some() || !asked.kinds.is_empty() {
        all_formulas
    } else {
        all_formulas.into_iter().filter(|own| has_it.contains(&own.formula.kind)).collect()
    };
    if let Some(near) = &arguments.near {
        return list_near(near, &left_over, arguments.most, context);
    }
    if !asked.wishes.is_empty() && !arguments.can_make {
        let vocabulary: Vec<String> = wishes.vocabulary().collect();
        return list_wished(asked, kind, &left_over, arguments.most, &vocabulary, context);
    }
    if arguments.can_make {
        return list_can_make(&left_over, arguments, context);
    }
    let code = answer(&left_over.iter().map(Header::of).collect::<Vec<_>>(), context)?;
    if left_over.is_empty() {
        context.hint(NOTHING);
    }
    Ok(code)
}

/// Those that fit, and the others.
fn parted(headers: Vec<Header>, fits: impl Fn(&Header) -> bool) -> (Vec<Header>, Vec<Header>) {
    if headers.iter().all(&fits) { (headers, Vec::new()) } else { headers.into_iter().partition(fits) }
}

/// The formulas among which one with these chemicals is sought: a shipped one that names none of them is not read. Who leaves a chemical
/// out asks of all.
fn to_look_at(
    with: &[String],
    without: &[String],
    context: &mut Context<'_, '_>,
) -> Result<Vec<FoundFormula>, CliError> {
    let (all, findings) = if without.is_empty() {
        let names: Vec<_> = with.iter().map(|own| names_of(own, context)).collect();
        context.library.formulas_naming(&names)?
    } else {
        context.library.formulas()?
    };
    context.warn_of(&findings);
    Ok(all)
}

/// Prints what was found; nothing is the answer no.
fn answer(headers: &[Header], context: &mut Context<'_, '_>) -> Result<u8, CliError> {
    context.answer(
        || list_document(headers),
        || document(ListBody { formulas: headers.iter().map(ListedFormula::new).collect() }),
    )?;
    Ok(u8::from(headers.is_empty()))
}

/// What to try where nothing matches: a word of the library that is near to one typed, else everything.
fn nothing_matches(
    words: &[String],
    all: &[Header],
    wishes: &Wishes,
    asked: &AskedWishes<'_>,
) -> Vec<String> {
    if !asked.elsewhere.is_empty() {
        return asked.elsewhere.iter().map(|own| (*own).to_owned()).collect();
    }
    let texts = all.iter().flat_map(|own| [own.id.as_str(), own.title.as_str(), own.kind.folder()]);
    let known: BTreeSet<String> = texts
        .flat_map(|text| text.split(|character: char| !character.is_alphanumeric()))
        .map(str::to_lowercase)
        .chain(wishes.vocabulary())
        .collect();
    let unknown = |word: &&String| !all.iter().any(|own| own.mentions(word));
    let near = |word: &String| {
        let others = known.iter().map(String::as_str).filter(|own| own != word);
        suggestion::slip(word, others).map(str::to_owned)
    };
    if let Some((word, near)) = words.iter().filter(unknown).find_map(|word| Some((word, near(word)?))) {
        return vec![format!("no formula mentions `{word}`: did you mean {near}?")];
    }
    if let Some(first) = asked.not_understood.first() {
        return vec![format!("`{first}` is not understood: no such wish and no such chemical")];
    }
    let mut lines = vec![NOTHING.to_owned(), "wishes it knows:".to_owned()];
    for name in wishes.names() {
        let last = lines.last_mut().filter(|line| line.len() + name.len() < HINT_COLUMNS);
        match last {
            Some(line) if line.ends_with(':') => line.push_str(&format!(" {name}")),
            Some(line) => line.push_str(&format!(", {name}")),
            None => lines.push(name.to_owned()),
        }
    }
    lines
}

/// The formulas by wish, those that meet most of them first.
fn list_wished(
    mut asked: AskedWishes<'_>,
    kind: Option<Kind>,
    all_formulas: &[FoundFormula],
    most: usize,
    vocabulary: &[String],
    context: &mut Context<'_, '_>,
) -> Result<u8, CliError> {
    if let Some(kind) = kind {
        asked.kinds = vec![kind];
    }
    let composer = Composer::new(&context.library);
    let qualities = Qualities::shipped(&context.library);
    let mut ranked = Wishes::rank(&asked, all_formulas.iter().map(|own| &own.formula), &qualities, &composer);
    let met = ranked.len();
    let (mut words, mut left_out) = (Vec::new(), Vec::new());
    for word in &asked.words {
        if ranked.iter().any(|own| wishes::is_called(own.formula, word)) {
            ranked.retain(|ranked| wishes::is_called(ranked.formula, word));
            words.push(word.clone());
        } else {
            left_out.push(LeftOut { word: word.clone(), near: near_word(word, vocabulary, all_formulas) });
        }
    }
    let count = ranked.len();
    ranked.truncate(most);
    let ranked = ranked
        .into_iter()
        .filter_map(|own| {
            let found =
                all_formulas.iter().find(|found| std::ptr::eq(&raw const found.formula, own.formula))?;
            Some((found, own))
        })
        .collect();
    let names = asked.wishes.iter().map(WantedWish::name).collect();
    let kinds = wishes::sought_in(&asked);
    let not_understood = asked.not_understood.clone();
    let wished = Wished { wishes: names, kinds, ranked, found: count, met, words, left_out, not_understood };
    context.answer(|| wished_document(&wished), || document(WishBody::new(&wished)))?;
    for answered in &asked.elsewhere {
        context.hint(answered);
    }
    Ok(u8::from(count == 0))
}

/// A word of a wish, of a formula's names or of a chemical that a word typed can be a slip of the finger for.
fn near_word(word: &str, vocabulary: &[String], all_formulas: &[FoundFormula]) -> Option<String> {
    let names = all_formulas.iter().flat_map(|own| wishes::names_of(&own.formula));
    let known: BTreeSet<String> = vocabulary.iter().cloned().chain(names).filter(|own| own != word).collect();
    let slip = suggestion::slip(word, known.iter().map(String::as_str));
    // Spelt by ear, the beginning is right: `grane`.
    let begins_alike = |own: &&str| word.get(..3).is_some_and(|start| own.starts_with(start));
    let by_ear = || suggestion::nearest(word, vocabulary.iter().map(String::as_str).filter(begins_alike));
    slip.or_else(by_ear).map(str::to_owned)
}

/// The formulas nearest to one, or to a composition.
fn list_near(
    near: &str,
    all_formulas: &[FoundFormula],
    most: usize,
    context: &mut Context<'_, '_>,
) -> Result<u8, CliError> {
    let is_typed = typed::looks_typed(near) && !std::path::Path::new(near).is_file();
    let asked = if is_typed { None } else { Some(context.formula(near)?.formula) };
    let composer = Composer::new(&context.library);
    let point = if let Some(formula) = &asked {
        Point::of_formula(formula, &composer)
    } else {
        let composition = typed::parse(near, &composer)
            .map_err(|error| CliError::argument("--near", &error, error.fix()))?;
        Point::of_composition(&composition, &composer)
    };
    let mut ranked = nearest(&point, all_formulas.iter().map(|own| &own.formula), &composer);
    ranked.truncate(most);
    let ranked: Vec<(&FoundFormula, Near<'_>)> = ranked
        .into_iter()
        .filter_map(|near| {
            let own = all_formulas.iter().find(|own| std::ptr::eq(&raw const own.formula, near.formula))?;
            Some((own, near))
        })
        .collect();
    let name = asked.as_ref().map_or("the composition typed", |formula| formula.id.as_str());
    context.answer(|| near_document(name, &ranked), || document(NearBody::new(&ranked)))?;
    let nothing = ranked.is_empty();
    if nothing {
        context.hint(NOTHING);
    }
    Ok(u8::from(nothing))
}

/// What the shelf allows.
fn list_can_make(
    all_formulas: &[FoundFormula],
    arguments: &ListArguments,
    context: &mut Context<'_, '_>,
) -> Result<u8, CliError> {
    let shelf = arguments.shelf.read(context)?;
    let relations = context.relations()?;
    let sorted: CanMake<'_> = can_make(all_formulas.iter().map(|own| &own.formula), &shelf, &relations);
    let nothing = sorted.now.is_empty() && sorted.one_away.is_empty();
    context.answer(|| make_document(&sorted), || document(MakeBody::new(&sorted, all_formulas)))?;
    if nothing {
        context.hint("nothing can be mixed from this, not even with one more chemical");
    }
    Ok(u8::from(nothing))
}

/// A kind by its name, with a suggestion.
fn kind(text: &str) -> Result<Kind, CliError> {
    let plain = text.trim().to_lowercase().replace([' ', '_'], "-");
    Kind::from_folder(&plain).ok_or_else(|| {
        let names: Vec<&str> = Kind::ALL.iter().map(|kind| kind.folder()).collect();
        let fix = match suggestion::nearest(&plain, names.iter().copied()) {
            Some(near) => format!("did you mean {near}?"),
            None => format!("kinds are {}", names.join(", ")),
        };
        CliError::argument("--kind", format!("`{text}` is not a kind of solution"), fix)
    })
}

/// Parents (or forms) by name; an unknown one is refused rather than matching nothing.
fn chemicals(names: &[String], context: &Context<'_, '_>) -> Result<Vec<String>, CliError> {
    names
        .iter()
        .map(|name| {
            let plain = name.trim().to_lowercase().replace([' ', '_'], "-");
            if context
                .library
                .substance(&plain)
                .map_err(|findings| CliError::Findings { findings })?
                .is_some()
            {
                return Ok(plain);
            }
            match context.library.form_by_name(&plain) {
                Ok(form) => Ok(form.id.clone()),
                Err(crate::formula::FormError::BareParent { name, .. }) => Ok(name),
                Err(error) => Err(error.into()),
            }
        })
        .collect()
}

/// The names under which a formula has a chemical in it, as [`contains`] finds it: its own, and those of its forms.
fn names_of(chemical: &str, context: &Context<'_, '_>) -> Vec<String> {
    let parent = context.library.substance(chemical).ok().flatten();
    let forms = parent.iter().flat_map(|own| &own.forms).map(|form| form.id.clone());
    forms.chain([chemical.to_owned()]).collect()
}

/// Whether a formula contains a chemical: by parent, or exactly that form.
fn contains(formula: &Formula, chemical: &str) -> bool {
    let own = |form: &crate::substance::Form| form.parent.id == chemical || form.id == chemical;
    formula.ingredients().any(|ingredient| own(&ingredient.form))
        || formula.parts.iter().any(|part| part.solvent.as_deref().is_some_and(own))
}
