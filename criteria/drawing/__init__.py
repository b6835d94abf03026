"""Drawings on paper: millimetres, pens and lettering, made of rows and findings; no web in it."""
