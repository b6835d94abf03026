"""Odd values of typed records, as the rules see them."""

from collections.abc import Callable

import pytest

from criteria.odd.value import OddValue
from criteria.odd.values import odd_values
from criteria.package import Package, read_package

Asked = Callable[..., list[OddValue]]


@pytest.fixture
def asks(package: Callable[..., Package]) -> Asked:
    """Read typed records and return what is asked of one head, or of all."""

    def found(head: str = "", /, **tables: object) -> list[OddValue]:
        odd = odd_values(package(**tables))
        return [each for each in odd if head in ("", each.head)]

    return found


@pytest.fixture
def asks_anyway() -> Asked:
    """The same where cells can't be read: those are named elsewhere, and asked nothing about."""

    def found(head: str, /, **tables: list[dict[str, str]]) -> list[OddValue]:
        odd = odd_values(read_package(tables).package)
        return [each for each in odd if each.head == head]

    return found
