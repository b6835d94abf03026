#!/usr/bin/env python
"""Muntin's command line: `manage.py demo`, `manage.py migrate` and Django's others."""

from reviews.__main__ import main

if __name__ == "__main__":
    main()
