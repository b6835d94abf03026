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
ASHRAE_622 = Source(
    "ASHRAE Standard 62.2", "2013 to 2022", "dwellings where a code or programme adopts it"
)
ASHRAE_F = Source("ASHRAE Handbook: Fundamentals", "2017", "nobody; a handbook")
ISO_6946 = Source("ISO 6946", "2017", "nobody by itself; building codes refer to it")
ISO_10456 = Source("ISO 10456", "2007", "nobody by itself; building codes refer to it")
ISO_13789 = Source("ISO 13789", "2017", "nobody by itself; building codes refer to it")
FTC_R_VALUE = Source(
    "Trade Regulation Rule: Labeling and Advertising of Home Insulation, 16 CFR Part 460",
    "2019",
    "sellers of insulation, and of other products with R-value claims, in the US",
)
WHO_EXCRETA = Source(
    "A guide to the development of on-site sanitation (WHO)", "1992", "nobody; guidance"
)
IEC_61724 = Source("IEC 61724-1", "2021", "nobody by itself; contracts refer to it")
IEEE_1562 = Source("IEEE 1562", "2007", "nobody; recommended practice")
ADA = Source(
    "2010 ADA Standards for Accessible Design",
    "2010",
    "public bodies and places open to the public in the US; not a private house",
)
EU_ROAD = Source("Directive 96/53/EC, Annex I", "2015", "goods vehicles in the European Union")
US_ROAD = Source("23 CFR Part 658", "2019", "vehicles on the US National Network of roads")
LIFTING = Source("ISO 11228-1", "2021", "nobody by itself; workplace rules refer to it")
COMMON_PRACTICE = Source("Common practice", "", "nobody; it is what the trade usually does")

PRACTICE = Citation(COMMON_PRACTICE, "", Certainty.PRACTICE)
IRC_LIGHT = Citation(IRC, "R303.1 (R325.1.1 in the 2024 edition)", Certainty.READ)
IRC_AIR = Citation(IRC, "R303.1 (R325.1.2 in the 2024 edition)", Certainty.READ)
IRC_ROOM = Citation(IRC, "R304.1 (R312.1 in the 2024 edition)", Certainty.QUOTED)
IRC_CEILING = Citation(IRC, "R305.1 (R313.1 in the 2024 edition)", Certainty.QUOTED)
SPHERE_SPACE = Citation(SPHERE, "Shelter and settlement standard 3", Certainty.QUOTED)
SPHERE_WATER = Citation(SPHERE, "Water supply standard 2.1", Certainty.QUOTED)
NDSS_HEADROOM = Citation(NDSS, "10(h), floor under 1.5 m headroom", Certainty.READ)
AIR_622 = Citation(ASHRAE_622, "equation 4-1", Certainty.QUOTED)
U_SERIES = Citation(ISO_6946, "6.7.1 and Table 7", Certainty.QUOTED)
U_BRIDGED = Citation(ISO_6946, "6.7.2, combined method", Certainty.MEMORY)
HEAT_TRANSFER = Citation(ISO_13789, "transmission and ventilation", Certainty.MEMORY)
AIR_AT_ALTITUDE = Citation(ASHRAE_F, "chapter 1, equation 3", Certainty.MEMORY)
SURFACES = Citation(ASHRAE_F, "chapter 18", Certainty.QUOTED)
R_CLAIMS = Citation(FTC_R_VALUE, "460.5 and 460.22", Certainty.READ)
EXCRETA = Citation(WHO_EXCRETA, "chapter 5", Certainty.READ)
PERFORMANCE_RATIO = Citation(IEC_61724, "performance ratio", Certainty.MEMORY)
BATTERY = Citation(IEEE_1562, "battery sizing", Certainty.MEMORY)
ADA_RAMP = Citation(ADA, "405.2, 405.6 and 405.7", Certainty.QUOTED)
ADA_DOOR = Citation(ADA, "404.2.3", Certainty.QUOTED)
IRC_ESCAPE = Citation(IRC, "R310.2", Certainty.READ)
IRC_GUARD = Citation(IRC, "R312.1", Certainty.QUOTED)
IRC_ALARM = Citation(IRC, "R314.3 and R315", Certainty.QUOTED)
HAND_LIFT = Citation(LIFTING, "reference mass of 25 kg", Certainty.MEMORY)
