//! What the page around the program asks for: files given to it, and presses by those who hear the
//! page instead of seeing it. For them the panels' tree of names is given to the page.

use std::collections::BTreeMap;

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};
use bevy_egui::{
    EguiContext, EguiInput, EguiOutput, EguiPostUpdateSet, EguiPreUpdateSet, PrimaryEguiContext,
};
use serde::Serialize;

use super::{Asked, InForce};
use crate::desk::Order;
use crate::egui::accesskit::{Action, ActionRequest, Node, NodeId, Role, Toggled, TreeId};
use crate::egui::{self, accesskit};
use crate::platform::{self, PageAsk};

/// Adds the page's wishes; nothing where there is no page.
pub struct PagePlugin;

/// Somebody hears the page.
#[derive(Resource, Default)]
struct Heard(bool);

impl Plugin for PagePlugin {
    fn build(&self, app: &mut App) {
        if !platform::IN_A_PAGE {
            return;
        }
        app.init_resource::<Heard>()
            .add_systems(Startup, listen)
            .add_systems(
                PreUpdate,
                hear.after(EguiPreUpdateSet::ProcessInput)
                    .before(EguiPreUpdateSet::BeginPass),
            )
            // In the frame that drew it: there may be no other for a long while.
            .add_systems(PostUpdate, tell.after(EguiPostUpdateSet::ProcessOutput))
            .add_systems(Last, ready);
    }
}

/// What the page asks is no input to the window, which would sleep on.
fn listen(proxy: Res<EventLoopProxyWrapper>) {
    let proxy = (**proxy).clone();
    platform::listen(Box::new(move || {
        let _ = proxy.send_event(WinitUserEvent::WakeUp);
    }));
}

/// The first frames prepare what the third shows.
fn ready(mut frames: Local<u32>) {
    *frames = frames.saturating_add(1);
    if *frames == 3 {
        platform::ready();
    }
}

fn hear(
    mut heard: ResMut<Heard>,
    mut asked: ResMut<Asked>,
    mut inputs: Query<(&mut EguiInput, &mut EguiContext), With<PrimaryEguiContext>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    for ask in platform::asked_by_page() {
        redraw.write(RequestRedraw);
        let (target, text) = match ask {
            PageAsk::File { name, text } => {
                asked.0.push(Order::Assignment { name, text });
                continue;
            }
            PageAsk::Listen => {
                heard.0 = true;
                if let Ok((_, mut context)) = inputs.single_mut() {
                    context.get_mut().enable_accesskit();
                }
                continue;
            }
            PageAsk::Press(id) => (id, None),
            PageAsk::Write(id, text) => (id, Some(text)),
        };
        let Ok((mut input, _)) = inputs.single_mut() else {
            continue;
        };
        let request = |action| {
            egui::Event::AccessKitActionRequest(ActionRequest {
                action,
                target_tree: TreeId::ROOT,
                target_node: NodeId(target),
                data: None,
            })
        };
        input.events.push(request(Action::Focus));
        match text {
            None => input.events.push(request(Action::Click)),
            Some(text) => {
                // What is written replaces what stood there, as it does in the page's own field.
                let all = egui::Modifiers::COMMAND;
                input.events.push(key(egui::Key::A, all));
                input
                    .events
                    .push(key(egui::Key::Backspace, egui::Modifiers::NONE));
                input.events.push(egui::Event::Text(text));
            }
        }
    }
}

fn key(key: egui::Key, modifiers: egui::Modifiers) -> egui::Event {
    egui::Event::Key {
        key,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers,
    }
}

/// Something in the tree that can be heard, and perhaps pressed or written in.
#[derive(Debug, PartialEq, Serialize)]
struct Heardable {
    /// Number that presses go by; text, since it has more digits than a page's numbers hold.
    id: String,
    kind: &'static str,
    name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    on: Option<bool>,
    off_limits: bool,
    focus: bool,
    /// Left, top, width and height in the page's own pixels.
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<[i32; 4]>,
}

fn tell(
    heard: Res<Heard>,
    settings: Res<InForce>,
    outputs: Query<&EguiOutput, With<PrimaryEguiContext>>,
    mut last: Local<String>,
) {
    if !heard.0 {
        return;
    }
    let Ok(output) = outputs.single() else {
        return;
    };
    let Some(update) = &output.platform_output.accesskit_update else {
        return;
    };
    let zoom = f64::from(settings.0.text_percent) / 100.0;
    let tree = serde_json::to_string(&heardable(update, zoom)).unwrap_or_default();
    if tree != *last {
        platform::show_tree(&tree);
        *last = tree;
    }
}

/// The tree in the order in which it is drawn; `zoom` is how much larger than usual.
fn heardable(update: &accesskit::TreeUpdate, zoom: f64) -> Vec<Heardable> {
    let nodes: BTreeMap<u64, &Node> = update.nodes.iter().map(|(id, n)| (id.0, n)).collect();
    let mut list = Vec::new();
    let mut todo: Vec<u64> = update.tree.iter().map(|tree| tree.root.0).collect();
    while let Some(id) = todo.pop() {
        let Some(node) = nodes.get(&id) else { continue };
        todo.extend(node.children().iter().rev().map(|child| child.0));
        let by_another = || {
            let label = node.labelled_by().first()?;
            let label = nodes.get(&label.0)?;
            label.label().or_else(|| label.value())
        };
        let Some(name) = node.label().or_else(by_another).or_else(|| node.value()) else {
            continue;
        };
        let kind = match node.role() {
            Role::TextInput | Role::MultilineTextInput => "field",
            _ if node.supports_action(Action::Click) => "button",
            Role::Heading => "heading",
            _ => "text",
        };
        list.push(Heardable {
            id: id.to_string(),
            kind,
            name: name.to_owned(),
            value: node.value().filter(|v| *v != name).map(str::to_owned),
            on: node.toggled().map(|t| t == Toggled::True),
            off_limits: node.is_disabled(),
            focus: update.focus.0 == id,
            at: node
                .bounds()
                .map(|r| [r.x0, r.y0, r.width(), r.height()].map(|v| (v * zoom).round() as i32)),
        });
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::egui::accesskit::{Tree, TreeUpdate};

    #[test]
    fn the_tree_is_told_in_order_with_names_of_fields() {
        let mut root = Node::new(Role::Window);
        root.set_children(vec![NodeId(5), NodeId(3), NodeId(9)]);
        let mut label = Node::new(Role::Label);
        label.set_value("Seed");
        let mut field = Node::new(Role::TextInput);
        field.set_labelled_by(vec![NodeId(5)]);
        field.set_value("11");
        let mut button = Node::new(Role::Button);
        button.set_label("Begin");
        button.add_action(Action::Click);
        button.set_bounds(accesskit::Rect::new(10.0, 20.0, 110.0, 60.0));
        let update = TreeUpdate {
            nodes: vec![
                (NodeId(9), button),
                (NodeId(1), root),
                (NodeId(3), field),
                (NodeId(5), label),
            ],
            tree: Some(Tree::new(NodeId(1))),
            tree_id: TreeId::ROOT,
            focus: NodeId(3),
        };
        let told = heardable(&update, 1.5);
        assert_eq!(told[2].at, Some([15, 30, 150, 60]));
        assert_eq!(told[0].at, None);
        let told: Vec<_> = told
            .into_iter()
            .map(|h| (h.kind, h.name, h.value, h.focus))
            .collect();
        assert_eq!(
            told,
            [
                ("text", "Seed".to_owned(), None, false),
                ("field", "Seed".to_owned(), Some("11".to_owned()), true),
                ("button", "Begin".to_owned(), None, false),
            ]
        );
    }
}
