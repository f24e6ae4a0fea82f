//! The command-line program; everything happens in the library.
fn main() {}
