"""The command line wherever Muntin is installed: `python -m reviews demo`, and Django's others."""

import os
import sys

from django.core.management import execute_from_command_line


def main() -> None:
    """Run the command that is asked for."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "reviews.settings")
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
