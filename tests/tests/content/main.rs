//! The shipped vehicles and scenarios, checked as content: they read, they hold together, their
//! fuses protect their wires, every candidate makes its complaint true, and any two can be told
//! apart. What the physics computes is checked elsewhere.

mod behaviour;
mod courses;
mod facts;
mod files;
mod lessons;
mod load;
mod plans;
mod protection;
mod words;
mod worlds;
