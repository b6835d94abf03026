"""Rows for tests; a test names only what matters to it."""

import json
from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import factory
from django.utils import timezone
from factory.django import DjangoModelFactory

import criteria
from criteria.check_sheet.record import Record, as_record
from reviews import models
from reviews.deeds.sheet_keeping import hang_sheet
from reviews.reading.package_checking import todays_sheet
from reviews.reading.title_block import TitleBlock
from reviews.worked_out import fingerprint

PENS_DOWN = datetime(2026, 12, 3, 18, 0, tzinfo=UTC)


class PersonFactory(DjangoModelFactory):
    class Meta:
        model = models.Person

    name = factory.Sequence(lambda n: f"Person {n}")
    email = factory.Sequence(lambda n: f"person{n}@example.org")


class StudioFactory(DjangoModelFactory):
    class Meta:
        model = models.Studio

    title = factory.Sequence(lambda n: f"Studio {n}")
    cohort = "cohort T, autumn 2026"
    opened_by = factory.SubFactory(PersonFactory)


class BriefFactory(DjangoModelFactory):
    class Meta:
        model = models.Brief

    studio = factory.SubFactory(StudioFactory)
    text = "A hut for thirteen on a ridge."
    site = factory.LazyFunction(lambda: {"people": "13", "water_l_pd": "12", "supply_days": "14"})


class TargetLineFactory(DjangoModelFactory):
    class Meta:
        model = models.TargetLine

    brief = factory.SubFactory(BriefFactory)
    cells = factory.LazyFunction(
        lambda: {
            "id": "T01",
            "what": "Day room daylight ratio",
            "check": "daylight_ratio",
            "rooms": "day",
            "rule": "at least",
            "value": "12",
            "unit": "%",
        }
    )


class MembershipFactory(DjangoModelFactory):
    class Meta:
        model = models.Membership

    studio = factory.SubFactory(StudioFactory)
    person = factory.SubFactory(PersonFactory)
    role = models.Membership.Role.STUDENT
    is_invited = False
    called = factory.LazyAttribute(lambda place: place.person.name if place.is_invited else "")


class SchemeFactory(DjangoModelFactory):
    class Meta:
        model = models.Scheme
        skip_postgeneration_save = True

    studio = factory.SubFactory(StudioFactory)
    number = factory.Sequence(lambda n: f"S{n:02d}")
    name = factory.Sequence(lambda n: f"Scheme {n}")
    package = factory.RelatedFactory(
        "tests.factories.PackageFactory", factory_related_name="scheme"
    )

    @factory.post_generation
    def members(self, create, extracted, **kwargs):
        if create and extracted:
            self.members.add(*extracted)


class PackageFactory(DjangoModelFactory):
    class Meta:
        model = models.Package

    scheme = factory.SubFactory(SchemeFactory, package=None)


class RowFactory(DjangoModelFactory):
    class Meta:
        model = models.Row

    package = factory.SubFactory(PackageFactory)
    schedule = "rooms"
    position = factory.Sequence(lambda n: n)
    cells = factory.LazyFunction(
        lambda: {
            "mark": "R1",
            "room": "Day room",
            "floor_m2": "20",
            "clear_height_m": "2.5",
            "use": "day",
        }
    )
    changed_by = factory.SubFactory(PersonFactory)


class SetAsideFactory(DjangoModelFactory):
    class Meta:
        model = models.SetAside

    studio = factory.SubFactory(StudioFactory)
    key = "T01"
    reason = "The roof glass is not counted."
    by = factory.SubFactory(PersonFactory)


class CritFactory(DjangoModelFactory):
    class Meta:
        model = models.Crit

    studio = factory.SubFactory(StudioFactory)
    day = factory.LazyFunction(date.today)  # a juror's link ends 48 h after the day
    pens_down = PENS_DOWN


class CriterionFactory(DjangoModelFactory):
    class Meta:
        model = models.Criterion

    crit = factory.SubFactory(CritFactory)
    code = factory.Sequence(lambda n: f"F{n}")
    name = factory.Sequence(lambda n: f"Criterion {n}")
    weight = 50


class SeatFactory(DjangoModelFactory):
    class Meta:
        model = models.Seat

    crit = factory.SubFactory(CritFactory)
    name = factory.Sequence(lambda n: f"Juror {n}")


class SlotFactory(DjangoModelFactory):
    class Meta:
        model = models.Slot

    crit = factory.SubFactory(CritFactory)
    scheme = factory.SubFactory(SchemeFactory)
    position = factory.Sequence(lambda n: n + 1)


class RevisionFactory(DjangoModelFactory):
    class Meta:
        model = models.Revision
        skip_postgeneration_save = True

    scheme = factory.SubFactory(SchemeFactory)
    letter = "A"
    issued_at = PENS_DOWN
    issued_by = factory.SubFactory(PersonFactory)
    contents = factory.LazyFunction(
        lambda: {"statement": "", "schedules": {}, "site": {}, "targets": [], "sheets": []}
    )
    fingerprint = "0" * 64
    check_sheet = factory.RelatedFactory(
        "tests.factories.IssuedCheckSheetFactory", factory_related_name="revision"
    )

    @classmethod
    def _create(cls, model_class, *args, contents, **fields):
        revision = super()._create(model_class, *args, **fields)
        models.IssuedPackage.objects.create(revision=revision, contents=contents)
        return revision

    @factory.post_generation
    def students(self, create, extracted, **kwargs):
        """Those of the scheme, unless a test says whose work it is."""
        if create:
            self.students.set(self.scheme.members.all() if extracted is None else extracted)


_records: dict[str, str] = {}


