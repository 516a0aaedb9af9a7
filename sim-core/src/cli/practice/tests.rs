//! Practice from the first line to the last.
