"""Load the demo: the same forms' deeds that people use, with the scenario's words and days."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from django.db import transaction

from reviews.demo import crits, packages, studios
from reviews.demo.scenario import STUDIOS, Calendar
from reviews.models import Crit, Studio

Say = Callable[[str], None]


def is_loaded() -> bool:
    """Whether the demo's studios stand."""
    return Studio.objects.filter(title=STUDIOS[-1].title).exists()


@transaction.atomic
def load(today: date, say: Say) -> None:
    """Load both studios so that the running crit is today."""
    calendar = Calendar(today)
    for story in STUDIOS:
        say(f"Opening {story.title}: people, brief, crits")
        studio = studios.open_studio(story, calendar)
        say(f"Filling the schedules of {story.title} and drawing its sheets")
        packages.hand_in_all(studio, story, calendar)
        say(f"Setting levels and comments of {story.title}")
        crits.sit(studio, story, calendar)


def move_to(today: date) -> None:
    """Move the running crit to a day, so that its jurors' links stand."""
    Crit.objects.to_come().filter(day__lt=today).update(day=today)
