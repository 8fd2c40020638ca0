//! The program: reads the command line, sets the exit code.

fn main() {}
