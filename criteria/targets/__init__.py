"""The measurable lines of a brief: read from words and tables, or taken from publications."""
