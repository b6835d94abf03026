"""The targets of a brief, page by page."""

import pytest

from reviews.models import TargetLine
from tests.reviews.page_steps import sent_of, text_of

NEW = {
    "new-id": "T14",
    "new-what": "Water days",
    "new-check": "water_days",
    "new-rule": "at least",
    "new-value": "10",
    "new-unit": "days",
}


def test_the_targets_page_lists_what_leads_nowhere(cast, leader, draft, brief_url):
    cast.criterion.evidence = ""
    cast.criterion.save()
    text = text_of(leader.get(f"{brief_url}targets/"))
    assert "T01 Day room daylight ratio" in text
    assert "1 target feeds no criterion" in text
    assert "Floor area indoors" in text


def test_a_target_is_added(leader, draft, brief_url):
    assert leader.post(f"{brief_url}targets/", NEW)["Location"] == f"{brief_url}targets/#new"
    assert [record["id"] for record in draft.target_records()] == ["T01", "T14"]
    assert "10 days" in text_of(leader.get(f"{brief_url}targets/"))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"new-id": "T01"}, "Read “T01”. Expected a reference that no other target of the brief"),
        ({"new-id": ""}, "Read nothing. Expected a mark of letters and digits"),
        ({"new-value": "10 kg"}, "Read “10 kg”. Expected a time"),
        ({"new-rule": "about"}, "Read “about”. Expected one of: at least, at most, all."),
        ({"new-not_over": "5"}, "Read “5”. Expected an upper bound over the target, 10."),
        ({"new-check": "daylight_ratio", "new-value": "12", "new-unit": "%", "new-rooms": "attic"},
         "Read “attic”. Expected uses of rooms among"),
    ],
)  # fmt: skip
def test_a_bad_target_is_named_beside_its_field(leader, draft, brief_url, change, said):
    text = text_of(leader.post(f"{brief_url}targets/", NEW | change))
    assert said in text
    assert 'value="Water days"' in text
    assert draft.target_lines.count() == 1


def test_a_target_is_changed_in_place(leader, draft, brief_url):
    line = draft.target_lines.get()
    page = leader.get(f"{brief_url}targets/?change={line.pk}")
    sent = sent_of(page) | {"value": "15"}
    assert leader.post(f"{brief_url}targets/{line.pk}/", sent).status_code == 302
    line.refresh_from_db()
    assert line.cells["value"] == "15"
    late = leader.post(f"{brief_url}targets/{line.pk}/", sent | {"value": "18"})
    assert late.status_code == 409
    assert "Somebody changed this since" in text_of(late)
    bad = text_of(leader.post(f"{brief_url}targets/{line.pk}/", sent | {"value": "much"}))
    assert "Read “much” Expected" in bad.replace("”.", "”")


def test_a_target_is_taken_out(leader, draft, brief_url):
    line = draft.target_lines.get()
    leader.post(f"{brief_url}targets/{line.pk}/remove/")
    assert not draft.target_lines.exists()


def test_a_line_of_another_brief_or_of_an_addendum_is_not_there(cast, leader, draft, brief_url):
    addendum = draft.addenda.create(number=1, text="x", issued_by=cast.leader)
    lines = [
        cast.other_studio.brief.target_lines.get(),
        TargetLine.objects.create(brief=draft, addendum=addendum, cells={"id": "T01"}),
    ]
    for line in lines:
        assert leader.post(f"{brief_url}targets/{line.pk}/", NEW).status_code == 404
        assert leader.post(f"{brief_url}targets/{line.pk}/remove/").status_code == 404
        assert leader.get(f"{brief_url}targets/?change={line.pk}").status_code == 404
    assert leader.get(f"{brief_url}targets/?change=x").status_code == 404


def test_targets_are_pasted_after_a_preview(leader, draft, brief_url):
    typed = (
        "id,what,rule,value,unit\n"
        "T01,Day room daylight ratio,at least,14,%\n"
        "T30,A good smell,about,1,\n"
    )
    text = text_of(leader.post(f"{brief_url}targets/paste/", {"text": typed, "keep": "yes"}))
    assert "Expected one of: at least, at most, all." in text
    assert "changed" in text
    assert draft.target_records()[0]["value"] == "12"
    good = typed.replace("about", "at least")
    leader.post(f"{brief_url}targets/paste/", {"text": good})
    assert draft.target_records()[0]["value"] == "12"
    leader.post(f"{brief_url}targets/paste/", {"text": good, "keep": "yes"})
    assert [r["value"] for r in draft.target_records()] == ["14", "1"]


def test_a_published_set_is_added_with_whom_it_binds(leader, draft, brief_url):
    text = text_of(leader.get(f"{brief_url}targets/"))
    assert "A teaching check, not a code approval." in text
    assert "binds" in text
    answer = leader.post(f"{brief_url}targets/set/", {"set": "sphere-2018"}, follow=True)
    assert "targets added from" in text_of(answer)
    bad = leader.post(f"{brief_url}targets/set/", {"set": "folk lore"}, follow=True)
    assert "Read “folk lore”. Expected one of" in text_of(bad)


def test_targets_go_out_as_they_come_in(cast, leader, draft, brief_url):
    table = leader.get(f"{brief_url}targets.csv")
    assert table["Content-Type"].startswith("text/csv")
    before = draft.target_records()
    leader.post(f"{brief_url}targets/paste/", {"text": table.content.decode(), "keep": "yes"})
    assert draft.target_records() == before
