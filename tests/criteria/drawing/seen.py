"""What tests of drawings share: rows and targets as a page has them, and rules of every drawing."""

from dataclasses import replace

from criteria.check_sheet.sheet import judge, unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.catalogue import BY_CHECK
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.held import asked_of
from criteria.drawing.marks import Path, Strokes, Touch, flat
from criteria.drawing.picture import Seen
from criteria.findings import Measured
from criteria.package import read_package
from criteria.targets.reading import read_targets
from criteria.units import System
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

FIELDS = [Field(width_mm=w, system=s) for w in (MIDDLE_MM, NARROW_MM) for s in System]


def seen_of(tables, check, *targets, nth=0):
    """What a drawing of a check is made of, of rows and targets (check, rule, value, not over)."""
    package = read_package(tables).package
    asked = [
        dict(zip(("check", "rule", "value", "not_over"), each, strict=False), id=f"T{n:02}")
        for n, each in enumerate(targets, 1)
    ]
    read = read_targets(asked)
    assert not read.refused
    findings = {target.check.slug: judge(package, target) for target in read.targets}
    finding = findings.get(check) or unasked(package, CHECKS[check])
    measured = [*finding.worst_first, Measured()][nth]
    asked = asked_of(finding, measured)
    return Seen(package=package, check=check, asked=asked, findings=findings)


def drawn(tables, check, *targets, field=None, nth=0):
    """The drawing of a check, held to the rules of all; None where nothing can be drawn."""
    found = in_fields([field or Field()], seen_of(tables, check, *targets, nth=nth))
    return found[0] if found else None


def in_each_field(tables, check, *targets):
    """The drawings of a check in each width and system."""
    return in_fields(FIELDS, seen_of(tables, check, *targets))


def in_fields(fields, seen, picture=None):
    """The drawings of what is seen, in some fields; none where nothing can be drawn."""
    ready = (picture or BY_CHECK[seen.check]).ready(seen)
    drawings = [ready.of(field) for field in fields] if ready else []
    for drawing in drawings:
        keeps_the_rules(replace(drawing, marks=tuple(flat(drawing.marks))))
        assert drawing.height_mm <= 180
    return drawings


def touches(drawing):
    """The marks that lead to rows, by the rows' marks, in the order they are drawn."""
    found = {}
    for each in drawing.marks:
        if isinstance(each, Touch):
            found.setdefault(each.mark, []).append(each)
    return found


def words(drawing):
    """All that is lettered."""
    return {each.words for each in drawing.letters}


def touched(drawing, row):
    """The marks that lead to a row, all together."""
    return [mark for each in touches(drawing)[row] for mark in each.marks]


def boxes(marks, **like):
    """Left, top, right and foot of shapes that have such pens, tones or fills."""
    paths = [mark for mark in marks if isinstance(mark, Path) and mark.is_closed]
    return [(*p.points[0], *p.points[2]) for p in paths if _is_like(p, like)]


def strokes(marks, **like):
    """Hatching and ticks that have such pens or tones."""
    return [mark for mark in marks if isinstance(mark, Strokes) and _is_like(mark, like)]


def _is_like(mark, like):
    return all(getattr(mark, name) == value for name, value in like.items())
