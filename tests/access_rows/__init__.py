"""Who may reach which address: a row each, a module a part of the site."""

from importlib import import_module
from pkgutil import iter_modules

from tests.access_rows.base import Row

_NAMES = sorted(each.name for each in iter_modules(__path__) if each.name != "base")
_PARTS = [import_module(f"{__name__}.{name}") for name in _NAMES]

ROWS: dict[str, Row] = {name: row for part in _PARTS for name, row in part.ROWS.items()}

assert len(ROWS) == sum(len(part.ROWS) for part in _PARTS), "one address stands in two parts"
