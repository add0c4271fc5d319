"""Loadleaf: client profile and block rules in, every load and a printable booklet out."""

__version__ = "0.1.0"
