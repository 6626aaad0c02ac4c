//! Between the program and the page's script: events with named texts, both ways.
//!
//! The script (`src/app/web/page.js`) owns the page's elements; the program owns the canvas. From
//! here `tracebay-ready`, `-stopped`, `-read-out`, `-tree`, `-choose-file`, `-hand-out`, `-hold`, `-speaks` and `-at-case` are
//! sent to the window; from there comes `tracebay-asked`, whose `what` is `file`, `listen`, `press` or
//! `write`.

use std::cell::RefCell;

use js_sys::{Object, Reflect};
use wasm_bindgen::prelude::*;
use web_sys::{CustomEvent, CustomEventInit, UrlSearchParams};

use super::PageAsk;

thread_local! {
    static ASKED: RefCell<Vec<PageAsk>> = const { RefCell::new(Vec::new()) };
}

/// Sends an event to the page's script.
pub fn tell(what: &str, texts: &[(&str, &str)]) {
    let Some(window) = web_sys::window() else {
        return;
    };
    let detail = Object::new();
    for (name, text) in texts {
        let _ = Reflect::set(&detail, &(*name).into(), &(*text).into());
    }
    let init = CustomEventInit::new();
    init.set_detail(&detail);
    if let Ok(event) = CustomEvent::new_with_event_init_dict(&format!("tracebay-{what}"), &init) {
        let _ = window.dispatch_event(&event);
    }
}

/// Takes in what the page's script sends; `wake` is called after each.
pub fn listen(wake: Box<dyn Fn()>) {
    let heard = Closure::<dyn Fn(CustomEvent)>::new(move |event: CustomEvent| {
        let detail = event.detail();
        let text = |name: &str| {
            let value = Reflect::get(&detail, &name.into()).ok()?;
            value.as_string()
        };
        let number = || text("id").and_then(|id| id.parse::<u64>().ok());
        let ask = match text("what").as_deref() {
            Some("file") => Some(PageAsk::File {
                name: text("name").unwrap_or_default(),
                text: text("text").ok_or_else(|| text("why").unwrap_or_default()),
            }),
            Some("listen") => Some(PageAsk::Listen),
            Some("press") => number().map(PageAsk::Press),
            Some("write") => number()
                .zip(text("text"))
                .map(|(n, t)| PageAsk::Write(n, t)),
            _ => None,
        };
        if let Some(ask) = ask {
            ASKED.with_borrow_mut(|asked| asked.push(ask));
            wake();
        }
    });
    if let Some(window) = web_sys::window() {
        let heard = heard.into_js_value();
        let _ = window.add_event_listener_with_callback("tracebay-asked", heard.unchecked_ref());
    }
}

/// What was asked since this was called last.
pub fn asked() -> Vec<PageAsk> {
    ASKED.take()
}

/// Names and values in the page's address, decoded.
pub fn address() -> Vec<(String, String)> {
    let search = web_sys::window().and_then(|w| w.location().search().ok());
    let Some(Ok(params)) = search.map(|s| UrlSearchParams::new_with_str(&s)) else {
        return Vec::new();
    };
    js_sys::try_iter(&params)
        .ok()
        .flatten()
        .into_iter()
        .flatten()
        .filter_map(|pair| {
            let pair: js_sys::Array = pair.ok()?.dyn_into().ok()?;
            Some((pair.get(0).as_string()?, pair.get(1).as_string()?))
        })
        .collect()
}

/// Milliseconds since the page was opened.
pub fn milliseconds() -> Option<f64> {
    Some(web_sys::window()?.performance()?.now())
}

/// What the page's script found out about the browser, under a name.
pub fn marked(name: &str) -> Option<String> {
    let root = web_sys::window()?.document()?.document_element()?;
    root.get_attribute(&format!("data-{name}"))
}

/// Writes a line on the browser's console.
pub fn complain(line: &str) {
    web_sys::console::error_1(&line.into());
}
