"""What tests of schedules do again and again: addresses, a page read, a row's form sent."""

from django.urls import reverse

KITCHEN = {"mark": "R2", "room": "Kitchen", "floor_m2": "8", "use": "kitchen"}
HTMX = {"HTTP_HX_REQUEST": "true"}


def at(name, scheme, *more, slug="rooms"):
    return reverse(name, args=[scheme.pk, slug, *more])


def page(client, scheme, slug="rooms"):
    return client.get(at("show-schedule", scheme, slug=slug)).content.decode()


def saved(row, version=None, **cells):
    """What a row's form sends."""
    sent = {f"cell-{head}": text for head, text in {**row.cells, **cells}.items()}
    return sent | {"version": row.version if version is None else version}
