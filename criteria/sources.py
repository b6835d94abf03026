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
NFPA_211 = Source(
    "NFPA 211, Chimneys, fireplaces, vents and solid fuel-burning appliances",
    "2019",
    "US jurisdictions that adopt it",
)
ADA = Source(
    "2010 ADA Standards for Accessible Design",
    "2010",
    "public bodies and places open to the public in the US; not a private house",
)
EU_ROAD = Source("Directive 96/53/EC, Annex I", "2015", "goods vehicles in the European Union")
US_ROAD = Source("23 CFR Part 658", "2019", "vehicles on the US National Network of roads")
LIFTING = Source("ISO 11228-1", "2021", "nobody by itself; workplace rules refer to it")
BS_8206 = Source("BS 8206-2", "2008", "nobody any more; superseded by BS EN 17037:2018")
EN_17037 = Source("EN 17037", "2018 with A1:2021", "nobody by itself; guidance and schemes use it")
SLL = Source("SLL Lighting Handbook", "2018", "nobody; a handbook, for workplaces mostly")
IPMC = Source(
    "International Property Maintenance Code", "2021", "existing buildings where it is adopted"
)
IECC = Source(
    "International Energy Conservation Code, residential", "2021", "dwellings where it is adopted"
)
IBC = Source("International Building Code", "2021", "other buildings where it is adopted")
ASCE_7 = Source("ASCE/SEI 7", "2016", "structures where building codes refer to it")
ANSI_TILE = Source("ANSI A326.3", "2021", "nobody by itself; specifications refer to it")
CIBSE_AM10 = Source("CIBSE AM10", "2005", "nobody; guidance")
ISO_CONTAINER = Source("ISO 1496-1", "2013", "makers of freight containers")
DUFFIE = Source(
    "Duffie and Beckman, Solar Engineering of Thermal Processes", "4th edition", "nobody; a book"
)
AD_M = Source(
    "Approved Document M, volume 2", "2015", "new buildings other than dwellings in England"
)
IEEE_485 = Source("IEEE 485", "2010", "nobody; recommended practice")
ISO_13788 = Source("ISO 13788", "2012", "nobody by itself; building codes refer to it")
EN_SNOW = Source("EN 1991-1-3", "2003", "structures where building codes refer to it")
KELLEY = Source(
    "Kelley and Walker, Critical-Path Planning and Scheduling", "1959", "nobody; a paper"
)
STANDARD_140 = Source(
    "ANSI/ASHRAE Standard 140", "2020", "whoever tests what reckons buildings by the hour"
)
EN_16798 = Source("EN 16798-1", "2019", "nobody by itself; building codes refer to it")
TM59 = Source("CIBSE TM59", "2017", "nobody; guidance")
BS_RAIN = Source("BS EN 16941-1", "2024", "rainwater plant in the United Kingdom")
ISO_9806 = Source("ISO 9806", "2017", "nobody; makers test collectors by it")
COMMON_PRACTICE = Source("Common practice", "", "nobody; it is what the trade usually does")

