//! What a person asks for, wherever they ask it: a panel, a key, a click in the scene, a script.

use tracebay_core::session::Action;
use tracebay_core::tools::ToolKind;
use tracebay_diagram::{Note, Of};

use crate::settings::Settings;

/// One wish. Panels only collect orders; the plugins carry them out.
#[derive(Clone, Debug, PartialEq)]
pub enum Order {
    /// Do something to the car.
    Do(Action),
    /// Take a tool in the hand, or lay it back.
    Take(Option<ToolKind>),
    /// Turn to a thing (part, place, connector, control), or to nothing.
    Focus(Option<String>),
    /// Turn to the next or previous thing within reach.
    FocusStep(i32),
    /// What pointing at a point with the tool in hand does.
    UsePoint(String),
    /// Stop or run the car's time.
    Pause(bool),
    /// Leave a line where lines appear.
    Tell(String),
    /// Show another screen.
    Open(Screen),
    /// Begin a case.
    Begin {
        /// Scenario id.
        scenario: String,
        /// Seed; one is drawn if absent.
        seed: Option<u64>,
    },
    /// Go on with a recorded attempt, by its name in the save folder.
    Resume(String),
    /// Open an assignment from its file's text.
    Assignment {
        /// Name of the file, for the sentence if it is no good.
        name: String,
        /// What is in it, or why it could not be read.
        text: Result<String, String>,
    },
    /// Let the person choose an assignment's file, where none can be dropped.
    ChooseFile,
    /// Give the person an attempt as a file, by its name.
    HandOut(String),
    /// Note something on the wiring diagram, or with `None` no longer.
    MarkOnDiagram(Of, Option<Note>),
    /// Try again to keep the notes on the diagram.
    KeepNotes,
    /// Give the person a diagram as a file.
    HandOutDiagram {
        /// Name of the file.
        name: String,
        /// What is in it.
        svg: String,
    },
    /// Forget an attempt, by its name.
    Forget(String),
    /// Say who works on the open assignment, by the id on the class list.
    Identify(String),
    /// Begin the next attempt at a task of the open assignment, or go on with it.
    Task(usize),
    /// Put the attempt aside and begin the same scenario again.
    Again {
        /// With the same seed.
        same_seed: bool,
    },
    /// Put the attempt aside.
    Leave,
    /// Try again to keep what could not be kept.
    Retry,
    /// Go on without keeping anything.
    GoOnUnkept,
    /// Change the settings.
    Settings(Box<Settings>),
    /// End the program.
    Quit,
}

/// Screens.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Screen {
    /// Name of the program and where to go.
    #[default]
    Title,
    /// Which case.
    Choose,
    /// What the customer says, and the cautions.
    Slip,
    /// At the car.
    Work,
    /// How it went.
    Debrief,
    /// Settings.
    Settings,
}
