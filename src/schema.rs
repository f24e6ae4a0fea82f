//! JSON Schemas of the files that are read and of the documents that `--json` prints.
//!
//! They are made from the program's own types by the tests, stand in `formulas/schemas` and are embedded; nothing is worked out
//! when the program runs. A type that changes fails its test until `SOUPCON_WRITE_SCHEMAS=1 cargo test --lib schema` has written
//! the new schema and a person has read the difference.

#[derive(Debug, Clone, Copy)]
pub(crate) struct Schema {
    /// What to ask for.
    pub name: &'static str,
    /// What it describes.
    pub title: &'static str,
    /// The schema itself.
    pub text: &'static str,
}

macro_rules! embed {
    ($($name:literal: $title:literal),* $(,)?) => {
        /// All schemas: those of files first, then those of documents in the order of the commands.
        pub(crate) const ALL: &[Schema] = &[$(Schema {
            name: $name,
            title: $title,
            text: include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/schemas/", $name, ".json")),
        }),*];
    };
}

embed! {
    "formula": "A formula file",
    "substance": "A substance file",
    "shelf": "A list of what is on the shelf",
    "configuration": "The configuration file",
    "evening-file": "The file of an evening",
    "list": "What `list --json` prints",
    "list-near": "What `list --near … --json` prints",
    "list-wish": "What `list --json` prints where the words are wishes",
    "list-can-make": "What `list --can-make … --json` prints",
    "show": "What `show --json` prints",
    "compare": "What `compare --json` prints",
    "substance-list": "What `substance --json` prints without a name",
    "substance-card": "What `substance NAME --json` prints",
    "scale": "What `scale --json` prints",
    "sheet": "What `sheet --json` prints",
    "label": "What `label --json` prints",
    "dilute": "What `dilute --json` prints",
    "percent": "What `percent --json` prints",
    "predict": "What `predict --json` prints",
    "adjust": "What `adjust --json` prints",
    "concentrate": "What `concentrate --json` prints",
    "exchange": "What `exchange --json` prints",
    "water": "What `water --json` prints",
    "cool": "What `cool --json` prints",
    "safety": "What `safety --json` prints",
    "time": "What `time --json` prints",
    "chart": "What `chart --json` prints",
    "factorial": "What `factorial --json` prints",
    "exposure": "What `exposure … --json` prints",
    "evening": "What `evening --json` prints",
    "curve": "What `curve --json` prints",
    "curve-speed": "What `curve speed --json` prints",
    "curve-density": "What `curve density --json` prints",
    "record-add": "What `record add --json` prints",
    "record-list": "What `record list --json` prints",
    "bottles": "What `bottles --json` prints",
    "shelf-left": "What `shelf --json` prints",
    "shopping": "What `shopping --json` prints",
    "replenish": "What `replenish --json` prints",
    "check": "What `check --json` prints",
    "config": "What `config --json` prints",
    "schema-list": "What `schema --json` prints without a name",
    "refused": "What any command prints with --json when the answer is no and it has nothing else to tell",
    "error": "What is on standard error with --json when the request is wrong",
}

pub(crate) fn names() -> impl Iterator<Item = &'static str> {
    ALL.iter().map(|own| own.name)
}

pub(crate) fn by_name(name: &str) -> Option<&'static Schema> {
    ALL.iter().find(|own| own.name == name)
}

#[cfg(test)]
pub(crate) mod tests {
    use std::path::Path;

    use schemars::JsonSchema;
    use schemars::generate::SchemaSettings;
    use serde_json::{Map, Value, json};

    use super::*;

    /// Of a file that users write: no nulls, which TOML has not.
    pub(crate) fn assert_file_schema<T: JsonSchema>(name: &str) {
        let generator = SchemaSettings::draft2020_12().for_deserialize().into_generator();
        let mut schema = generator.into_root_schema_for::<T>().to_value();
        without_nulls(&mut schema);
        assert_current(name, schema);
    }

    /// Of a document that is printed, with its version first.
    pub(crate) fn assert_document_schema<T: JsonSchema>(name: &str) {
        let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
        let mut schema = generator.into_root_schema_for::<T>().to_value();
        let version = json!({ "const": crate::render::json::SCHEMA_VERSION, "description": "Version of all documents." });
        let object = schema.as_object_mut().unwrap();
        object
            .entry("properties")
            .or_insert_with(|| Value::Object(Map::new()))
            .as_object_mut()
            .unwrap()
            .insert("schema_version".to_owned(), version);
        let required = object.entry("required").or_insert_with(|| json!([])).as_array_mut().unwrap();
        required.insert(0, json!("schema_version"));
        assert_current(name, schema);
    }

    /// Of a document without a version.
    pub(crate) fn assert_plain_schema<T: JsonSchema>(name: &str) {
        let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
        assert_current(name, generator.into_root_schema_for::<T>().to_value());
    }

    fn assert_current(name: &str, mut schema: Value) {
        let shipped = by_name(name).unwrap_or_else(|| panic!("{name} is not in the list of schemas"));
        plain_words(&mut schema);
        let object = schema.as_object_mut().unwrap();
        object.insert("title".to_owned(), json!(shipped.title));
        let text = format!("{}\n", serde_json::to_string_pretty(&schema).unwrap());
        if std::env::var_os("SOUPCON_WRITE_SCHEMAS").is_some() {
            let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("formulas/schemas");
            std::fs::write(folder.join(format!("{name}.json")), text).unwrap();
            return;
        }
        assert_eq!(
            shipped.text, text,
            "{name}: write it anew with SOUPCON_WRITE_SCHEMAS=1, and read the difference"
        );
    }

    /// Takes `null` out of types and choices, and defaults that only say "absent".
    fn without_nulls(value: &mut Value) {
        match value {
            Value::Array(list) => list.iter_mut().for_each(without_nulls),
            Value::Object(object) => {
                object.remove("default");
                if let Some(Value::Array(types)) = object.get_mut("type") {
                    types.retain(|types| types != "null");
                    if let [only] = types.as_slice() {
                        let only = only.clone();
                        object.insert("type".to_owned(), only);
                    }
                }
                if let Some(Value::Array(choices)) = object.get_mut("anyOf") {
                    choices.retain(|choices| choices != &json!({ "type": "null" }));
                    if let [Value::Object(only)] = choices.as_slice() {
                        let only = only.clone();
                        object.remove("anyOf");
                        object.extend(only);
                    }
                }
                object.values_mut().for_each(without_nulls);
            }
            _ => {}
        }
    }

    /// Descriptions are for people who read no Rust: links to items lose their marks.
    fn plain_words(value: &mut Value) {
        match value {
            Value::Array(list) => list.iter_mut().for_each(plain_words),
            Value::Object(object) => {
                if let Some(Value::String(words)) = object.get_mut("description") {
                    *words = words.replace("[`", "").replace("`]", "");
                }
                object.values_mut().for_each(plain_words);
            }
            _ => {}
        }
    }

    #[test]
    fn every_schema_on_disk_is_embedded_and_is_json() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("formulas/schemas");
        let mut on_disk: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
            .collect();
        on_disk.sort();
        let mut embedded: Vec<&str> = names().collect();
        embedded.sort_unstable();
        assert_eq!(on_disk, embedded);
        if std::env::var_os("SOUPCON_WRITE_SCHEMAS").is_some() {
            return;
        }
        for own in ALL {
            let value: Value = serde_json::from_str(own.text).unwrap();
            assert_eq!(value["title"], own.title);
        }
    }
}
