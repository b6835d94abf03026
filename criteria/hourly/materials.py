"""What a layer weighs and how much heat it holds, by the words for what it is made of.

The envelope schedule need say neither. Figures are those of ISO 10456:2007, Table 3, from memory,
and where that has none (wool of sheep, hemp, straw, flexible wood fibre) common practice.
"""

import re
from dataclasses import dataclass

SOURCE = "ISO 10456:2007, Table 3, from memory"
PRACTICE = "common practice"

INSULATES_W_MK = 0.1
"""Up to here what has an unknown name is taken for insulation [W/mK]. Ours."""


@dataclass(frozen=True)
class Material:
    """What a layer is made of.

    name          as it is called beside the layer
    density_kg_m3, heat_j_kgk   [kg/m³], [J/kgK]
    source        where the figures come from
    is_air        whether it is a still air space, which holds nothing
    is_known      whether the words for it were
    """

    name: str
    density_kg_m3: float
    heat_j_kgk: float
    source: str = SOURCE
    is_air: bool = False
    is_known: bool = True


_WORDS: tuple[tuple[str, Material], ...] = (
    # what has the name of another thing in its own stands before it
    (r"(foam(ed)?|cellular) ?glass", Material("cellular glass", 120, 1000)),
    (
        r"(stone|rock|mineral|glass|slag) ?-?wool|fib(re|er) ?glass",
        Material("mineral wool", 30, 1030),
    ),
    (r"wood ?-?wool|cement ?-?bonded", Material("wood wool slab", 400, 1470)),
    (r"sheep|\bwool\b", Material("sheep's wool", 25, 1700, PRACTICE)),
    (r"wood ?-?fib(re|er) ?-?board|softboard", Material("wood fibre board", 160, 2000)),
    (r"wood ?-?fib(re|er)", Material("flexible wood fibre", 50, 2000, PRACTICE)),
    (r"cellulose|blown paper", Material("cellulose", 50, 1600)),
    (r"textile|cotton|hemp|flax|felt|\bbatts?\b", Material("fibre batt", 30, 1600, PRACTICE)),
    (r"straw|reed|thatch", Material("straw", 100, 2000, PRACTICE)),
    (r"cork", Material("cork", 120, 1560)),
    (r"aerogel", Material("aerogel blanket", 150, 1000, PRACTICE)),
    (r"vacuum|evacuated", Material("vacuum panel", 180, 800, PRACTICE)),
    (r"\beps\b|expanded polystyrene", Material("expanded polystyrene", 20, 1450)),
    (r"\bxps\b|polystyrene|styrofoam", Material("extruded polystyrene", 35, 1450)),
    (r"\bpir\b|\bpur\b|polyurethane|phenolic|foam", Material("rigid foam", 35, 1400)),
    (r"perlite|vermiculite|expanded clay", Material("loose mineral fill", 150, 900)),
    (r"insulat", Material("insulation", 30, 1030)),
    (r"plaster ?-?board|gypsum|drywall", Material("gypsum board", 800, 1000)),
    (r"ply ?-?wood|\bply\b", Material("plywood", 500, 1600)),
    (r"\bosb\b|oriented strand", Material("strand board", 650, 1700)),
    (r"particle|chip ?-?board|\bmdf\b|fib(re|er) ?-?board", Material("board", 600, 1700)),
    (r"aerated|lightweight concrete|pumice", Material("light concrete", 600, 1000)),
    (r"reinforced|concrete", Material("concrete", 2300, 1000)),
    (r"screed|cement|mortar", Material("cement screed", 2000, 1000)),
    (r"render|stucco|plaster|\blime\b", Material("plaster", 1300, 1000)),
    (r"brick|masonry", Material("brick", 1700, 1000)),
    (r"rammed|earth|adobe|\bcob\b|\bclay\b|loam", Material("earth", 1800, 1000, PRACTICE)),
    (r"stone|granite|marble|slate|basalt|gneiss", Material("stone", 2500, 1000)),
    (r"tiles?\b|ceramic|porcelain", Material("tiles", 2300, 840)),
    (r"gravel|sand\b|soil", Material("sand or gravel", 1900, 1050)),
    (r"alumin(i)?um", Material("aluminium", 2800, 880)),
    (r"copper|brass|bronze", Material("copper", 8900, 380)),
    (r"\bzinc\b", Material("zinc", 7200, 380)),
    (r"steel|iron|\bmetal|\bsheet", Material("steel", 7800, 450)),
    (r"polycarbonate|acrylic|plastic|vinyl|\bpvc\b", Material("plastic", 1200, 1200)),
    (r"linoleum|rubber|bitumen|asphalt", Material("rubber or bitumen", 1150, 1200)),
    (r"membrane|foil|film|paper|vapou?r|tarp|canvas|fabric", Material("membrane", 900, 1800)),
    (r"carpet|rug\b", Material("carpet", 200, 1300)),
    (r"glass|glazing", Material("glass", 2500, 750)),
    (r"\boak|beech|\bash\b|hardwood", Material("hardwood", 700, 1600)),
    (
        r"timber|wood|pine|larch|spruce|\bfir\b|birch|cedar|shingle|board|lath|joist|stud|\bclt\b|"
        r"panel",
        Material("timber", 500, 1600),
    ),
    (r"\bair\b|cavity|\bgap\b|void", Material("still air", 1.23, 1008, is_air=True)),
)
_FOUND = tuple((re.compile(words, re.IGNORECASE), material) for words, material in _WORDS)

LIGHT = Material("insulation, as nothing is known of it", 30, 1000, "ours", is_known=False)
SOLID = Material("a light board, as nothing is known of it", 500, 1000, "ours", is_known=False)
"""What a layer of an unknown name is taken for: light, for what holds less heat helps less."""


def material_of(words: str, lambda_w_mk: float) -> Material:
    """Return what a layer is made of, by its words; of unknown ones by its conductivity [W/mK].

    >>> material_of("Flexible wood fibre between studs", 0.04).density_kg_m3
    50
    >>> material_of("Quux", 0.5).is_known
    False
    """
    known = next((material for pattern, material in _FOUND if pattern.search(words)), None)
    if known is not None:
        return known
    return LIGHT if lambda_w_mk <= INSULATES_W_MK else SOLID
