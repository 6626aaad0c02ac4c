//! A real case on a desk and a window without a screen, for the panel tests.
#![allow(dead_code)]

use std::sync::Arc;

use egui_kittest::Harness;
use tracebay::desk::{Desk, Order, Unkept};
use tracebay::egui;
use tracebay::look::{Palette, theme};
use tracebay::panels::Cx;
use tracebay::settings::Settings;
use tracebay::text::Text;
use tracebay_core::scenario::{Case, Catalogue, SourceFile};
use tracebay_core::session::Session;

/// The repository's own vehicles and scenarios.
pub fn catalogue() -> Catalogue {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../scenarios");
    let root = std::env::var("TRACEBAY_TEST_SCENARIOS").unwrap_or_else(|_| root.into());
    let read = |folder: &str| -> Vec<SourceFile> {
        let mut files: Vec<_> = std::fs::read_dir(folder)
            .expect("the scenarios are in the repository")
            .filter_map(|e| {
                let path = e.ok()?.path();
                (path.extension()? == "ron").then(|| SourceFile {
                    name: path.display().to_string(),
                    text: std::fs::read_to_string(&path).expect("a readable file"),
                })
            })
            .collect();
        files.sort_by(|a, b| a.name.cmp(&b.name));
        files
    };
    let (catalogue, problems) = Catalogue::load(&read(&format!("{root}/vehicles")), &read(&root));
    assert!(problems.is_empty(), "{problems:?}");
    catalogue
}

/// A case of the first car with a given fault behind it.
pub fn case(scenario: &str, seed: u64) -> Arc<Case> {
    Arc::new(catalogue().draw(scenario, seed).expect("a known scenario"))
}

/// Everything a panel draws from, and what it asked for.
pub struct Bench {
    /// The desk.
    pub desk: Desk,
    /// Words.
    pub text: Text,
    /// Colours.
    pub look: Palette,
    /// Settings.
    pub settings: Settings,
    /// Orders given since they were last taken.
    pub orders: Vec<Order>,
}

impl Bench {
    /// A case on the desk.
    pub fn new(scenario: &str, seed: u64) -> Bench {
        let session = Session::new(case(scenario, seed)).expect("a car that settles");
        Bench {
            desk: Desk::new(Box::new(Unkept(session))),
            text: Text::new(Default::default()),
            look: Palette::workshop(),
            settings: Settings::default(),
            orders: Vec::new(),
        }
    }

    /// Draws with everything a panel needs.
    pub fn draw(&mut self, draw: impl FnOnce(&mut Cx<'_>, &mut Desk)) {
        let mut cx = Cx {
            text: &self.text,
            look: &self.look,
            settings: &self.settings,
            orders: &mut self.orders,
        };
        draw(&mut cx, &mut self.desk);
    }

    /// Carries out what was asked of the desk, as the app does.
    pub fn carry_out(&mut self) -> Vec<Order> {
        let orders = std::mem::take(&mut self.orders);
        for order in &orders {
            self.desk.obey(order);
        }
        orders
    }
}

/// A harness of this size whose style is ours.
pub fn harness<S>(
    size: (f32, f32),
    state: S,
    mut draw: impl FnMut(&mut egui::Ui, &mut S) + 'static,
) -> Harness<'static, S> {
    let mut dressed = false;
    Harness::builder()
        .with_size(egui::vec2(size.0, size.1))
        .build_ui_state(
            move |ui, state| {
                // Fonts are there from the pass after the one that sets them.
                if !dressed {
                    theme::load_fonts(ui.ctx());
                    theme::dress(ui.ctx(), &Palette::workshop(), true);
                    dressed = true;
                    ui.ctx().request_repaint();
                    return;
                }
                draw(ui, state);
            },
            state,
        )
}
