"""Checks: what each one reads of a package, one module a topic. Targets come from elsewhere."""
