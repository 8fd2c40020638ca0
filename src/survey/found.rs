//! The panel as found: outline and old openings, with how far each may be off.
