//! The `boothside` command.
fn main() {}
