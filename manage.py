#!/usr/bin/env python
"""Muntin's command line: `manage.py demo`, `manage.py migrate` and Django's others."""

import os
import sys

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "reviews.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)
