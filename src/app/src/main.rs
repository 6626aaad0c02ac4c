//! Starts the window, or says in one sentence why it cannot.

fn main() {
    tracebay::start::main();
}
