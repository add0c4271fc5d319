"""Figures as frozen marks with every coordinate ready; a template only writes them down as SVG."""
