"""Measures: pure functions of SI figures, one module a topic. They know nothing of targets."""
