//! Text that would be markup or steer a terminal.

use super::*;

/// Text that would do harm if any writer let it through as it stands.
const HARM: &str = "<script>alert(1)</script><img src=x onerror=alert(1)> & 'q' `c` *b* _i_ [l](javascript:alert(1)) ![i](x) | ~~s~~ # h {{7*7}} ${x} $(x) %s &lt; 漢字 é\u{301} \u{1f469}\u{1f52c}";

/// A formula with hostile text in every place that takes text.
fn harmful_formula() -> String {
    let harm = format!("'''{}'''", HARM.replace("'q'", "q"));
    format!(
        "format = 1\ntitle = {harm}\nkind = \"film-developer\"\nsummary = {harm}\nevidence = \"published\"\nsource = {harm}\nlead = {harm}\ndoubt = {harm}\naliases = ['<i>x<i>']\nvariant_of = {harm}\nreplenishes = [{harm}]\npartners = [{harm}]\ncautions = [{harm}]\nnote = {harm}\nown.x = {harm}\n\n[stated]\nph = 8.5\nsource = {harm}\nnote = {harm}\n\n[[parts]]\nname = 'A-first'\nnote = {harm}\n\n[parts.mixing]\nwater = 700\ntemperature = 40\norder = [{harm}]\nsource = {harm}\norder_note = {harm}\nnote = {harm}\nother_way = {harm}\n\n[[parts.ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 80\nnote = {harm}\nuntil = {harm}\n\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 2\nnote = {harm}\n\n[[parts.ingredients]]\nsubstance = \"odd\"\namount = \"20 grain\"\nper = \"1 us-qt\"\nnote = {harm}\nuntil = {harm}\n\n[parts.keeping]\nfull_bottle_days = 100\nsource = {harm}\nnote = {harm}\n\n[[parts]]\nname = 'B 2'\n\n[[parts.ingredients]]\nsubstance = \"potassium-bromide\"\nmillilitres = 5\nstrength = \"10 % w/v\"\nnote = {harm}\n\n[[use]]\nname = {harm}\nbaths = [{{ 'A-first' = 1, 'B 2' = 1, water = 2 }}]\nminutes = [5, 8]\nsource = {harm}\nnote = {harm}\n\n[capacity]\narea_cm2_per_litre = 2000\nsource = {harm}\nnote = {harm}\n\n[replenishment]\nwith = {harm}\nml_per_roll = 20\nsource = {harm}\nnote = {harm}\n\n[[check]]\nquantity = \"ph\"\nexpected = 8.5\ntolerance = 0.2\ntolerance_note = {harm}\nsource = {harm}\n"
    )
}

/// A substance with hostile text in every place that takes text.
fn harmful_substance() -> String {
    let harm = format!("'''{}'''", HARM.replace("'q'", "q"));
    format!(
        "format = 1\nname = {harm}\nsynonyms = [{harm}]\nroles = [\"restrainer\"]\nclasses = [{harm}]\nnote = {harm}\nkeeps_in_solution = {{ solvent = \"water\", percent = [1], source = {harm}, note = {harm} }}\n\n[[forms]]\nid = \"odd\"\nname = {harm}\nsystematic = {harm}\nsynonyms = [{harm}]\ncas = {harm}\nformula = \"RbBr\"\nassay_percent = 99\nassay_source = {harm}\ndensity_g_per_ml = 2\ndensity_source = {harm}\nhandling = {harm}\nsolubility = [{{ primary = true, basis = \"as-weighed\", points = [[20, 5], [30, 8]], source = {harm}, remark = {harm} }}]\nacid_constants = [{{ step = {harm}, pka = 5, source = {harm}, remark = {harm} }}]\nheat_of_solution = {{ kj_per_mol = 20, method = {harm}, source = {harm}, remark = {harm} }}\nhazards = {{ status = \"typical\", signal = \"Warning\", statements = [{harm}], supplementary = [{harm}], source = {harm}, remark = {harm} }}\n"
    )
}

/// Every `<` of a page begins a tag of ours, and no tag has an attribute that a stranger chose.
fn only_own_tags(page: &str) {
    const TAGS: &[&str] = &[
        "!DOCTYPE", "html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "dl", "dt",
        "dd", "ul", "ol", "li", "table", "thead", "tbody", "tr", "th", "td", "div", "b", "i", "span",
        "section", "article", "header", "footer", "main", "br", "hr", "svg", "path", "rect", "line", "text",
        "circle", "g", "polygon", "polyline", "strong", "em", "small", "caption", "figure", "colgroup",
        "col", "ellipse", "address", "aside", "s",
    ];
    for piece in page.split('<').skip(1) {
        let name: String = piece
            .trim_start_matches('/')
            .chars()
            .take_while(|&letter| letter.is_ascii_alphanumeric() || letter == '!')
            .collect();
        assert!(TAGS.contains(&name.as_str()), "a tag <{}", piece.chars().take(40).collect::<String>());
        let tag = piece.split('>').next().unwrap();
        assert!(!tag.contains("alert") && !tag.contains("onerror"), "a tag <{tag}>");
    }
}

#[test]
fn hostile_text_in_every_field_is_inert_in_every_command_and_format() {
    let folder = library(&[
        ("film-developer/harm.toml", &harmful_formula()),
        ("film-developer/harm-too.toml", &harmful_formula()),
        ("substances/odd.toml", &harmful_substance()),
    ]);
    let commands: &[&[&str]] = &[
        &["show", "harm"],
        &["scale", "harm", "1L"],
        &["scale", "harm", "10ml", "--balance", "1g"],
        &["scale", "harm", "1L", "--working", "1+1+2"],
        &["sheet", "harm", "1L"],
        &["sheet", "harm", "20ml"],
        &["label", "harm", "1L"],
        &["safety", "harm", "wash", "harm-too"],
        &["compare", "harm", "harm-too"],
        &["compare", "harm", "mq-borax-classic"],
        &["list"],
        &["list", "--with", "odd"],
        &["list", "--near", "harm"],
        &["list", "--can-make", "--have", "metol", "--have", "odd"],
        &["substance", "odd"],
        &["substance"],
        &["percent", "odd", "1%w/v", "100ml"],
        &["exchange", "5g", "odd", "--for", "potassium-bromide"],
        &["check", "."],
    ];
    for command in commands {
        for format in ["text", "markdown", "html", "json"] {
            for more in [vec![], vec!["--ascii"]] {
                let arguments = [&["--library", ".", "--format", format], *command, &more].concat();
                let ran = run(folder.path(), &arguments);
                assert!(ran.code < 2 || command[0] == "percent", "{arguments:?}: {}", ran.whole());
                assert!(
                    !more.contains(&"--ascii") || format == "json" || ran.out.is_ascii(),
                    "{arguments:?} is not ASCII"
                );
                match format {
                    "html" => only_own_tags(&ran.out),
                    "markdown" => {
                        let no_tag = !ran.out.contains("<script") && !ran.out.contains("<img");
                        assert!(
                            no_tag && !ran.out.replace("\\]", "").contains("](javascript"),
                            "{arguments:?}: {}",
                            ran.out
                        );
                    }
                    "json" if !ran.out.is_empty() => drop(ran.json()),
                    _ => {}
                }
            }
        }
    }
}
