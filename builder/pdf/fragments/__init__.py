"""A booklet pressed in fragments: each leaf by itself, in one process or several, then joined into one file."""
