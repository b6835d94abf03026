"""What a brief asks, read for its pages and for the checks alike."""

from reviews.models import Addendum
from reviews.reading.brief_reading import BriefReading
from reviews.reading.package_checking import asked_by
from tests.factories import TargetLineFactory


def test_of_two_targets_that_give_a_figure_pages_and_checks_take_the_first(cast):
    brief = cast.studio.brief
    brief.site = {}
    for ref, litres in (("T20", "12"), ("T21", "15")):
        what = f"Water days at {litres} L per person-day"
        cells = {"id": ref, "what": what, "rule": "at least", "value": "14", "unit": "days"}
        TargetLineFactory(brief=brief, cells=cells)
    assert BriefReading.of(brief).site.water_m3_pd == 0.012
    assert asked_by(brief).site["water_l_pd"].startswith("12")


def test_the_latest_addendum_to_change_a_target_holds_in_its_place(cast):
    brief = cast.studio.brief
    TargetLineFactory(brief=brief, cells={"id": "T02", "what": "Water days"})
    for number in (1, 2):
        addendum = Addendum.objects.create(
            brief=brief, number=number, text="More light.", issued_by=cast.leader
        )
        changed = {"id": "T01", "what": f"Light, put right {number}"}
        TargetLineFactory(brief=brief, addendum=addendum, cells=changed)
    lines = brief.lines_in_force()
    assert [line.cells["what"] for line in lines] == ["Light, put right 2", "Water days"]
    assert [line.asked_by for line in lines] == ["Addendum 2", "the brief"]
    assert brief.target_records() == [line.cells for line in lines]
