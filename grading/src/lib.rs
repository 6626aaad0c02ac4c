//! grading
