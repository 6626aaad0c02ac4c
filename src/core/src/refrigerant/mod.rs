//! refrigerant
