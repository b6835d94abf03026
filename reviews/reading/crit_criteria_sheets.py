"""Three criteria sheets to start from: interim, final and technical.

Each line says what is judged, how much it counts of 100, what each of the five levels looks
like, and which checks inform it. `criteria_keeping.start_from` lays one on a crit, where the
checks become the references of the brief's own targets.

Common practice in design teaching; six to eight criteria is about what a juror can hold apart.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

LIGHT = ("Light and view",)
AIR = ("Air",)
SIZE = ("floor_area", "floor_per_person", "living_floor_per_person")
SPACE = ("Space", "air_volume_per_sleeper", "Furniture and change of use", "The plan walked")
SERVICES = ("Heat", "Water and waste", "Power", "The year")
SAFETY = ("Access", "Ways out")
MOVING = ("Moving", "Setting up", "Ground")
AGREEMENT = ("Package",)


@dataclass(frozen=True)
class ReadyCriterion:
    """One line of a ready sheet; levels from Not shown to Carried to the detail."""

    code: str
    name: str
    weight: int
    informed_by: tuple[str, ...] = ()
    levels: tuple[str, ...] = ()

    def shows(self, *levels: str) -> ReadyCriterion:
        """Return the line with what each of its five levels looks like."""
        return replace(self, levels=levels)


@dataclass(frozen=True)
class ReadySheet:
    """A criteria sheet to start from."""

    slug: str
    title: str
    about: str
    lines: tuple[ReadyCriterion, ...]


INTERIM = ReadySheet(
    "interim",
    "Interim sheet",
    "Six criteria for work half way: the reading, the idea, first numbers, next steps.",
    (
        ReadyCriterion("I1", "Reading the brief and the site", 20, SIZE).shows(
            "Nothing on the sheets ties the scheme to this place or this brief.",
            "Facts of the site are gathered, and the plan does not use them.",
            "Wind, slope, sun and people have each moved something in the plan.",
            "Where demands of the brief collide, that is said, and a side is taken.",
            "Even small choices, such as the way a door swings, follow from the site.",
        ),
        ReadyCriterion("I2", "The idea", 20).shows(
            "There is a look, and no thought behind it yet.",
            "The thought is written down; the drawings go their own way.",
            "One thought puts the plan or the section in order.",
            "It orders plan and section alike, and its price is named.",
            "The jury picks any detail, and the same thought is found there.",
        ),
        ReadyCriterion("I3", "Plan and section in use", 20, (*SPACE, "Ways out")).shows(
            "Rooms carry names and hold nothing.",
            "Furniture stands once, as on a fair day.",
            "Day and night are drawn, and people pass with what they carry.",
            "The hardest hour, full, wet or before dawn, is drawn and holds.",
            "At any hour each spot has its use, its light and its way out.",
        ),
        ReadyCriterion("I4", "Numbers begun", 15, SERVICES).shows(
            "No schedule holds a row.",
            "Some rows are in, with units in doubt.",
            "Every schedule is filled, and it is known where the figures are short.",
            "What is short is put in order, each with a first answer.",
            "The drawing has already changed because of a figure.",
        ),
        ReadyCriterion("I5", "Precedent, including failure", 10, ("Precedents",)).shows(
            "Pictures without words.",
            "Data of other buildings, and nothing drawn from them.",
            "Each building gives a lesson; at least one gives it by what went wrong.",
            "Every lesson can be found on a sheet.",
            "One can put a finger on what the failed building has improved here.",
        ),
        ReadyCriterion("I6", "Process and next steps", 15).shows(
            "It looks finished, and nothing shows how it came about.",
            "Earlier steps are kept, and nothing follows from them.",
            "Options, trials and blind alleys are on the wall.",
            "The coming fortnight is planned round the weakest point.",
            "The weakness is told before anybody asks.",
        ),
    ),
)

FINAL = ReadySheet(
    "final",
    "Final sheet",
    "Eight criteria for finished work, from the idea to how it is told.",
    (
        ReadyCriterion("F1", "Idea and its discipline", 15).shows(
            "Nobody could say what the idea is.",
            "It is said at the start and then lost from sight.",
            "The main rooms show it.",
            "Plan, section and structure obey it, and what it cost is told.",
            "From one handle or hinge the whole scheme could be guessed.",
        ),
        ReadyCriterion("F2", "Light and view", 10, LIGHT).shows(
            "Windows fill what wall was left over.",
            "There is glass, scarce or plenty, without a reason for its place.",
            "Rooms lived in reach their ratios, and one view is meant.",
            "Each use and hour has its own light; glare and snow at the pane are dealt with.",
            "Light is drawn for someone lying, sitting and standing, in two seasons.",
        ),
        ReadyCriterion("F3", "Space, furniture, change of use", 15, (*SPACE, "Finishes")).shows(
            "Furniture is a sign on the plan, without a size.",
            "It all fits at one time of day alone.",
            "It serves day and night, and what must be stowed is counted.",
            "One tired person makes the change; no place is wanted twice at one time.",
            "Furniture, frame and stowage were thought of together.",
        ),
        ReadyCriterion("F4", "Air, heat, power, water, waste", 20, (*AIR, *SERVICES)).shows(
            "None of them is thought of.",
            "A diagram names them.",
            "Each has its figures and its place in the plan.",
            "In the design month they balance; where one is short, the reason is given.",
            "A stranger could run the place: fill, empty, clean and mend are all drawn.",
        ),
        ReadyCriterion("F5", "Access, ways out, safety", 10, SAFETY).shows(
            "A single door, unconsidered.",
            "The rules are written out, and the drawing does not follow.",
            "A way in without a step and two ways out are drawn.",
            "They hold in snow, at night or at high water.",
            "Being safe is one of the things that make the plan a pleasure.",
        ),
        ReadyCriterion("F6", "Making, moving, removing", 10, MOVING).shows(
            "How it gets there is left open.",
            "Its pieces are shown in no order.",
            "Each piece is listed and within what can be brought.",
            "Order, lifting and waiting for weather are planned, and so is taking it away.",
            "Each joint has its shape from how it comes and how it goes.",
        ),
        ReadyCriterion("F7", "Precedent and learning from failure", 10, ("Precedents",)).shows(
            "No building was studied, or only for its picture.",
            "The buildings shown look alike, and that is all.",
            "What was learnt can be followed to a sheet.",
            "Why one failed is worked out, and the scheme replies.",
            "Whoever comes next would understand that failure better from this scheme.",
        ),
        ReadyCriterion("F8", "Drawing and telling", 10, AGREEMENT).shows(
            "Sheets are missing.",
            "All sheets are there and are hard to follow.",
            "Scales fit, and one clear account is given in the time.",
            "What is drawn, scheduled and said is the same.",
            "The sheet replies before the juror has asked.",
        ),
    ),
)

TECHNICAL = ReadySheet(
    "technical",
    "Technical sheet",
    "Seven criteria for jurors who test services, making and safety.",
    (
        ReadyCriterion("K1", "Envelope and heat", 20, ("Heat", "The year")).shows(
            "What the walls are made of is not said.",
            "Layers have names and no thickness.",
            "U-values and the heat loss are worked out.",
            "Each is within its target; the greatest loss is found and dealt with.",
            "At leg, sill and eaves the insulation is drawn without a gap.",
        ),
        ReadyCriterion("K2", "Light and air", 15, (*LIGHT, *AIR)).shows(
            "Neither is counted.",
            "They are counted from the frame, or another wrong size.",
            "The ratios and the air at night reach their targets.",
            "It works closed up in a storm, and the path of the air is drawn.",
            "Air for fire, cooking, drying and sleep never mixes.",
        ),
        ReadyCriterion("K3", "Water and waste", 15, ("Water and waste",)).shows(
            "A tank is a box on the plan.",
            "Litres are given, and not how long they last.",
            "For a full house the days of every tank are worked out.",
            "All reach their targets, and frost and emptying are solved.",
            "What is carried back, what it weighs and how it is cleaned are drawn.",
        ),
        ReadyCriterion("K4", "Power", 10, ("Power",)).shows(
            "A panel is a sign on the roof.",
            "Loads are listed without their hours.",
            "For the design month the balance and the days on battery are worked out.",
            "What must run is told apart from what can wait.",
            "A night without power is gone through hour by hour.",
        ),
        ReadyCriterion("K5", "Access and ways out", 15, (*SAFETY, "Finishes")).shows(
            "Not on the drawings.",
            "On the drawings, without levels.",
            "Ramp, doors and distances to outside carry figures.",
            "The levels add up, and the second way out serves at the worst time.",
            "One person's coming in and one night's getting out are both drawn.",
        ),
        ReadyCriterion("K6", "Transport, assembly, removal", 15, MOVING).shows(
            "Not on the drawings.",
            "Pieces are drawn without sizes.",
            "Size, mass and number stay within what is allowed.",
            "Their order, how each stands meanwhile, and the weather needed are settled.",
            "It leaves without a trace, and spare parts are planned.",
        ),
        ReadyCriterion("K7", "Schedules that agree with drawings", 10, AGREEMENT).shows(
            "There are none.",
            "Several rows say other than the sheets do.",
            "Once put right, they agree.",
            "Each row tells on which sheet it is found.",
            "From the sheets alone, somebody else would arrive at the same rows and figures.",
        ),
    ),
)

SHEETS: dict[str, ReadySheet] = {sheet.slug: sheet for sheet in (INTERIM, FINAL, TECHNICAL)}
