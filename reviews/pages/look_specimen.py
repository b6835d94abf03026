"""Invented content for the specimen sheet, which shows every part of the look once."""

from typing import Any

from django import forms
from django.templatetags.static import static

from reviews.models.crits import LEVELS


class SpecimenForm(forms.Form):
    """One field of each kind, two of them refused."""

    name = forms.CharField(label="Room", help_text="As lettered on the plan", initial="Day room")
    rise = forms.CharField(
        label="Rise of the ramp",
        help_text="As drawn: 1200, 1.2 m or 4′-6″",
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
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
    kind = forms.ChoiceField(
        label="Kind",
        choices=[(w, w) for w in ("Keep", "Rework", "Prove", "Draw", "Refer", "Ask", "Hazard")],
        widget=forms.RadioSelect,
        required=False,
    )
    level = forms.ChoiceField(
        label="F2 Light and view",
        choices=[*enumerate(LEVELS, start=1), ("", "Not mine to judge")],
        widget=forms.RadioSelect,
        initial=3,
        required=False,
    )


def specimen_checks() -> list[dict[str, Any]]:
    """One check in each state."""
    rows: list[tuple[str, str, str, float | None, float | None, str, str, str]] = [
        ("T01", "Daylight ratio, day room", "meets", 15.0, 12, "15.0 %", "12 %", "+3.0 %"),
        ("T21", "Clear width, way out", "on_the_line", 815, 815, "815 mm", "815 mm", "0 mm"),
        (
            "T15",
            "Grey tank days, hut full",
            "short",
            4.4,
            5.0,
            "4.4 days",
            "5.0 days",
            "−0.6 days",
        ),
        ("T26", "Heaviest piece", "over", 765, 750, "765 kg", "750 kg", "+15 kg"),
        ("T05", "Night fresh air per sleeper", "no_data", None, 4.0, "–", "4.0 L/s", "–"),
        ("T02", "Daylight ratio, kitchen", "not_asked", None, None, "7.0 %", "–", "–"),
        (
            "T10",
            "Wall U-value",
            "claim_differs",
            0.578,
            0.18,
            "0.578 W/m²K",
            "0.18 W/m²K",
            "+0.398",
        ),
        ("T14", "Water days", "odd_value", 0.01, 10, "0.01 days", "10.0 days", "−9.99 days"),
    ]
    return [
        {
            "mark": mark,
            "name": name,
            "state": state,
            "value": value,
            "target": target,
            "rule": "at most" if mark in {"T10", "T26"} else "at least",
            "value_text": value_text,
            "target_text": target_text,
            "margin_text": margin_text,
            "working": "Σ clear glass ÷ floor = 4.12 m² ÷ 27.4 m² = 0.150",
            "source": "The brief, target " + mark,
            "limits": "Counts glass, not sky: a window that faces rock counts in full.",
            "question": "Where does day five go when the ground is frozen?",
        }
        for mark, name, state, value, target, value_text, target_text, margin_text in rows
    ]


def specimen_context() -> dict[str, Any]:
    """Everything that templates/specimen.html and base.html read."""
    bound = SpecimenForm({"name": "Day room", "rise": "12 furlongs", "opens": "tilt", "level": "3"})
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
            "src": static("reviews/specimen-sheet.svg"),
            "width": 1260,
            "height": 891,
            "alt": "Plan of a hut: day room at the left, two bunks at the right",
            "caption": "03 Plan 1:50",
            "comments": [
                {"number": 5, "place": "03·C3", "href": "#comment-5"},
                {"number": 11, "place": "03·B4", "href": "#comment-11"},
            ],
        },
        "checks": specimen_checks(),
        "descriptors": [
            "Windows where the wall was free",
            "Enough or too much, not placed",
            "Ratios met in the lived-in rooms; one deliberate view",
            "Light differs by use and hour; glare and drift handled",
            "Light is drawn lying, sitting and standing, in two seasons",
        ],
        "schedule": {
            "caption": "Window schedule",
            "note": "sizes of the frame",
            "columns": [
                {"label": "Mark"},
                {"label": "Room"},
                {"label": "Number", "unit": "no.", "numeric": True},
                {"label": "Width", "unit": "mm", "numeric": True},
                {"label": "Height", "unit": "mm", "numeric": True},
                {"label": "Clear glass", "unit": "m²", "numeric": True},
                {"label": "Opens"},
                {"label": "U", "unit": "W/m²K", "numeric": True},
            ],
            "rows": [
                [{"text": text, "numeric": n in {2, 3, 4, 5, 7}} for n, text in enumerate(row)]
                for row in (
                    ("W1", "R2", "2", "1,400", "1,200", "2.58", "tilt-and-turn", "0.85"),
                    ("W2", "R2", "1", "900", "1,200", "0.77", "tilt-and-turn", "0.85"),
                    ("W3", "R3", "1", "800", "900", "0.47", "side-hung", "0.85"),
                    ("W4", "R5", "1", "600", "900", "0.33", "fixed", "0.80"),
                )
            ],
            "example": [],
            "empty": "",
        },
        "empty_schedule": {
            "caption": "Tank schedule",
            "note": "nothing typed yet",
            "columns": [
                {"label": "Mark"},
                {"label": "Holds"},
                {"label": "Usable", "unit": "L", "numeric": True},
                {"label": "Sheet"},
            ],
            "rows": [],
            "example": [
                {"text": "T1"},
                {"text": "drinking water"},
                {"text": "1,600", "numeric": True},
                {"text": "07"},
            ],
            "empty": "Each tank is a row, as here. Type the first, or paste a block.",
        },
        "comments": [
            {
                "number": 5,
                "juror": "Odell Brannick",
                "kind": "Ask",
                "place": "03·C3",
                "kept": "Kept 11:04:32",
                "words": "Bunk room B has one window for four people, 4.6 % of the floor. "
                "Is the lower bunk by the door ever in daylight?",
                "answer": {
                    "author": "Lee Shelf",
                    "kind": "Not taken, with reason",
                    "place": "03·C4",
                    "words": "A second window would face the drift. We gave the lower bunk by "
                    "the door a borrowed light from the lobby.",
                },
            },
            {
                "number": 11,
                "juror": "Odell Brannick",
                "kind": "Hazard",
                "place": "03·B4",
                "words": "Six people on the shelf have one real way out, past the stove. "
                "Nothing else matters until the second is drawn.",
            },
        ],
    }
