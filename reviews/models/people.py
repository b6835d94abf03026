"""People with an account. Jurors have none: see reviews.models.crits.Seat."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from criteria.units import System


class PersonQuerySet(models.QuerySet["Person"]):
    """People, in words."""

    def of_studio(self, studio: models.Model) -> PersonQuerySet:
        """Those who have joined it, draw a scheme of it or issued work there."""
        joined = Q(memberships__studio=studio, memberships__is_invited=False)
        found = self.filter(joined | _work_in([studio]))
        return self.filter(pk__in=found.values("pk"))

    def without_a_place_in(self, studios: models.QuerySet[Any]) -> PersonQuerySet:
        """Those whom no other studio and no programme needs by name, and who have one still."""
        staff = Q(opens_studios=True) | Q(is_coordinator=True)
        there = Person.objects.filter(Q(memberships__studio__in=studios) | _work_in(studios))
        return self.filter(erased_at=None).exclude(staff).exclude(pk__in=there.values("pk"))


def _work_in(studios: Any) -> Q:
    return Q(schemes__studio__in=studios) | Q(issued__scheme__studio__in=studios)


def called(name: str, email: str) -> str:
    """What somebody is called: by name, else by address."""
    return name or email


class PersonManager(BaseUserManager["Person"]):
    """Makes accounts; e-mail addresses are one however they are capitalised."""

    def create_user(
        self, email: str, name: str = "", password: str | None = None, **more: Any
    ) -> Person:
        """Make an account; without a password it can only be entered by a personal link."""
        person = self.model(email=email.strip().lower(), name=name.strip(), **more)
        person.set_password(password)
        person.save(using=self._db)
        return person

    def create_superuser(self, email: str, name: str, password: str | None = None) -> Person:
        """Make an account that opens studios and sees every studio: a coordinator."""
        return self.create_user(email, name, password, opens_studios=True, is_coordinator=True)

    def get_by_natural_key(self, username: str | None) -> Person:
        return self.get(email__iexact=username)


class Person(AbstractBaseUser):
    """Somebody who signs in with an e-mail address."""

    class Lamp(models.TextChoices):
        ON = "on", "Lamp on (light)"
        OFF = "off", "Lamp off (dark)"

    email = models.EmailField("e-mail", unique=True)
    name = models.CharField(max_length=120)
    opens_studios = models.BooleanField("may open studios", default=False)
    is_coordinator = models.BooleanField("coordinates the programme", default=False)
    is_active = models.BooleanField(default=True)
    erased_at = models.DateTimeField("made anonymous", null=True, blank=True, editable=False)
    units = models.CharField(
        max_length=8,
        choices=[(System.METRIC, "Metric (mm, m², L)"), (System.US, "US (in, ft², gal)")],
        default=System.METRIC,
    )
    lamp = models.CharField(max_length=3, choices=Lamp, default=Lamp.ON)
    plain_type = models.BooleanField("plainer letters, easier to tell apart", default=False)

    objects = PersonManager.from_queryset(PersonQuerySet)()

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        verbose_name_plural = "people"
        ordering = ["name"]
        constraints = [models.UniqueConstraint(Lower("email"), name="one_account_an_email")]

    def __str__(self) -> str:
        return called(self.name, self.email)

    @property
    def is_unused(self) -> bool:
        """Whether nobody has entered the account, nor belongs anywhere by it: a roster made it."""
        is_somebody = self.opens_studios or self.is_coordinator or self.has_usable_password()
        return not (
            is_somebody or self.last_login or self.memberships.exists() or self.issued.exists()
        )

    @property
    def system(self) -> System:
        """The units in which this person reads figures."""
        return System(self.units)
