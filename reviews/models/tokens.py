"""Tokens by which a person's own scripts read what that person may read."""

from __future__ import annotations

import hashlib

from django.db import models
from django.utils import timezone

from reviews.models.people import Person


def digest_of(token: str) -> str:
    """What is kept of a token: its SHA-256. It has 256 bits of chance, so nothing can guess it."""
    return hashlib.sha256(token.encode()).hexdigest()


class ScriptToken(models.Model):
    """That a token reads for its owner; the token itself was shown once and is kept nowhere.

    used_on   the day on which it was last read by
    """

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="tokens")
    name = models.CharField(max_length=60)
    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(default=timezone.now)
    used_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["made_at", "pk"]
        constraints = [models.UniqueConstraint("person", "name", name="one_token_a_name")]

    def __str__(self) -> str:
        return self.name
