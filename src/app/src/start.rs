//! From the command line to a running app; and the one sentence where there can be none.

use std::sync::Arc;

use tracebay_core::scenario::Scenario;
use tracebay_core::session::Action;
use tracebay_core::vehicle::Station;

use crate::cli::{Cli, GraphicsName, LanguageName, PlaceName, ScreenName};
use crate::desk::{Order, Screen};
use crate::platform::{self, Shelf};
use crate::run::{self, Start, play};
use crate::settings::{Graphics, Settings};
use crate::text::{Language, Text};

/// Exit code where the command line or a file is at fault.
const BAD_INPUT: i32 = 2;
/// Exit code where the machine cannot show a window.
const NO_WINDOW: i32 = 3;

/// Runs the app as the command line says.
pub fn main() {
    let _ = platform::since_start_ms();
    let (mut cli, wrong) = platform::asked_for();
    let mut shelf = match Shelf::open(cli.data.clone(), cli.save.clone()) {
        Ok(shelf) => shelf,
        Err(error) => platform::give_up(&error.to_string(), BAD_INPUT),
    };
    if let Some(folder) = cli.data.as_ref().filter(|_| cli.authoring) {
        shelf.for_author(folder.clone());
    }
    let settings = settings(&shelf, &cli);
    let text = Text::new(settings.language);
    shelf.speak(settings.language.code());
    let mut trouble = wrong.map(|what| text.fill("address-wrong", &[("what", (&what).into())]));
    for problem in &shelf.problems {
        platform::tell(&problem.to_string());
    }
    let mut wanted = None;
    if cli.authoring {
        let problems: Vec<String> = shelf.problems.iter().map(ToString::to_string).collect();
        trouble = run::authoring::mistakes(&problems)
            .map(|what| text.fill("author-wrong", &[("what", (&what).into())]));
        if let Some(id) = cli
            .scenario
            .take_if(|id| !shelf.catalogue.scenarios.contains_key(id))
        {
            // It is opened as soon as its file is good.
            trouble = trouble.or_else(|| {
                let error = shelf.catalogue.draw(&id, 1).err()?;
                Some(text.words.draw_error(&error))
            });
            wanted = Some((id, cli.seed.take()));
        }
    }
    if let Some(id) = &cli.scenario
        && let Err(error) = shelf.catalogue.draw(id, cli.seed.unwrap_or(1))
    {
        let why = text.words.draw_error(&error);
        if !platform::IN_A_PAGE {
            platform::give_up(&why, BAD_INPUT);
        }
        // An address is easily mistyped, and there is no line to type it again on.
        trouble = Some(why);
        (cli.scenario, cli.seed) = (None, None);
    }
    let authoring = cli
        .data
        .clone()
        .filter(|_| cli.authoring)
        .map(|folder| run::authoring::AuthoringPlugin { folder, wanted });
    let warning = match &authoring {
        Some(_) => Some(text.get("author-mode")),
        None => shelf.warning.map(|key| text.get(key)),
    };
    if let Some(path) = &cli.assigned {
        let name = path.display().to_string();
        let taken = platform::read_text(path)
            .map_err(|why| format!("{name}: {why}"))
            .and_then(|file| {
                shelf.take_assignment(&text.words, &name, &file, cli.learner.as_deref())
            });
        if let Err(why) = taken {
            platform::give_up(&why, BAD_INPUT);
        }
    }
    let steps = cli.play.as_ref().map(|path| {
        let found = platform::read_text(path).and_then(|text| play::read(&text));
        match found {
            Ok(steps) => steps,
            Err(why) => platform::give_up(&format!("{}: {why}", path.display()), BAD_INPUT),
        }
    });
    let no_window = [text.get("no-window-display"), text.get("no-window-driver")];
    platform::on_panic(move |message| explain(message, &no_window), NO_WINDOW);
    if !platform::has_display() {
        platform::give_up(&text.get("no-window-display"), NO_WINDOW);
    }
    let size = if cli.size.0 == 0 {
        (1280, 720)
    } else {
        cli.size
    };
    let first = if cli.measure {
        Vec::new()
    } else {
        first(&shelf, &cli)
    };
    let measure = cli.measure.then(|| measure(&shelf, &cli));
    run::app(Start {
        shelf,
        settings,
        size,
        first,
        measure,
        screenshot: cli.screenshot,
        trouble,
        warning,
        authoring,
        play: steps,
    })
    .run();
}

