//! The usual traps of the job, each with its message word for word: one message, at the line of the number,
//! ahead of everything that follows from it.

mod traps {
    mod entries;
    mod kit;
    mod numbers;
    mod prints;
    mod stale;
}
