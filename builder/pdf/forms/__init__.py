"""Form fields: made in the finished pages, and read back from filled ones."""
