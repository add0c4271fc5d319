"""Short cuts through the typesetter, each leaving the pages as they are."""
