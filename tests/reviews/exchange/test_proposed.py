"""What a reader proposes goes from one process to another as it is."""

import json

import pytest

from reviews.exchange.proposed import How, Proposal, ProposedCell, ProposedRow, Question


def test_all_of_a_proposal_comes_back_through_json():
    proposal = Proposal(
        kind="model",
        made_by="A program",
        rows=(
            ProposedRow(
                schedule="rooms",
                source="2O2Fr$t4X7Zf8NOew3FLOH",
                floor="Ground",
                shape=((0.0, 0.0), (4.0, 0.0), (4.0, 2.5)),
                cells={
                    "floor_m2": ProposedCell(
                        text="10", how=How.MEASURED, place="its floor", beside="written 9.7 m²"
                    ),
                    "use": ProposedCell(text="day", how=How.GUESSED),
                },
            ),
            ProposedRow(schedule="windows", cells={}),
        ),
        questions=(Question(name="unit", asked="Unit?", choices=(("mm", "mm: 4.00 m"),)),),
        said=("15 windows have no room.",),
        about={"hours": 8760},
    )
    assert Proposal.of_json(json.loads(json.dumps(proposal.as_json()))) == proposal


@pytest.mark.parametrize(
    "told",
    [
        {},
        {"kind": "model"},
        {"kind": "m", "made_by": "", "rows": [{}], "questions": [], "said": [], "about": {}},
        {
            **{"kind": "m", "made_by": "", "questions": [], "said": [], "about": {}},
            "rows": [{"schedule": "rooms", "cells": {"use": {"how": "felt"}}}],
        },
    ],
)
def test_what_is_no_proposal_is_told_apart(told):
    with pytest.raises((KeyError, TypeError, ValueError)):
        Proposal.of_json(told)


def told(**row) -> dict:
    base = {"kind": "m", "made_by": "", "questions": [], "said": [], "about": {}}
    return base | {"rows": [{"schedule": "rooms", "cells": {}} | row]}


def test_what_is_no_letter_is_left_out_for_no_database_would_keep_it():
    cells = {"room": {"text": "a\0b\ud800c", "how": "written"}}
    [row] = Proposal.of_json(told(cells=cells)).rows
    assert row.cells["room"].text == "ab?c"


@pytest.mark.parametrize("corner", [(float("nan"), 0.0), (0.0, float("inf"))])
def test_an_outline_has_an_end(corner):
    with pytest.raises(ValueError, match="without an end"):
        Proposal.of_json(told(shape=[(0.0, 0.0), corner]))
