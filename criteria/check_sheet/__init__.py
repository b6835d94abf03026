"""The check sheet of a package, and the claims held against it."""
