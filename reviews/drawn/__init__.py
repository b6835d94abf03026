"""Drawings as they stand on a page: SVG with classes, and the same figures as a table."""
