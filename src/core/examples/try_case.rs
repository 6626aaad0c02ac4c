use std::sync::Arc;
use tracebay_core::scenario::*;
use tracebay_core::session::*;
fn read(p: &str) -> SourceFile { SourceFile { name: p.into(), text: std::fs::read_to_string(p).unwrap() } }
fn main() {
    let v: Vec<_> = std::fs::read_dir("scenarios/vehicles").unwrap().map(|e| read(e.unwrap().path().to_str().unwrap())).collect();
    let s: Vec<_> = std::fs::read_dir("scenarios").unwrap().map(|e| e.unwrap().path()).filter(|p| p.extension().is_some_and(|e| e == "ron")).map(|p| read(p.to_str().unwrap())).collect();
    let t = std::time::Instant::now();
    let (cat, problems) = Catalogue::load(&v, &s);
    println!("load {:?}", t.elapsed());
    for p in &problems { println!("{p}"); }
    for (id, sc) in &cat.scenarios {
        let case = cat.draw(id, 1).unwrap();
        let t = std::time::Instant::now();
        let sound = Session::new(Arc::new(case.sound())).unwrap();
        println!("{id}: new {:?} nodes {} elements {}", t.elapsed(), sound.network().node_count(), sound.network().element_count());
        let t = std::time::Instant::now();
        println!("  sound shows: {:?} {:?}", sound.complaint_shows(), t.elapsed());
        for (i, c) in sc.candidates.iter().enumerate() {
            let s = Session::new(Arc::new(case.with_candidate(i)));
            match s { Ok(s) => println!("  {} {:?}", c.id, s.complaint_shows()), Err(e) => println!("  {} ERR {e}", c.id) }
        }
    }
}
