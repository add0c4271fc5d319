"""Finished pages set on the sheets of a printer."""
