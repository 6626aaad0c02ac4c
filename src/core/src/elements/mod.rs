//! elements
