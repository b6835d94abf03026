"""What the library says when it is given something that it can't use."""


class InputError(ValueError):
    """A value to which no formula here could apply, such as a floor of 0 m²."""


LONGEST_QUOTED = 80
"""Most of what was typed that a message repeats [characters]."""


class Refused(ValueError):
    """Text that can't be read as what its place asks for.

    read        what was typed, as typed; of a long text its beginning and its length
    expected    what would have been read, in words that can stand beside a field
    """

    def __init__(self, read: str, expected: str) -> None:
        if len(read) > LONGEST_QUOTED:
            read = f"{read[:LONGEST_QUOTED]}… ({len(read):,} characters)"
        super().__init__(f"read “{read}”; expected {expected}")
        self.read = read
        self.expected = expected


def require_positive(name: str, value: float, unit: str) -> float:
    """Return the value, or raise InputError where it is zero, negative or not a number.

    >>> require_positive("floor area", 12.0, "m²")
    12.0
    """
    if not value > 0:
        raise InputError(f"{name} is {value:g} {unit}; expected more than 0 {unit}")
    return value


def require_not_negative(name: str, value: float, unit: str) -> float:
    """Return the value, or raise InputError where it is below zero or not a number."""
    if not value >= 0:
        raise InputError(f"{name} is {value:g} {unit}; expected 0 {unit} or more")
    return value


def require_fraction(name: str, value: float) -> float:
    """Return the value, or raise InputError where it is not within 0 to 1."""
    if not 0 <= value <= 1:
        raise InputError(f"{name} is {value:g}; expected a fraction from 0 to 1")
    return value