PRACTICE = Citation(COMMON_PRACTICE, "", Certainty.PRACTICE)
IRC_LIGHT = Citation(IRC, "R303.1 (R325.1.1 in the 2024 edition)", Certainty.READ)
IRC_AIR = Citation(IRC, "R303.1 (R325.1.2 in the 2024 edition)", Certainty.READ)
IRC_ROOM = Citation(IRC, "R304.1 (R312.1 in the 2024 edition)", Certainty.QUOTED)
IRC_CEILING = Citation(IRC, "R305.1 (R313.1 in the 2024 edition)", Certainty.QUOTED)
SPHERE_SPACE = Citation(SPHERE, "Shelter and settlement standard 3", Certainty.QUOTED)
SPHERE_WATER = Citation(SPHERE, "Water supply standard 2.1", Certainty.QUOTED)
NDSS_HEADROOM = Citation(NDSS, "10(f), floor under 1.5 m headroom", Certainty.MEMORY)
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
IRC_ESCAPE = Citation(IRC, "R310.2", Certainty.QUOTED)
IRC_GUARD = Citation(IRC, "R312.1", Certainty.QUOTED)
IRC_ALARM = Citation(IRC, "R314.3 and R315", Certainty.QUOTED)
HAND_LIFT = Citation(LIFTING, "reference mass of 25 kg", Certainty.MEMORY)
HAND_TEAM = Citation(
    Source("Manual handling, L23 (HSE)", "2016", "employers in Great Britain, as guidance"),
    "teams: two thirds of the sum for two, half for three",
    Certainty.MEMORY,
)
ADA_RAIL = Citation(ADA, "405.8", Certainty.READ)
ADA_RAMP_WIDTH = Citation(ADA, "405.5", Certainty.READ)
IPMC_LIGHT = Citation(IPMC, "402.1", Certainty.READ)
IPMC_AIR = Citation(IPMC, "403.1: 45 % of the glazing it asks", Certainty.MEMORY)
IPMC_CEILING = Citation(IPMC, "404.3", Certainty.READ)
IECC_U = Citation(IECC, "Table R402.1.2, U-factors of assemblies", Certainty.MEMORY)
ADF = Citation(BS_8206, "average daylight factor, 5.6", Certainty.QUOTED)
LIMITING_DEPTH = Citation(BS_8206, "limiting depth, after Lynes (1979)", Certainty.MEMORY)
SUN_HOURS = Citation(
    EN_17037, "exposure to sunlight, 1.5 h on a day of 1 February to 21 March", Certainty.MEMORY
)
SUN_POSITION = Citation(DUFFIE, "1.6, after Spencer (1971)", Certainty.MEMORY)
TASK_LIGHT = Citation(SLL, "lumen method and task levels", Certainty.QUOTED)
CO2_BALANCE = Citation(
    Source("ASTM D6245", "2018", "nobody; a guide"), "mass balance", Certainty.QUOTED
)
SINGLE_SIDED = Citation(CIBSE_AM10, "single-sided depth of 2.5 room heights", Certainty.QUOTED)
IRC_EXTRACT = Citation(IRC, "R303.3 and M1505", Certainty.QUOTED)
IPMC_BEDROOM = Citation(IPMC, "404.4.1", Certainty.READ)
IPMC_PASSAGE = Citation(IPMC, "404.2", Certainty.READ)
IRC_SHOWER = Citation(
    IRC, "P2709.1: not less than 1/4 in 12, not more than 1/2 in 12", Certainty.READ
)
ADA_FLOOR = Citation(ADA, "304.2: not steeper than 1:48", Certainty.READ)
ADA_TURN = Citation(ADA, "304.3.1", Certainty.QUOTED)
ADA_THRESHOLD = Citation(ADA, "404.2.5", Certainty.MEMORY)
ADA_TABLE = Citation(ADA, "902.3", Certainty.QUOTED)
HEAT_HELD = Citation(ISO_10456, "Table 3, specific heat", Certainty.MEMORY)
BRIDGE_FORMULA = Citation(US_ROAD, "658.17: axles, gross and the bridge formula", Certainty.QUOTED)
ADA_REACH = Citation(ADA, "308.2, 308.3 and 309.3", Certainty.MEMORY)
COOLING = Citation(ASHRAE_F, "chapter 18, sol-air temperature and heat gains", Certainty.QUOTED)
BEARING = Citation(IBC, "Table 1806.2", Certainty.QUOTED)
WIND_PRESSURE = Citation(ASCE_7, "equation 26.10-1", Certainty.QUOTED)
FLAME = Citation(IBC, "803.1.2", Certainty.QUOTED)
WET_FRICTION = Citation(ANSI_TILE, "wet DCOF of 0.42 for level floors", Certainty.QUOTED)
CONTAINER = Citation(ISO_CONTAINER, "least inside sizes and door openings", Certainty.QUOTED)
ROAD_EU = Citation(EU_ROAD, "1.2 width and 1.3 height", Certainty.READ)
ROAD_US = Citation(US_ROAD, "658.15 width; no federal height", Certainty.READ)
AD_M_TURN = Citation(AD_M, "turning space and door widths", Certainty.MEMORY)
NDSS_SINGLE = Citation(NDSS, "10(c), single bedroom", Certainty.READ)
NDSS_CEILING = Citation(NDSS, "10(i), ceiling height", Certainty.QUOTED)
ROUTE = Citation(ADA, "403.5.1: 36 in clear, 32 in for 24 in along", Certainty.QUOTED)
IRC_FIXTURES = Citation(
    IRC, "R307.1 and P2705.1: toilets, basins and showers of a dwelling", Certainty.QUOTED
)
IRC_HALL = Citation(IRC, "R311.2 and R311.6: hall 36 in, exit door 32 in clear", Certainty.MEMORY)
STOVE_CLEAR = Citation(
    NFPA_211, "36 in to what burns, 12 in behind a shield; pipe 18 and 9 in", Certainty.QUOTED
)
HEARTH = Citation(NFPA_211, "hearth 16 in before the door", Certainty.MEMORY)
TRAVEL = Citation(IBC, "1017: along the natural, unobstructed path", Certainty.QUOTED)
CRITICAL_PATH = Citation(KELLEY, "earliest and latest times", Certainty.MEMORY)
SURFACE_FACTOR = Citation(ISO_13788, "5, temperature factor of a surface", Certainty.MEMORY)
BETWEEN_LAYERS = Citation(ISO_13788, "6, wetting between layers", Certainty.MEMORY)
SNOW_US = Citation(ASCE_7, "7.3, flat roof and least snow", Certainty.QUOTED)
SNOW_EU = Citation(EN_SNOW, "5.2 and Table 5.2", Certainty.QUOTED)
DEAD_AND_WIND = Citation(ASCE_7, "2.4.1: 0.6 D + 0.6 W", Certainty.MEMORY)
IRC_STAIR = Citation(IRC, "R311.7.5 risers and treads; R311.7.1 and R311.7.2 width, headroom")
SHIP_LADDER = Citation(IRC, "R311.7.12", Certainty.MEMORY)
LOFT_STAIR = Citation(IRC, "Appendix AQ: houses of up to 37 m²", Certainty.QUOTED)
LOFT_LADDER = Citation(IRC, "Appendix AQ: ladders", Certainty.MEMORY)
COLD_BATTERY = Citation(IEEE_485, "Table 1, cells in the cold", Certainty.MEMORY)
EXITS = Citation(IBC, "1006.2.1, spaces with one exit", Certainty.QUOTED)
EXITS_APART = Citation(IBC, "1007.1.1: half of the diagonal", Certainty.MEMORY)
OCCUPANTS = Citation(IBC, "Table 1004.5", Certainty.QUOTED)
YEAR_BY_THE_HOUR = Citation(
    STANDARD_140, "its open cases, and the nodes of ISO 52016-1:2017, 6.5", Certainty.QUOTED
)
ADAPTIVE = Citation(EN_16798, "B.2.2, without cooling", Certainty.MEMORY)
OVERHEATING = Citation(TM59, "bedrooms: 26 °C by night", Certainty.MEMORY)
RAIN_BY_DAY = Citation(BS_RAIN, "storage by daily balance, yield after spillage", Certainty.MEMORY)
COLLECTORS = Citation(ISO_9806, "efficiency of a collector, steady state", Certainty.MEMORY)
