"""Packages shown to later years as examples, only while all of their students allow it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from django.db.models import QuerySet

from reviews.models import Consent, Crit, Person, Revision, Scheme


@dataclass(frozen=True)
class Example:
    """What stands of a scheme as an example.

    revision   the last that was issued for a crit that is released: the one shown; None where none
    students   who draw the scheme and who drew what was issued of it, by key
    allowing   those of them who allow it
    """

    scheme: Scheme
    revision: Revision | None
    students: frozenset[int]
    allowing: frozenset[int]

    @property
    def is_shown(self) -> bool:
        """Whether later years are shown it: all allow it, and there is something to show."""
        is_whole = bool(self.students) and self.students == self.allowing
        return is_whole and self.revision is not None and self.scheme.withdrawn_at is None


def examples_of(studios: Collection[int]) -> list[Example]:
    """Each scheme of some studios that isn't withdrawn, by number; five queries."""
    schemes = Scheme.objects.standing().filter(studio__in=studios)
    return _read(schemes.select_related("studio").order_by("-studio__opened_at", "number"))


def example_of(scheme: Scheme) -> Example:
    """What stands of one scheme."""
    (example,) = _read(Scheme.objects.filter(pk=scheme.pk).select_related("studio"))
    return example


def shown_example(studios: Collection[int], scheme_id: int) -> Example | None:
    """One of those that are shown from some studios; None where it isn't."""
    schemes = Scheme.objects.filter(pk=scheme_id, studio__in=studios).select_related("studio")
    return next((each for each in _read(schemes) if each.is_shown), None)


def _read(schemes: QuerySet[Scheme]) -> list[Example]:
    """Who is made anonymous can take nothing back: their consent stands no more."""
    found = list(schemes)
    keys = [each.pk for each in found]
    students: dict[int, set[int]] = {key: set() for key in keys}
    drawing = Scheme.members.through.objects.filter(scheme__in=keys)
    drew = Revision.students.through.objects.filter(revision__scheme__in=keys)
    for scheme, person in [
        *drawing.values_list("scheme", "person"),
        *drew.values_list("revision__scheme", "person"),
    ]:
        students[scheme].add(person)
    allowing: dict[int, set[int]] = {key: set() for key in keys}
    consents = Consent.objects.to_examples().filter(scheme__in=keys)
    there = consents.filter(person__in=Person.objects.filter(erased_at=None))
    for scheme, person in there.values_list("scheme", "person"):
        allowing[scheme].add(person)
    issued = Revision.objects.filter(scheme__in=keys, crit__in=Crit.objects.released())
    last = {each.scheme_id: each for each in issued.select_related("scheme__studio").order_by("pk")}
    return [
        Example(
            each,
            last.get(each.pk),
            frozenset(students[each.pk]),
            frozenset(students[each.pk] & allowing[each.pk]),
        )
        for each in found
    ]