fn settings(shelf: &Shelf, cli: &Cli) -> Settings {
    let mut s = shelf.settings();
    if let Some(language) = cli.language {
        s.language = match language {
            LanguageName::En => Language::En,
            LanguageName::Es => Language::Es,
        };
    }
    if let Some(percent) = cli.text_size {
        s.text_percent = percent;
    }
    if let Some(level) = cli.graphics {
        s.graphics = match level {
            GraphicsName::Low => Graphics::Low,
            GraphicsName::Medium => Graphics::Medium,
            GraphicsName::High => Graphics::High,
        };
    }
    s.tidied()
}

/// What is measured: the case given, or the first there is.
fn measure(shelf: &Shelf, cli: &Cli) -> run::measure::MeasurePlugin {
    // A car, since the bench is the lesser part of what is drawn.
    let of_a_car = |s: &&Arc<Scenario>| {
        let vehicle = shelf.catalogue.vehicles.get(&s.vehicle);
        vehicle.is_some_and(|v| !v.on_bench())
    };
    let any = || {
        let mut scenarios = shelf.catalogue.scenarios.values();
        scenarios
            .find(of_a_car)
            .map_or_else(String::new, |s| s.id.clone())
    };
    let levels = match cli.graphics {
        Some(GraphicsName::Low) => vec![Graphics::Low],
        Some(GraphicsName::Medium) => vec![Graphics::Medium],
        Some(GraphicsName::High) => vec![Graphics::High],
        None => vec![Graphics::Low, Graphics::Medium, Graphics::High],
    };
    let stations = match cli.place {
        Some(place) => vec![station(place)],
        None => Vec::new(),
    };
    run::measure::MeasurePlugin {
        levels,
        stations,
        scenario: cli.scenario.clone().unwrap_or_else(any),
        seed: cli.seed.unwrap_or(1),
    }
}

fn station(place: PlaceName) -> Station {
    match place {
        PlaceName::Bay => Station::Bay,
        PlaceName::Box => Station::Box,
        PlaceName::Bench => Station::Bench,
        PlaceName::Seat => Station::Seat,
    }
}

fn first(shelf: &Shelf, cli: &Cli) -> Vec<Order> {
    let mut orders = Vec::new();
    if let Some(scenario) = &cli.scenario {
        // A page that is loaded again goes on where it was.
        let left_off = cli
            .seed
            .filter(|_| platform::IN_A_PAGE)
            .and_then(|seed| shelf.left_off(scenario, seed));
        orders.push(match left_off {
            Some(name) => Order::Resume(name),
            None => Order::Begin {
                scenario: scenario.clone(),
                seed: cli.seed,
            },
        });
        if let Some(place) = cli.place {
            orders.push(Order::Open(Screen::Work));
            let first = shelf.first_station(scenario);
            if first != Some(station(place)) {
                orders.push(Order::Do(Action::Go(station(place))));
            }
        }
    }
    match cli.screen {
        Some(ScreenName::Choose) => orders.push(Order::Open(Screen::Choose)),
        Some(ScreenName::Settings) => orders.push(Order::Open(Screen::Settings)),
        Some(ScreenName::Title) | None => {}
    }
    orders
}

/// The sentence for a panic of the window or graphics library; none for any other panic, which is
/// a mistake of ours and must be seen as one.
fn explain(message: &str, [display, driver]: &[String; 2]) -> Option<String> {
    const DISPLAY: [&str; 4] = [
        "event loop",
        "XOpenDisplay",
        "neither WAYLAND_DISPLAY",
        "X11",
    ];
    const DRIVER: [&str; 6] = [
        "Unable to find a GPU",
        "adapter",
        "wgpu surface",
        "Vulkan",
        "RequestDeviceError",
        "No wgpu backend",
    ];
    let has = |list: &[&str]| list.iter().any(|part| message.contains(part));
    if has(&DISPLAY) {
        Some(display.clone())
    } else if has(&DRIVER) {
        Some(driver.clone())
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_panics_about_the_window_get_its_sentence() {
        let sentences = ["display".to_owned(), "driver".to_owned()];
        let said = |m| explain(m, &sentences);
        assert_eq!(
            said("Failed to build event loop: Os(..)").as_deref(),
            Some("display")
        );
        assert_eq!(
            said("Unable to find a GPU! Make sure").as_deref(),
            Some("driver")
        );
        assert_eq!(said("index out of bounds"), None);
    }
}
