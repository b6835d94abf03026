"""Plans of rooms made from schedule rows, what their light comes to, and trials of windows."""
