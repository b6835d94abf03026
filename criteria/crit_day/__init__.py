"""A crit's day before it begins: hours and rooms, who sees what, the draw, what can be compared."""
