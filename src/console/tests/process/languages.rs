//! The program in another language, and the texts of its files.

use super::*;

#[test]
fn spanish_is_spoken_throughout() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tracebay-console"))
        .args([
            "start",
            SCENARIO,
            "--seed",
            "3",
            "--no-save",
            "--lang",
            "es",
            "--script",
            "-",
        ])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all("ir motor\nestado\n".as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    let text = out(&output);
    assert!(text.contains("Antes de tocar un auto"), "{text}");
    assert!(text.contains("Fue a: compartimiento del motor."), "{text}");
}

#[test]
fn texts_of_files_are_shown_in_the_language_and_typed_in_it() {
    let dir = folder();
    let words = dir.path().join("scenarios/words");
    fs::create_dir_all(&words).unwrap();
    // Invented, and in the place of the shipped file, so that this may hold what it will.
    let texts = "Texts(format: 1, language: \"es\", texts: {
        \"No cold air\": \"Aire que no enfría\",
        \"Condenser face behind the grille\": \"Panel de prueba\",
    })";
    let file = words.join("es.ron");
    fs::write(&file, texts).unwrap();
    let spanish = |args: &[&str], lines: &str| {
        let data = ["--data", path(dir.path()), "--lang", "es"];
        let mut command = Command::new(env!("CARGO_BIN_EXE_tracebay-console"));
        command.env_remove("TRACEBAY_DATA").args(data).args(args);
        typed_into(command, lines)
    };
    let list = out(&spanish(&["list"], ""));
    assert!(list.contains("Aire que no enfría"), "{list}");
    let english = out(&run(dir.path(), &["--data", path(dir.path()), "list"]));
    assert!(english.contains("No cold air"), "{english}");
    // By the name shown, by the one written, by the id.
    for name in [
        "panel de prueba",
        "condenser face behind the grille",
        "front_panel",
    ] {
        let lines = format!("ir motor\nmirar {name}\n");
        let args = [
            "start",
            SCENARIO,
            "--seed",
            "3",
            "--no-save",
            "--script",
            "-",
        ];
        let done = spanish(&args, &lines);
        assert!(done.status.success(), "{name}: {}", out(&done));
        assert!(out(&done).contains("Panel de prueba"), "{}", out(&done));
    }
    let good = spanish(&["check", path(&file)], "");
    assert!(good.status.success(), "{}", err(&good));
    assert!(
        out(&good).contains("2 textos en el idioma es"),
        "{}",
        out(&good)
    );
    // What is missing comes as entries to be filled in.
    assert!(out(&good).contains("\": \"\",\n"), "{}", out(&good));
    fs::write(&file, texts.replace("No cold air", "No cold iar")).unwrap();
    let slip = run(dir.path(), &["check", path(&file)]);
    assert_eq!(slip.status.code(), Some(2));
    let told = err(&slip);
    assert!(told.contains("es.ron:2:"), "{told}");
    assert!(told.contains("did you mean \"No cold air\"?"), "{told}");
    fs::write(&file, texts.replace("\"es\"", "\"xx\"")).unwrap();
    let nobody = run(dir.path(), &["check", path(&file)]);
    assert_eq!(nobody.status.code(), Some(2));
    assert!(err(&nobody).contains("es.ron:1:"), "{}", err(&nobody));
}
