use tracebay_core::{scenario::Scenario, source, vehicle::Vehicle};
#[test]
fn parses() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenarios");
    let mut bad = 0;
    for (dir, veh) in [(format!("{root}/vehicles"), true), (root.to_owned(), false)] {
        for e in std::fs::read_dir(dir).unwrap() {
            let p = e.unwrap().path();
            if p.extension().is_none_or(|x| x != "ron") {
                continue;
            }
            let t = std::fs::read_to_string(&p).unwrap();
            let n = p.file_name().unwrap().to_str().unwrap();
            if veh {
                match source::parse::<Vehicle>(n, &t) {
                    Ok(v) => {
                        let pins: usize = v.parts.values().map(|p| p.kind.pins().len()).sum();
                        println!("{n} pins {pins}")
                    }
                    Err(e) => {
                        bad += 1;
                        println!("{e}")
                    }
                }
            } else {
                match source::parse::<Scenario>(n, &t) {
                    Ok(s) => println!("{n} {}", s.candidates.len()),
                    Err(e) => {
                        bad += 1;
                        println!("{e}")
                    }
                }
            }
        }
    }
    assert_eq!(bad, 0);
}
