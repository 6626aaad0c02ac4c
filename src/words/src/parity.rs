//! Whether two files of words agree, for the tests of this crate and of the faces.

use std::collections::{BTreeMap, BTreeSet};

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use fluent_syntax::parser;

/// Messages of a file: key (and `key.attribute`) with the arguments it uses.
pub type Messages = BTreeMap<String, BTreeSet<String>>;

/// Reads a file of words. Mistakes and doubled keys are errors.
pub fn messages(text: &str) -> Result<Messages, Vec<String>> {
    let resource = parser::parse(text).map_err(|(_, errors)| {
        let told = errors.iter().map(|error| {
            let line = text[..error.pos.start.min(text.len())].lines().count();
            format!("line {line}: {error}")
        });
        told.collect::<Vec<_>>()
    })?;
    let mut found = Messages::new();
    let mut doubled = Vec::new();
    let mut add = |key: String, pattern: &Pattern<&str>| {
        let mut arguments = BTreeSet::new();
        walk(pattern, &mut arguments);
        if found.insert(key.clone(), arguments).is_some() {
            doubled.push(format!("{key} stands twice"));
        }
    };
    for entry in &resource.body {
        let Entry::Message(message) = entry else {
            continue;
        };
        let key = message.id.name;
        if let Some(value) = &message.value {
            add(key.to_owned(), value);
        }
        for attribute in &message.attributes {
            add(format!("{key}.{}", attribute.id.name), &attribute.value);
        }
    }
    if doubled.is_empty() {
        Ok(found)
    } else {
        Err(doubled)
    }
}

/// How two files of words differ in keys or arguments; empty if they agree.
pub fn differences(one: &Messages, other: &Messages) -> Vec<String> {
    let keys: BTreeSet<_> = one.keys().chain(other.keys()).collect();
    keys.into_iter()
        .filter_map(|key| match (one.get(key), other.get(key)) {
            (Some(_), None) => Some(format!("{key} is missing in the second file")),
            (None, Some(_)) => Some(format!("{key} is missing in the first file")),
            (Some(a), Some(b)) if a != b => Some(format!("{key}: arguments {a:?} and {b:?}")),
            _ => None,
        })
        .collect()
}

fn walk(pattern: &Pattern<&str>, arguments: &mut BTreeSet<String>) {
    for element in &pattern.elements {
        if let PatternElement::Placeable { expression } = element {
            walk_expression(expression, arguments);
        }
    }
}

fn walk_expression(expression: &Expression<&str>, arguments: &mut BTreeSet<String>) {
    match expression {
        Expression::Inline(inline) => walk_inline(inline, arguments),
        Expression::Select { selector, variants } => {
            walk_inline(selector, arguments);
            for variant in variants {
                walk(&variant.value, arguments);
            }
        }
    }
}

fn walk_inline(inline: &InlineExpression<&str>, arguments: &mut BTreeSet<String>) {
    match inline {
        InlineExpression::VariableReference { id } => {
            arguments.insert(id.name.to_owned());
        }
        InlineExpression::Placeable { expression } => walk_expression(expression, arguments),
        _ => {}
    }
}
