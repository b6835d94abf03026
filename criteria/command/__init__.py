"""The library from a command line: folders read, check sheets written."""
