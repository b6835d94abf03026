"""Open a studio of the demo: people, brief with its targets, crits with their criteria sheets."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from criteria.schedules import SCHEDULES, SITE
from criteria.targets.reading import TARGETS
from reviews.deeds import studio_opening, studio_roster
from reviews.deeds.crit_criteria_keeping import start_from
from reviews.demo.scenario import (
    ADDENDUM,
    ADDENDUM_AT,
    ASKED_STATES,
    HUT,
    SHEETS,
    Calendar,
    StudioStory,
    email_of,
)
from reviews.demo.tables import climate_of, read_csv, use_of
from reviews.models import (
    Addendum,
    Brief,
    Crit,
    HandInItem,
    Interest,
    Membership,
    Person,
    Scheme,
    Seat,
    Slot,
    Studio,
    TargetLine,
)

Role = Membership.Role


def person(name: str, **more: Any) -> Person:
    """Return somebody of the story, made at their first mention; the demo sets no passwords."""
    found = Person.objects.filter(email=email_of(name)).first()
    return found or Person.objects.create_user(email_of(name), name, **more)


def leader() -> Person:
    """The leader of both studios."""
    name = next(row["name"] for row in read_csv("people") if row["role"] == "studio leader")
    return person(name, opens_studios=True)


def open_studio(story: StudioStory, calendar: Calendar) -> Studio:
    """Open a studio with everything up to the issue of its brief and the plan of its crits."""
    by = leader()
    parts = {"title": story.title, "cohort": story.cohort, "year_line": story.year_line}
    studio = studio_opening.open_studio(by, {**parts, "is_wall_open": True})
    issued_at = calendar.at(*story.issued)
    Studio.objects.filter(pk=studio.pk).update(opened_at=issued_at - timedelta(days=10))
    _bring_in(studio, story, issued_at - timedelta(days=9))
    brief = _write_brief(studio.brief, story)
    for is_final in (False, True):
        _plan_crit(studio, story, calendar, is_final=is_final)
    brief.issue(by)
    Brief.objects.filter(pk=brief.pk).update(issued_at=issued_at)
    if story is HUT:
        _add_addendum(brief, calendar, by)
    return studio


def _bring_in(studio: Studio, story: StudioStory, at: datetime) -> None:
    """Bring the roster in as a leader does: one table, pasted."""
    lines = ["name,email,scheme number,scheme name,role"]
    for row in read_csv("schemes"):
        if row["cohort"] == story.letter:
            for name in row["by"].split(" and "):
                lines.append(f"{name},{email_of(name)},{row['no']},{row['scheme']},student")
    roles = {"external examiner": "examiner"} if story is not HUT else {"scribe": "scribe"}
    for row in read_csv("people"):
        if role := roles.get(row["role"]):
            lines.append(f"{row['name']},{email_of(row['name'])},,,{role}")
        elif row["role"] == "coordinator":
            person(row["name"], is_coordinator=True)
    studio_roster.bring_in(studio, "\n".join(lines), leader(), at=at)


def _write_brief(brief: Brief, story: StudioStory) -> Brief:
    site = next(row for row in read_csv("site") if row["cohort"] == story.letter)
    brief.text = story.brief
    brief.site = {head: site[head] for head in SITE.heads if site.get(head)}
    brief.climate = climate_of(site)
    brief.states, brief.cases = use_of(story.letter).values()
    brief.save()
    lines = [row for row in read_csv("targets") if row["cohort"] == story.letter]
    TargetLine.objects.bulk_create(
        TargetLine(brief=brief, position=n, cells=_target_cells(row, story))
        for n, row in enumerate(lines)
    )
    kind = HandInItem.Kind
    other = ASKED_STATES.get(story.letter, {})
    items = [
        HandInItem(
            brief=brief,
            kind=kind.SHEET,
            code=n,
            title=t,
            drawing=drawing,
            state=other.get(n, state),
        )
        for n, t, _, drawing, state in SHEETS
    ]
    asked = ("rooms", "windows", "occupants", "tanks", "precedents")
    items += [
        HandInItem(brief=brief, kind=kind.SCHEDULE, code=s.slug, title=s.title)
        for s in SCHEDULES
        if s.slug in asked
    ]
    HandInItem.objects.bulk_create(items)
    return brief


def _target_cells(row: dict[str, str], story: StudioStory) -> dict[str, str]:
    cells = {head: row[head] for head in TARGETS.heads if row.get(head)}
    if story is HUT and row["id"] == "T26":
        cells["value"] = "800"  # as first issued; the addendum asks less
    return cells


def _add_addendum(brief: Brief, calendar: Calendar, by: Person) -> None:
    addendum = Addendum.objects.create(
        brief=brief, number=1, text=ADDENDUM, issued_by=by, issued_at=calendar.at(*ADDENDUM_AT)
    )
    changed = next(r for r in read_csv("targets") if r["cohort"] == "H" and r["id"] == "T26")
    cells = {head: changed[head] for head in TARGETS.heads if changed.get(head)}
    TargetLine.objects.create(brief=brief, addendum=addendum, cells=cells)


def _plan_crit(studio: Studio, story: StudioStory, calendar: Calendar, *, is_final: bool) -> None:
    crit = Crit.objects.create(
        studio=studio,
        kind=Crit.Kind.FINAL if is_final else Crit.Kind.INTERIM,
        day=calendar.day(*(story.final if is_final else story.interim)),
        pens_down=calendar.at(*(story.final_pens_down if is_final else story.interim_pens_down)),
    )
    start_from(crit, "final" if is_final else "interim")
    _seat_jurors(crit, story, is_final=is_final)
    _order(crit, story, is_final=is_final)


def _seat_jurors(crit: Crit, story: StudioStory, *, is_final: bool) -> None:
    word = f"{story.letter} {'final' if is_final else 'interim'}"
    for row in read_csv("jurors"):
        for sitting in row["crits"].split("; "):
            if sitting.startswith(word):
                room = sitting.removeprefix(word).strip()
                Seat.objects.create(
                    crit=crit,
                    name=row["name"],
                    kind=row["kind"],
                    room=room,
                    email=email_of(row["name"]),
                )


def _order(crit: Crit, story: StudioStory, *, is_final: bool) -> None:
    schemes = {scheme.number: scheme for scheme in crit.studio.schemes.all()}
    if story is HUT and is_final:
        _order_of_today(crit, schemes)
        return
    word = "final" if is_final else "interim"
    seen: dict[str, tuple[int, set[str]]] = {}
    rooms = {seat.name: seat.room for seat in crit.seats.all()}
    for row in read_csv("levels_long"):
        if row["cohort"] == story.letter and row["crit"].startswith(word):
            position, where = seen.setdefault(row["scheme"], (int(row["position"] or 0), set()))
            where.add(rooms.get(row["juror"], ""))
    for n, number in enumerate(sorted(schemes), start=1):
        position, where = seen.get(number, (n, set()))
        room = where.pop() if len(where) == 1 else ""
        Slot.objects.create(crit=crit, scheme=schemes[number], position=position or n, room=room)


def _order_of_today(crit: Crit, schemes: dict[str, Scheme]) -> None:
    for n, row in enumerate(read_csv("running_order"), start=1):
        if row["scheme"] in schemes:
            room = "" if "joint" in row["room"] else row["room"]
            Slot.objects.create(
                crit=crit,
                scheme=schemes[row["scheme"]],
                position=n,
                room=room,
                starts_at=row["time"],
                state=row["state"].partition(",")[0],
            )
    Interest.objects.create(
        seat=crit.seats.get(name="Odell Brannick"),
        scheme=schemes["H04"],
        words="Rue Castellow works at my office.",
    )
