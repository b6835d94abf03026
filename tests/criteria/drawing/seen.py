"""What tests of drawings share: rows and targets as a page has them, and rules of every drawing."""

from dataclasses import replace

from criteria.check_sheet.sheet import judge, unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.catalogue import BY_CHECK
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.marks import Touch, flat
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Amount, Measured, Rule
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
    is_number = bool(measured.values) and finding.rule is not Rule.ALL
    target = finding.target if is_number else None
    of = measured.subject or measured.name
    asked = Asked(
        title=f"{finding.title}, {of}" if of else finding.title,
        measured=measured,
        amount=Amount(measured.values[0], finding.scale) if is_number else None,
        limit=None if target is None else Amount(target, finding.scale),
        state=finding.state,
    )
    return Seen(package=package, check=check, asked=asked, findings=findings)


def drawn(tables, check, *targets, field=None, nth=0):
    """The drawing of a check, held to the rules of all; None where nothing can be drawn."""
    found = in_fields([field or Field()], seen_of(tables, check, *targets, nth=nth))
    return found[0] if found else None


def in_each_field(tables, check, *targets):
    """The drawings of a check in each width and system."""
    return in_fields(FIELDS, seen_of(tables, check, *targets))


def in_fields(fields, seen):
    """The drawings of what is seen, in some fields; none where nothing can be drawn."""
    ready = BY_CHECK[seen.check].ready(seen)
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
