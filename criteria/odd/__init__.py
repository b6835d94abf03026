"""Rules that find figures which are probably a slip of unit or typing, one module a subject."""
