"""Set-up of the tests of criteria."""

import sys
from functools import _lru_cache_wrapper

import pytest


@pytest.fixture(autouse=True, scope="session")
def _nothing_is_kept_from_pages():
    """What a page had worked out earlier in this process is worked out here, where it is proved."""
    for name in [name for name in sys.modules if name.split(".")[0] == "criteria"]:
        for each in vars(sys.modules[name]).values():
            if isinstance(each, _lru_cache_wrapper):
                each.cache_clear()
