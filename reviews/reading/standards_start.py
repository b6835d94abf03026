"""A map to start from: which lines of three published sets of standards our criteria meet.

Titles are quoted only to point at them, by theme and not in the words of the standard. Sources:
CIDA Professional Standards, as a programme's page lists them; NAAB Conditions for Accreditation,
2020 edition; RIBA themes and values for validation since 1 September 2021, whose names are from
memory. To be checked against the edition in force before anything rests on it.
"""

from __future__ import annotations

from typing import NamedTuple

CHECK = "from a list to start from: check against the edition in force"


class StartLine(NamedTuple):
    """A line of a published standard, and the codes of the ready sheets' criteria that meet it."""

    body: str
    edition: str
    code: str
    title: str
    criteria: str


CIDA = "CIDA", "2022, to be checked"
NAAB = "NAAB", "2020"
RIBA = "RIBA", "2021, to be checked"

START = (
    StartLine(*CIDA, "", "Human-centred design", "I1 F1 F3"),
    StartLine(*CIDA, "", "Design process", "I1 F1"),
    StartLine(*CIDA, "", "Light and colour", "F2 K2"),
    StartLine(*CIDA, "", "Products and materials", "F3"),
    StartLine(*CIDA, "", "Environmental systems and human wellbeing", "F2 F4 K1 K2 K3 K4"),
    StartLine(*CIDA, "", "Regulations and guidelines", "F5 K5"),
    StartLine(*CIDA, "", "Construction", "F6 K6"),
    StartLine(*CIDA, "", "History and theory", "F7 I5"),
    StartLine(*CIDA, "", "Communication", "F8 I6"),
    StartLine(*CIDA, "", "Collaboration", "F8 I6"),
    StartLine(*NAAB, "PC.2", "Design", "I1 F1"),
    StartLine(*NAAB, "PC.3", "Ecological knowledge and responsibility", "F4 K1 K3 K4"),
    StartLine(*NAAB, "PC.4", "History and theory", "F7 I5"),
    StartLine(*NAAB, "PC.6", "Leadership and collaboration", "F8 I6"),
    StartLine(*NAAB, "SC.1", "Health, safety and welfare", "F5 K5"),
    StartLine(*NAAB, "SC.3", "Regulatory context", "F5 K5"),
    StartLine(*NAAB, "SC.4", "Technical knowledge", "F4 K1 K3 K4 F6 K6"),
    StartLine(*NAAB, "SC.5", "Design synthesis", "I1 F1 F3 F8 I6"),
    StartLine(*NAAB, "SC.6", "Building integration", "F2 K2 F4 K1 K3 K4 F6 K6"),
    StartLine(*RIBA, "", "Health and life safety", "F5 K5"),
    StartLine(*RIBA, "", "Structure, construction and resources", "F2 K2 F4 K1 K3 K4 F6 K6"),
    StartLine(*RIBA, "", "Climate", "F4 K1 K3 K4"),
    StartLine(*RIBA, "", "Histories, theories and methodologies", "F7 I5"),
    StartLine(*RIBA, "", "Design processes and communication", "I1 F1 F3 F8 I6"),
)
