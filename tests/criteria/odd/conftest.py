"""Odd values of typed records, as the rules see them."""

from collections.abc import Callable

import pytest

from criteria.odd.value import OddValue
from criteria.odd.values import odd_values
from criteria.package import Package

Asked = Callable[..., list[OddValue]]


@pytest.fixture
def asks(package: Callable[..., Package]) -> Asked:
    """Read typed records and return what is asked of one head, or of all."""

    def found(head: str = "", /, **tables: object) -> list[OddValue]:
        odd = odd_values(package(**tables))
        return [each for each in odd if head in ("", each.head)]

    return found
