"""Figures that publications give, one module a part of the world."""
