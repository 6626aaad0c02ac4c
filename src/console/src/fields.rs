//! The reference of all fields of the files people write, and their JSON Schemas.
//!
//! Rendered from the schemas, which come from the types that read the files: nothing can be missing here. Knows
//! no file's content.

use std::process::ExitCode;

use serde_json::{Map, Value};
use tracebay_grading::schema::{FileKind, schema};
use tracebay_words::Words;

/// Prints what kinds there are, the fields of one, or its schema.
pub fn print(words: &Words, kind: Option<&str>, as_schema: bool) -> Result<ExitCode, String> {
    let Some(name) = kind else {
        for kind in FileKind::ALL {
            let args = [
                ("kind", kind.name().into()),
                ("files", kind.lies_in().into()),
            ];
            println!("{}", words.get("say-fields-kind", &args));
        }
        println!("{}", words.text("say-fields-how"));
        return Ok(ExitCode::SUCCESS);
    };
    let known = FileKind::ALL.into_iter().find(|k| k.name() == name);
    let Some(kind) = known else {
        let names = FileKind::ALL.map(FileKind::name);
        let args = [("kind", name.into()), ("known", names.join(", ").into())];
        return Err(words.get("say-fields-unknown", &args));
    };
    let root = schema(kind);
    if as_schema {
        println!("{root:#}");
    } else {
        for line in reference(words, kind, &root) {
            println!("{line}");
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// The reference of a kind of file, line by line.
pub fn reference(words: &Words, kind: FileKind, root: &Value) -> Vec<String> {
    let page = Page { words, root };
    let mut lines = Vec::new();
    let args = [("files", kind.lies_in().into())];
    lines.push(words.get("say-fields-lies-in", &args));
    if kind == FileKind::Assignment {
        lines.push(words.text("say-fields-json-only"));
    } else {
        lines.push(words.text("say-fields-ron"));
    }
    lines.push(String::new());
    page.block(root["title"].as_str().unwrap_or_default(), root, &mut lines);
    // In the order in which they are first named, so that one reads on.
    let mut waiting = named_in(root);
    let mut done: Vec<String> = Vec::new();
    while !waiting.is_empty() {
        let name = waiting.remove(0);
        if done.contains(&name) {
            continue;
        }
        let def = &root["$defs"][&name];
        page.block(&name, def, &mut lines);
        done.push(name);
        let further = named_in(def);
        waiting.splice(0..0, further);
    }
    lines
}

/// Names of the types a schema speaks of, itself only.
fn named_in(schema: &Value) -> Vec<String> {
    let mut found = Vec::new();
    match schema {
        Value::Object(map) => {
            for (key, value) in map {
                match value.as_str() {
                    Some(name) if key == "$ref" => found.push(bare(name).to_owned()),
                    _ if key == "$defs" => {}
                    _ => found.extend(named_in(value)),
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|i| found.extend(named_in(i))),
        _ => {}
    }
    found
}

fn bare(reference: &str) -> &str {
    reference.rsplit('/').next().unwrap_or(reference)
}

/// Symbol of a field's unit, which the project's names carry at their end.
fn unit(field: &str) -> Option<&'static str> {
    const UNITS: &[(&str, &str)] = &[
        ("minutes", "min"),
        ("rpm", "1/min"),
        ("litres", "l"),
        ("kpa", "kPa"),
        ("ohms", "Ω"),
        ("volts", "V"),
        ("amps", "A"),
        ("mm2", "mm²"),
        ("deg", "°"),
        ("ah", "Ah"),
        ("kg", "kg"),
        ("mm", "mm"),
        ("25c", "Ω"),
        ("0c", "s"),
        ("by_k", "K"),
        ("beta_k", "K"),
        ("_c", "°C"),
        ("_v", "V"),
        ("_a", "A"),
        ("_w", "W"),
        ("_s", "s"),
        ("_m", "m"),
    ];
    let at_end = |end: &str| {
        field == end || (field.ends_with(end) && (end.contains('_') || ends_word(field, end)))
    };
    UNITS
        .iter()
        .find(|(end, _)| at_end(end))
        .map(|(_, symbol)| *symbol)
}

fn ends_word(field: &str, end: &str) -> bool {
    field[..field.len() - end.len()].ends_with('_')
}

struct Page<'a> {
    words: &'a Words,
    root: &'a Value,
}

impl Page<'_> {
    /// A type: its name, what it is, and its fields or choices.
    fn block(&self, name: &str, schema: &Value, lines: &mut Vec<String>) {
        lines.push(format!("{name}: {}", meaning(schema)));
        if let Some(fields) = schema["properties"].as_object() {
            self.fields(fields, schema, 1, lines);
        } else if let Some(choices) = schema["oneOf"].as_array() {
            for choice in choices {
                self.choice(choice, lines);
            }
        }
        lines.push(String::new());
    }

    fn fields(
        &self,
        fields: &Map<String, Value>,
        of: &Value,
        depth: usize,
        lines: &mut Vec<String>,
    ) {
        let indent = "  ".repeat(depth);
        for (name, field) in fields {
            let mut about = vec![self.type_of(field)];
            about.extend(unit(name).map(str::to_owned));
            about.extend(self.range(field));
            let required = of["required"]
                .as_array()
                .is_some_and(|r| r.iter().any(|n| n == name));
            about.push(match (&field["default"], required) {
                (Value::Null, true) => self.words.text("say-fields-required"),
                (Value::Null, false) => self.words.text("say-fields-optional"),
                (default, _) => self
                    .words
                    .get("say-fields-default", &[("value", in_ron(default).into())]),
            });
            lines.push(format!(
                "{indent}{name}: {}. {}",
                about.join(", "),
                meaning(field)
            ));
        }
    }

    /// One of an enumeration's choices, as it is written in RON.
    fn choice(&self, choice: &Value, lines: &mut Vec<String>) {
        let plain = choice["const"].as_str().map(|c| vec![c]).or_else(|| {
            let list = choice["enum"].as_array()?;
            Some(list.iter().filter_map(Value::as_str).collect())
        });
        if let Some(names) = plain {
            for name in names {
                lines.push(format!("  {name}. {}", meaning(choice)));
            }
            return;
        }
        for (name, holds) in choice["properties"].as_object().into_iter().flatten() {
            if let Some(fields) = holds["properties"].as_object() {
                let names: Vec<&str> = fields.keys().map(String::as_str).collect();
                lines.push(format!(
                    "  {name}({}). {}",
                    names.join(", "),
                    meaning(choice)
                ));
                self.fields(fields, holds, 2, lines);
            } else {
                let inner = match holds["prefixItems"].as_array() {
                    Some(items) => items
                        .iter()
                        .map(|i| self.with_range(i))
                        .collect::<Vec<_>>()
                        .join(", "),
                    None => self.with_range(holds),
                };
                lines.push(format!("  {name}({inner}). {}", meaning(choice)));
            }
        }
    }

    fn with_range(&self, schema: &Value) -> String {
        let kind = self.type_of(schema);
        match self.range(schema) {
            Some(range) => format!("{kind} {range}"),
            None => kind,
        }
    }

    fn range(&self, schema: &Value) -> Option<String> {
        let (low, high) = (schema["minimum"].as_f64()?, schema["maximum"].as_f64()?);
        let args = [
            ("low", low.to_string().into()),
            ("high", high.to_string().into()),
        ];
        Some(self.words.get("say-fields-range", &args))
    }

    fn type_of(&self, schema: &Value) -> String {
        let text = |key: &str| self.words.text(key);
        let of = |key: &str, inner: String| self.words.get(key, &[("inner", inner.into())]);
        if let Some(name) = schema["$ref"].as_str() {
            return bare(name).to_owned();
        }
        for either in ["anyOf", "oneOf", "allOf"] {
            if let Some(options) = schema[either].as_array() {
                let inner: Vec<String> = options
                    .iter()
                    .filter(|o| o["type"] != "null")
                    .map(|o| self.type_of(o))
                    .collect();
                let inner = inner.join(" | ");
                return if options.iter().any(|o| o["type"] == "null") {
                    of("say-fields-maybe", inner)
                } else {
                    inner
                };
            }
        }
        if let Some(kinds) = schema["type"].as_array() {
            let kind = kinds
                .iter()
                .find(|k| *k != "null")
                .cloned()
                .unwrap_or_default();
            let mut inner = schema.clone();
            inner["type"] = kind;
            return of("say-fields-maybe", self.type_of(&inner));
        }
        match schema["type"].as_str() {
            Some("string") => text("say-fields-text"),
            Some("integer") => text("say-fields-whole"),
            Some("number") => text("say-fields-number"),
            Some("boolean") => text("say-fields-boolean"),
            Some("array") => match schema["prefixItems"].as_array() {
                Some(items) => {
                    let inner: Vec<String> = items.iter().map(|i| self.type_of(i)).collect();
                    format!("({})", inner.join(", "))
                }
                None => of("say-fields-list", self.type_of(&schema["items"])),
            },
            Some("object") => of(
                "say-fields-names",
                self.type_of(&schema["additionalProperties"]),
            ),
            _ => self.root["title"].as_str().unwrap_or_default().to_owned(),
        }
    }
}

/// What a field or type is for, in one line, without the brackets that only code readers need.
fn meaning(schema: &Value) -> String {
    let text = schema["description"].as_str().unwrap_or_default();
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .replace(['[', ']'], "")
}

/// A default as one would write it.
fn in_ron(value: &Value) -> String {
    match value {
        Value::Object(fields) if fields.is_empty() => "{}".to_owned(),
        Value::Object(fields) => {
            let inner: Vec<String> = fields
                .iter()
                .map(|(k, v)| format!("{k}: {}", in_ron(v)))
                .collect();
            format!("({})", inner.join(", "))
        }
        Value::Array(items) => {
            let inner: Vec<String> = items.iter().map(in_ron).collect();
            format!("[{}]", inner.join(", "))
        }
        Value::String(text) if text.starts_with(char::is_uppercase) => text.clone(),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_property_of_every_schema_has_its_line_and_meaning() {
        let mut words = Words::new("en");
        words.add(&crate::CONSOLE_WORDS);
        for kind in FileKind::ALL {
            let root = schema(kind);
            let told = reference(&words, kind, &root);
            let mut types: Vec<&Value> = vec![&root];
            types.extend(root["$defs"].as_object().into_iter().flat_map(Map::values));
            let mut fields = 0;
            for t in types {
                let variants = t["oneOf"].as_array().into_iter().flatten();
                let inner = variants.flat_map(|v| {
                    v["properties"]
                        .as_object()
                        .into_iter()
                        .flat_map(Map::values)
                });
                for holder in std::iter::once(t).chain(inner) {
                    for name in holder["properties"]
                        .as_object()
                        .into_iter()
                        .flat_map(Map::keys)
                    {
                        fields += 1;
                        let start = format!("{name}: ");
                        let line = told.iter().find(|l| l.trim_start().starts_with(&start));
                        let line = line.unwrap_or_else(|| panic!("{}: {name}", kind.name()));
                        assert!(
                            !line.ends_with(". "),
                            "{}: {line} says nothing",
                            kind.name()
                        );
                    }
                }
            }
            assert!(fields > 2, "{}", kind.name());
        }
    }

    #[test]
    fn units_are_read_from_the_names() {
        for (field, symbol) in [
            ("budget_minutes", Some("min")),
            ("idle_rpm", Some("1/min")),
            ("mm2", Some("mm²")),
            ("length_m", Some("m")),
            ("gap_mm", Some("mm")),
            ("ohms", Some("Ω")),
            ("rated_a", Some("A")),
            ("ambient_c", Some("°C")),
            ("colder_by_k", Some("K")),
            ("format", None),
            ("vehicle", None),
            ("blower", None),
            ("seeds", None),
            ("topic", None),
            ("ohms_25c", Some("Ω")),
        ] {
            assert_eq!(unit(field), symbol, "{field}");
        }
    }
}
