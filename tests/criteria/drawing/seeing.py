"""What a page gives a drawing, made of typed rows and targets."""

from criteria.check_sheet.sheet import judge, unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.held import asked_of
from criteria.drawing.marks import Path, Strokes, Touch
from criteria.drawing.picture import Seen
from criteria.findings import Measured
from criteria.package import read_package
from criteria.targets.reading import read_targets
from criteria.units import System

FIELDS = [Field(width_mm=w, system=s) for w in (MIDDLE_MM, NARROW_MM) for s in System]
WIDE, NARROW = FIELDS[0], FIELDS[2]


def seen(tables, check, targets=(), nth=0):
    """Return what is seen of a check: targets are (check, rule, value) or None of no number."""
    package = read_package(tables).package
    rows = [
        {"id": f"T{n}", "check": slug, "rule": rule, "value": value}
        for n, (slug, rule, value) in enumerate(targets)
    ]
    judged = [judge(package, target) for target in read_targets(rows).targets]
    findings = {finding.check: finding for finding in judged}
    finding = findings.get(check) or unasked(package, CHECKS[check])
    measured = (finding.worst_first or (Measured(),))[nth]
    asked = asked_of(finding, measured)
    return Seen(package=package, check=check, asked=asked, findings=findings)


def drawn(picture, tables, check, targets=(), field=WIDE, nth=0):
    """Return a drawing as a page has it; None of nothing to draw."""
    ready = picture.ready(seen(tables, check, targets, nth))
    return ready and ready.of(field)


def touched(drawing, row):
    """The marks that lead to a row."""
    (found,) = [
        each.marks for each in drawing.marks if isinstance(each, Touch) and each.mark == row
    ]
    return found


def boxes(marks, **like):
    """Left, top, right and foot of shapes that have such pens, tones or fills."""
    paths = [mark for mark in marks if isinstance(mark, Path) and mark.is_closed]
    found = [p for p in paths if all(getattr(p, name) == value for name, value in like.items())]
    return [(*each.points[0], *each.points[2]) for each in found]


def strokes(marks, **like):
    """Hatching and ticks that have such pens or tones."""
    found = [mark for mark in marks if isinstance(mark, Strokes)]
    return [s for s in found if all(getattr(s, name) == value for name, value in like.items())]


def words(drawing):
    """All that is lettered."""
    return [each.words for each in drawing.letters]
