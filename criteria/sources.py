"""Published sources, each with its edition, and how sure we are of what is cited.

A citation's certainty says how its figure was come by:

    read        in the standard's own text, or in law that reproduces it
    quoted      in a secondary source that states or quotes it
    memory      from memory: it advises and decides nothing until someone reads the text
    practice    common practice of the trade; no published clause claimed
"""

from dataclasses import dataclass
from enum import StrEnum


class Certainty(StrEnum):
    """How sure a cited figure is."""

    READ = "read"
    QUOTED = "quoted"
    MEMORY = "memory"
    PRACTICE = "practice"


_WORDS = {
    Certainty.READ: "",
    Certainty.QUOTED: "quoted from a secondary source",
    Certainty.MEMORY: "from memory; check against the printed edition",
    Certainty.PRACTICE: "common practice",
}


@dataclass(frozen=True)
class Source:
    """One edition of one publication, and whom it binds."""

    name: str
    edition: str = ""
    binds: str = ""

    def __str__(self) -> str:
        return f"{self.name} {self.edition}".strip()


@dataclass(frozen=True)
class Citation:
    """A clause of a source."""

    source: Source
    clause: str = ""
    certainty: Certainty = Certainty.QUOTED

    def __str__(self) -> str:
        words = _WORDS[self.certainty]
        if self.certainty is Certainty.PRACTICE and not self.clause:
            return str(self.source)
        text = f"{self.source}, {self.clause}" if self.clause else str(self.source)
        return f"{text} ({words})" if words else text


IRC = Source(
    "International Residential Code",
    "2021",
    "one- and two-family dwellings in US jurisdictions that adopt it",
)
SPHERE = Source(
    "Sphere Handbook",
    "2018 (4th edition)",
    "humanitarian response by agencies that commit to it; indicators, not building law",
)
NDSS = Source(
    "Technical housing standards: nationally described space standard",
    "March 2015",
    "new dwellings in English districts that adopt it",
)
COMMON_PRACTICE = Source("Common practice", "", "nobody; it is what the trade usually does")

PRACTICE = Citation(COMMON_PRACTICE, "", Certainty.PRACTICE)
IRC_LIGHT = Citation(IRC, "R303.1 (R325.1.1 in the 2024 edition)", Certainty.READ)
IRC_AIR = Citation(IRC, "R303.1 (R325.1.2 in the 2024 edition)", Certainty.READ)
IRC_ROOM = Citation(IRC, "R304.1 (R312.1 in the 2024 edition)", Certainty.QUOTED)
IRC_CEILING = Citation(IRC, "R305.1 (R313.1 in the 2024 edition)", Certainty.QUOTED)
SPHERE_SPACE = Citation(SPHERE, "Shelter and settlement standard 3", Certainty.QUOTED)
SPHERE_WATER = Citation(SPHERE, "Water supply standard 2.1", Certainty.QUOTED)
NDSS_HEADROOM = Citation(NDSS, "10(h), floor under 1.5 m headroom", Certainty.READ)
