"""Fresh air: what reaches each sleeper, what a dwelling needs, and what CO₂ comes of it."""

from dataclasses import dataclass

from criteria.errors import require_not_negative, require_positive

FT2 = 0.3048**2
CFM_M3_S = 0.3048**3 / 60


def air_per_sleeper(flow_m3_s: float, sleepers: int) -> float:
    """Return fresh air per sleeper [m³/s]: Σ(n · q) over the sleepers of a room.

    >>> round(air_per_sleeper(2 * 0.008, 4) * 1000, 6)
    4.0
    """
    require_not_negative("fresh air", flow_m3_s, "m³/s")
    return flow_m3_s / require_positive("sleepers", sleepers, "no.")


@dataclass(frozen=True)
class DwellingForm:
    """One of the two forms in which the standard prints its formula.

    per_floor_m_s    outdoor air for each square metre [m³/s·m²]
    per_person_m3_s  outdoor air for each person reckoned with [m³/s]
    """

    per_floor_m_s: float
    per_person_m3_s: float


DWELLING_SI = DwellingForm(0.15e-3, 3.5e-3)
"""0.15 L/s·m² and 3.5 L/s. ASHRAE 62.2, equation 4-1, metric form."""
DWELLING_IP = DwellingForm(0.03 * CFM_M3_S / FT2, 7.5 * CFM_M3_S)
"""0.03 cfm/ft² and 7.5 cfm. ASHRAE 62.2, equation 4-1, inch-pound form."""


def dwelling_air(floor_m2: float, bedrooms: int, beyond: int, form: DwellingForm) -> float:
    """Return the outdoor air that a dwelling needs [m³/s].

        Q = a · A + q · (N + 1 + P)

        a, q the form's figures for floor and person
        A    floor                                           [m²]
        N    bedrooms; a studio counts as one                [no.]
        P    people known to live there beyond N + 1         [no.]

    Applies to: dwelling units. The two forms are hard formulas some 1.3 % apart, never mixed.
    Source: ASHRAE 62.2-2013 to 2022, equation 4-1, quoted; that each person beyond counts
    like a bedroom is from memory. 2400 ft² with three
    bedrooms is 102 cfm; seven people there add three times 7.5:

    >>> round(dwelling_air(30, 1, 0, DWELLING_SI) * 1000, 3)
    11.5
    >>> round(dwelling_air(2400 * FT2, 3, 0, DWELLING_IP) / CFM_M3_S, 6)
    102.0
    >>> round(dwelling_air(2400 * FT2, 3, 7 - 4, DWELLING_IP) / CFM_M3_S, 6)
    124.5
    """
    require_positive("floor", floor_m2, "m²")
    require_positive("bedrooms", bedrooms, "no.")
    require_not_negative("people beyond", beyond, "no.")
    return form.per_floor_m_s * floor_m2 + form.per_person_m3_s * (bedrooms + 1 + beyond)


def steady_co2(people: int, flow_m3_s: float, outside: float, each_m3_s: float) -> float:
    """Return the carbon dioxide that a room settles at, as a share of its air [1].

        C = C_o + n · G / Q

        C_o  outside air                          [1]; 420 ppm is 420e-6
        G    given off by each person             [m³/s]
        Q    fresh air                            [m³/s]

    Applies to: perfect mixing, after hours. A comfort indicator, not a limit of health.
    Source: mass balance, as ASTM D6245 has it (from memory).

    >>> round(steady_co2(2, 0.0115, 420e-6, 4.8e-6) * 1e6)
    1255
    """
    require_positive("people", people, "no.")
    require_positive("fresh air", flow_m3_s, "m³/s")
    require_not_negative("outside carbon dioxide", outside, "")
    return outside + people * require_positive("given off", each_m3_s, "m³/s") / flow_m3_s
