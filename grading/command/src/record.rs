//! A learner's own record: listed, copied out, deleted. Everything is files in folders of theirs.

use std::fs;

use serde_json::json;

use crate::cli::RecordArgs;
use crate::folder;
use crate::handed::{self, Found};

/// Does what the options say with one learner's files.
///
/// # Errors
/// What could not be read, copied or deleted.
pub fn command(args: &RecordArgs) -> Result<(), String> {
    if args.delete && !args.yes {
        return Err("deleting cannot be undone; say --delete --yes".to_owned());
    }
    let words = crate::text::words("en");
    let entries = folder::list(&args.folder, args.export.as_deref())?;
    let own: Vec<_> = entries
        .iter()
        .filter(|entry| match handed::read(&words, entry) {
            Found::Attempt(handed) => handed.header.learner.as_deref() == Some(&args.learner),
            Found::Row(_) => false,
        })
        .collect();
    if let Some(out) = &args.export {
        fs::create_dir_all(out).map_err(|e| crate::library::file_error(out, &e))?;
        for (i, entry) in own.iter().enumerate() {
            // The path within the folder becomes one plain name, numbered so that none collide.
            let name: String = entry
                .name
                .chars()
                .map(|c| {
                    if c.is_alphanumeric() || matches!(c, '.' | '-') {
                        c
                    } else {
                        '_'
                    }
                })
                .collect();
            let to = out.join(format!("{:04}_{name}", i + 1));
            if to.exists() {
                return Err(format!("{}: is there already", to.display()));
            }
            fs::copy(&entry.path, &to).map_err(|e| crate::library::file_error(&to, &e))?;
        }
    }
    if args.delete {
        for entry in &own {
            fs::remove_file(&entry.path)
                .map_err(|e| crate::library::file_error(&entry.path, &e))?;
        }
    }
    let files: Vec<&str> = own.iter().map(|entry| entry.name.as_str()).collect();
    if args.json {
        let done = json!({
            "learner": args.learner, "files": files,
            "exported_to": args.export, "deleted": args.delete,
        });
        tell!("{done}");
        return Ok(());
    }
    for file in &files {
        tell!("{file}");
    }
    let what = match (&args.export, args.delete) {
        (Some(out), true) => format!("copied to {} and deleted", out.display()),
        (Some(out), false) => format!("copied to {}", out.display()),
        (None, true) => "deleted".to_owned(),
        (None, false) => "found".to_owned(),
    };
    tell!("{} attempts of {} {what}", files.len(), args.learner);
    Ok(())
}
