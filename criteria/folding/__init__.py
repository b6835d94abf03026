"""How a building unfolds: pieces as boxes and shells, what stops a move, in which order all go."""
