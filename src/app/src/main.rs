fn main() {
    bevy::app::App::new()
        .add_plugins(bevy::DefaultPlugins)
        .add_plugins(bevy_egui::EguiPlugin::default())
        .run();
}
