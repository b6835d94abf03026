"""The command line wherever Muntin is installed: `python -m reviews demo`, and Django's others."""

import os
import sys

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line
from django.db import OperationalError, ProgrammingError

from reviews.outages import StoreAway


def main() -> None:
    """Run the command that is asked for; what it can't work with is said in words (exit 2)."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "reviews.settings")
    try:
        settings.DATA_DIR  # noqa: B018 - reads the settings: an odd one is told before all else
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as odd:
        _stop(str(odd))
    except (OperationalError, ProgrammingError, StoreAway) as error:
        if "--traceback" in sys.argv:
            raise
        is_store = isinstance(error, StoreAway)
        _stop(str(error) if is_store else f"The database answered: {str(error).strip()}")


def _stop(words: str) -> None:
    print(words, file=sys.stderr)
    sys.exit(2)


if __name__ == "__main__":
    main()
