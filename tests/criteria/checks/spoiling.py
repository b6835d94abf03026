"""Every cell of a typed package, for tests that spoil them one at a time."""

from collections.abc import Iterator, Mapping, Sequence

from criteria.schedules import BY_SLUG
from criteria.typed.columns import Kind

Tables = Mapping[str, Sequence[Mapping[str, str]]]


def filled_cells(tables: Tables) -> Iterator[tuple[str, int, str]]:
    """Give schedule, place of the row and head of each filled cell but the marks."""
    for slug, records in tables.items():
        for row, record in enumerate(records):
            for head, typed in record.items():
                if typed and BY_SLUG[slug].column(head).kind is not Kind.MARK:
                    yield slug, row, head
