"""Load the demo: the same forms' deeds that people use, with the scenario's words and days."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from reviews import clock
from reviews.demo import between, crits, packages, portfolios, recrit, studios, years
from reviews.demo.scenario import HOUR, HUT, STUDIOS, Calendar
from reviews.models import Crit, Scheme, Studio

Say = Callable[[str], None]


def is_loaded() -> bool:
    """Whether the demo's studios stand."""
    return Studio.objects.filter(title=STUDIOS[-1].title).exists()


@transaction.atomic
def begin(today: date, say: Say) -> None:
    """Open both studios so that the running crit is today, with the packages drawn whole."""
    calendar, opened = Calendar(today), []
    for story in STUDIOS:
        say(f"Opening {story.title}: people, brief, crits")
        opened.append((studios.open_studio(story, calendar), story))
    for scheme in packages.hand_in(opened, calendar, full=True):
        say(f"Filling the schedules of {scheme} and drawing its sheets")


def go_on(today: date, say: Say) -> None:
    """Hand in the other packages, then set the levels and comments: each whole, or not at all.

    What is said is what is still to come.
    """
    calendar = Calendar(today)
    opened = [(Studio.objects.get(title=story.title), story) for story in STUDIOS]
    left = Scheme.objects.exclude(number__in=packages.FULL).count()
    for n, scheme in enumerate(packages.hand_in(opened, calendar, full=False)):
        say(f"the packages of {left - n} schemes from {scheme} on, then all levels and comments")
    for studio, story in opened:
        say(f"levels and comments, from {story.title} on")
        with transaction.atomic():
            crits.sit(studio, story, calendar)
            portfolios.make_portfolio(studio)
            recrit.show_again(studio, story, calendar)
            years.leave(studio, story)
            if story is HUT:
                between.tell(studio, calendar)


def set_clock(*, anew: bool = False) -> None:
    """Let the demo's clock stand at the scenario's hour on its running crit's day.

    Where it goes on that day already it is left alone, unless the demo is filled anew.
    """
    crit = Crit.objects.to_come().order_by("day").last()
    if crit and (anew or clock.today() != crit.day):
        clock.move_to(timezone.make_aware(datetime.combine(crit.day, HOUR)))