def _record_of(revision: models.Revision) -> Record:
    """What the library says of a revision, worked out once for all tests that issue the same."""
    read_of = fingerprint(revision.tables, revision.contents["targets"], revision.notation)
    if read_of not in _records:
        _records[read_of] = json.dumps(as_record(todays_sheet(revision)))
    record: Record = json.loads(_records[read_of])
    return record


class IssuedCheckSheetFactory(DjangoModelFactory):
    class Meta:
        model = models.IssuedCheckSheet

    revision = factory.SubFactory(RevisionFactory, check_sheet=None)
    library = criteria.__version__
    record = factory.LazyAttribute(lambda sheet: _record_of(sheet.revision))


class InterestFactory(DjangoModelFactory):
    class Meta:
        model = models.Interest

    seat = factory.SubFactory(SeatFactory)
    scheme = factory.SubFactory(SchemeFactory)


class JurySheetFactory(DjangoModelFactory):
    class Meta:
        model = models.JurySheet

    seat = factory.SubFactory(SeatFactory)
    scheme = factory.SubFactory(SchemeFactory)


class LevelGivenFactory(DjangoModelFactory):
    class Meta:
        model = models.LevelGiven

    jury_sheet = factory.SubFactory(JurySheetFactory)
    criterion = factory.SubFactory(CriterionFactory)
    level = 3


class CommentFactory(DjangoModelFactory):
    class Meta:
        model = models.Comment

    jury_sheet = factory.SubFactory(JurySheetFactory)
    key = factory.Faker("uuid4")
    kind = "Prove"
    words = "Show the number."


class SpokenNoteFactory(DjangoModelFactory):
    class Meta:
        model = models.SpokenNote

    key = factory.Faker("uuid4", cast_to=None)
    slot = factory.SubFactory(SlotFactory)
    by = factory.SubFactory(PersonFactory)
    typed = "who weighed the pallet wet?"
    words = factory.SelfAttribute("typed")
    said_at = factory.LazyFunction(timezone.now)


class SheetFileFactory(DjangoModelFactory):
    class Meta:
        model = models.SheetFile

    sha256 = factory.Sequence(lambda n: f"{n:064x}")
    image = factory.django.ImageField(filename="sheet.jpg", width=60, height=40, format="JPEG")
    preview = factory.django.ImageField(filename="preview.jpg", width=30, height=20, format="JPEG")
    bytes, width, height = 1000, 60, 40


class OriginalFactory(DjangoModelFactory):
    class Meta:
        model = models.Original

    sha256 = factory.Sequence(lambda n: f"{n:064x}")
    file = factory.django.FileField(filename="sent.pdf", data=b"%PDF-")
    bytes = 5


class SheetFactory(DjangoModelFactory):
    class Meta:
        model = models.Sheet

    package = factory.SubFactory(PackageFactory)
    number = factory.Sequence(lambda n: f"{n:02d}")
    title = "Plan"
    file = factory.SubFactory(SheetFileFactory)
    changed_by = factory.SubFactory(PersonFactory)


class IssuedSheetFactory(DjangoModelFactory):
    class Meta:
        model = models.IssuedSheet

    revision = factory.SubFactory(RevisionFactory)
    number = "02"
    title = "Plan"
    file = factory.SubFactory(SheetFileFactory)


def issue_sheets(cast, *numbers, letter="A", schemes=()):
    """Issue a revision of a cast's schemes for its crit, with some sheets; return those made."""
    made = []
    for scheme in schemes or (cast.scheme, cast.other_scheme):
        revision = RevisionFactory(scheme=scheme, crit=cast.crit, letter=letter)
        made.append(revision)
        for number in numbers:
            IssuedSheetFactory(revision=revision, number=number)
    return made


def prepare(cast, *sheets, **window):
    """Ready a cast's package for its crit, the day after pens down: a room, a window, sheets."""
    cast.crit.day = (PENS_DOWN + timedelta(days=1)).date()
    cast.crit.save()
    package = cast.scheme.package
    RowFactory(package=package, changed_by=cast.student)
    cells = {"mark": "W1", "room": "R1", "n": "1", **window}
    RowFactory(package=package, schedule="windows", cells=cells, changed_by=cast.student)
    for sheet in sheets:
        hang_sheet(package, SheetFileFactory(), TitleBlock(*sheet), cast.student)
    return package


class DeskCritFactory(DjangoModelFactory):
    class Meta:
        model = models.DeskCrit

    key = factory.Faker("uuid4")
    scheme = factory.SubFactory(SchemeFactory)
    by = factory.SubFactory(PersonFactory)
    at = PENS_DOWN
    words = "The stair is too steep."


class NextStepFactory(DjangoModelFactory):
    class Meta:
        model = models.NextStep

    desk_crit = factory.SubFactory(DeskCritFactory)
    position = 1
    words = "Draw the stair."


class QuietNoteFactory(DjangoModelFactory):
    class Meta:
        model = models.QuietNote

    key = factory.Faker("uuid4")
    crit = factory.SubFactory(CritFactory)
    scheme = factory.SubFactory(SchemeFactory)
    by = factory.SubFactory(PersonFactory)
    kind = "Keep"
    words = "The lamp in the ridge."


class BriefQuestionFactory(DjangoModelFactory):
    class Meta:
        model = models.BriefQuestion

    brief = factory.SubFactory(BriefFactory)
    key = factory.Faker("uuid4")
    asked_by = factory.SubFactory(PersonFactory)
    words = "Does the porch count as a room?"


class PhraseFactory(DjangoModelFactory):
    class Meta:
        model = models.Phrase

    seat = factory.SubFactory(SeatFactory)
    key = factory.LazyFunction(uuid4)
    words = "Show the number."
