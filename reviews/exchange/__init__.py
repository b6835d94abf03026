"""What other programs read and write, each format in a module that knows nothing of the site."""
