"""The form in which a brief's weather file is brought in."""

from __future__ import annotations

from typing import Any

from django import forms
from django.http import QueryDict

from criteria.hourly.site_weather import NEAR_DEG, is_near
from criteria.hourly.weather import Weather
from criteria.hourly.weather_file import LARGEST, read_epw
from criteria.hourly.weather_refused import WeatherRefused
from reviews.deeds import brief_issuing
from reviews.deeds.brief_writing import weather_named
from reviews.deeds.record_versions import version_of
from reviews.forms.fields import ProseField, SeenForm, WholeField, of_kind, says
from reviews.models import Brief
from reviews.reading.brief_figures import BLANK, FiguresOffered
from reviews.reading.brief_reading import BriefReading
from reviews.versions import Newer


def addendum_words() -> ProseField:
    """The words of the addendum by which an issued brief changes."""
    return ProseField(
        "words of at most 20,000 characters",
        rows=4,
        label="Words of the addendum",
        help_text="What changes, and why: everybody of the studio reads it.",
    )


class WeatherForm(SeenForm):
    """A file; of an issued brief the words of the addendum that brings it, and its number.

    year   what was read of the file; None where the year is to be made of the climate again
    """

    file = forms.FileField(
        label="Weather file",
        required=False,
        allow_empty_file=True,
        help_text="EPW: 8,760 hours of a typical year. It is read whole, and refused with its row "
        "where something in it can’t be.",
        widget=forms.FileInput(attrs={"accept": ".epw,text/plain"}),
    )
    takes_out = forms.BooleanField(
        label="Take the file out, and make the year of the twelve months", required=False
    )
    text = addendum_words()
    number = WholeField("the number of the addendum", widget=forms.HiddenInput)

    def __init__(self, brief: Brief, *args: Any) -> None:
        now = brief.leader_tables()["weather"]
        initial = {
            "seen": version_of(weather_named(brief)),
            "number": brief_issuing.next_number(brief),
        }
        super().__init__(*args, initial=initial)
        self.brief, self.year = brief, None
        self.now = now[0]["name"] if now else "the twelve months"
        if not brief.is_issued:
            del self.fields["text"], self.fields["number"]
        if not now:
            del self.fields["takes_out"]

    year: Weather | None

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        upload = cleaned.get("file")
        if upload:
            self._read(upload)
        elif "file" not in self.errors and not cleaned.get("takes_out"):
            self.add_error("file", says("", "a weather file (EPW)"))
        return cleaned

    def _read(self, upload: Any) -> None:
        if self.cleaned_data.get("takes_out"):
            self.add_error("takes_out", says("a file, and that it is taken out", "one of the two"))
        if upload.size > LARGEST:
            most = f"at most {LARGEST // 1_000_000} MB"
            self.add_error("file", says(f"{upload.name}, {upload.size:,} bytes", most))
            return
        try:
            year = read_epw(upload.read())
        except WeatherRefused as refused:
            for fault in refused.faults:
                self.add_error("file", f"{fault}.")
            return
        latitude = BriefReading.of(self.brief).site.if_given("latitude_deg")
        if latitude is not None and not is_near(year, latitude):
            read = f"{year.name}, latitude {year.place.latitude_deg:g}°"
            near = f"within {NEAR_DEG:g}° of the site’s, {latitude:g}°"
            self.add_error("file", says(read, near))
        self.year = year

    def show_newer_year(self, newer: Newer, stands_at: int) -> None:
        """Set what the brief names by now beside what was sent; the file is to be chosen again."""
        sent = self.year.name if self.year else "the twelve months"
        kept = newer.kept[0]["name"] if newer.kept else "the twelve months"
        self.newer = [("Weather", kept, sent)]
        self.data = {**dict(self.data.items()), "seen": stands_at}

    def show_newer_addendum(self, newer: Newer) -> None:
        """Set an addendum that was issued meanwhile beside the words of this one."""
        next_one = brief_issuing.next_number(self.brief)
        self.newer = [("Words of the addendum", newer.kept["text"], newer.sent["text"])]
        self.data = {**dict(self.data.items()), "number": next_one}


class FiguresForm(SeenForm):
    """Which of a file's figures a brief takes over; of an issued brief words of the addendum.

    All that would change something are taken where the button for that was pressed.
    """

    take = forms.MultipleChoiceField(
        required=False, error_messages={"invalid_choice": says("%(value)s", "a figure of the file")}
    )
    every = forms.BooleanField(required=False)
    text = addendum_words()
    number = WholeField("the number of the addendum", widget=forms.HiddenInput)

    def __init__(self, brief: Brief, offered: FiguresOffered, *args: Any) -> None:
        initial = {
            "seen": version_of(offered.as_seen),
            "take": [f.name for f in offered.by_name.values() if f.beside == BLANK],
            "number": brief_issuing.next_number(brief),
            "text": f"Figures of site sheet and climate are taken of the weather file "
            f"{offered.source}. What was issued before keeps those that it was judged with.",
        }
        super().__init__(*args, initial=initial)
        self.brief = brief
        self.names = list(offered.by_name)
        of_kind(forms.MultipleChoiceField, self, "take").choices = [(n, n) for n in self.names]
        if not brief.is_issued:
            del self.fields["text"], self.fields["number"]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if cleaned.get("every"):
            cleaned["take"] = self.names
        elif not cleaned.get("take") and "take" not in self.errors:
            self.add_error("take", says("", "at least one figure ticked"))
        return cleaned

    def look_again(self, offered: FiguresOffered) -> None:
        """Show what is ticked and typed beside what stands by now."""
        data = QueryDict(mutable=True)
        data.update(self.data)
        data["seen"] = str(version_of(offered.as_seen))
        data["number"] = str(brief_issuing.next_number(self.brief))
        self.data = data

    @property
    def ticked(self) -> frozenset[str]:
        """The names of figures that are ticked as the form is shown."""
        return frozenset(self["take"].value() or ())
