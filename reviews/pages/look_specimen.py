"""Invented content for the specimen sheet, which shows every part of the look once."""

from typing import Any

from django import forms
from django.templatetags.static import static

from reviews.pages.sheet_views import Sizes
from reviews.pages.traced_sheets import Drawn, Flag, Layer
from reviews.places import Point


class SpecimenForm(forms.Form):
    """One field of each kind, two of them refused."""

    name = forms.CharField(label="Room", help_text="As lettered on the plan", initial="Day room")
    rise = forms.CharField(
        label="Rise of the ramp",
        help_text="As drawn: 1200, 1.2 m or 4′-6″",
        widget=forms.TextInput(attrs={"class": "num"}),
    )
    opens = forms.ChoiceField(
        label="Opens", choices=[("side", "side-hung"), ("tilt", "tilt-and-turn"), ("no", "fixed")]
    )
    statement = forms.CharField(label="Statement", widget=forms.Textarea(attrs={"rows": 4}))
    scale = forms.ChoiceField(
        label="Scale",
        choices=[("20", "1:20"), ("50", "1:50"), ("100", "1:100")],
        widget=forms.RadioSelect,
    )
    leave_out = forms.BooleanField(
        label="Leave this room out of the daylight ratio",
        help_text="Stores and plant rooms have no daylight target",
        required=False,
    )
    sheet = forms.FileField(label="Sheet", help_text="JPEG or PNG, 20 MB at most", required=False)


FLAGS = [
    Flag("flag-5", "#view-sheet", "5", Point(0.42, 0.62), 0, False, "Comment 5 Prove C3"),
    Flag("flag-11", "#view-sheet", "11", Point(0.97, 0.4), 0, True, "Comment 11 Keep B6"),
]

STROKES = [Drawn("view-sheet", "5", ["0.3 0.62 0.42 0.62", "0.3 0.5 0.34 0.46 0.36 0.5 0.4 0.48"])]

BARS = {
    "meets": (15.0, 12.0, "15.0 %", "12 %"),
    "on_the_line": (815, 815, "815 mm", "815 mm"),
    "short": (4.4, 5.0, "4.4 days", "5.0 days"),
    "over": (765, 750, "765 kg", "750 kg"),
    "no_data": (None, 4.0, "–", "4.0 L/s"),
    "not_asked": (None, None, "7.0 %", "–"),
    "claim_differs": (0.578, 0.18, "0.578 W/m²K", "0.18 W/m²K"),
    "odd_value": (0.01, 10, "0.01 days", "10.0 days"),
}
"""By state a value and its target, as figures and as they are written."""


def specimen_context() -> dict[str, Any]:
    """Everything that templates/specimen.html and base.html read."""
    bound = SpecimenForm({"name": "Day room", "rise": "12 furlongs", "opens": "tilt"})
    bound.add_error("rise", "Read “12 furlongs”. Expected a length: 1200, 1.2 m or 4′-6″.")
    names = ("Brief", "Site", "Schemes", "Crit day", "Moderation", "Plan chest")
    return {
        "studio": "Twelve Bunks",
        "scheme": "H03 Lee Shelf",
        "brief_url": "#brief",
        "sheet_list": [
            {"number": f"{n:02}", "name": name, "url": "#content", "current": n == 3}
            for n, name in enumerate(names, start=1)
        ],
        "title_block": [
            ("Revision", "B"),
            ("Issued", "3 Dec 2026 18:00"),
            ("Page", "1 of 1"),
            ("Drawn", "Ada Merrowby"),
            ("Checked", "Tove Arkwell"),
            ("Kept", "11:04:32"),
        ],
        "form": bound,
        "sheet": {
            "sizes": Sizes(static("reviews/specimen-sheet.svg"), "", 1260, 891),
            "number": "03",
            "alt": "Plan of a hut: day room at the left, two bunks at the right",
            "caption": "03 Plan 1:50",
        },
        "traced": {"flags": FLAGS, "layers": [Layer("Ada Merrowby", STROKES)]},
        "bars": [(state, *figures) for state, figures in BARS.items()],
    }
