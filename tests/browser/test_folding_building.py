"""A building that folds, typed from nothing: packed, set up by three, by day, at night, for five.

A cabin of 5 × 2.4 m with a toilet at its end goes on the road with its bed box pushed in. Three
set it up. By day three sit at its table; at night bench, table and box make beds for five.
"""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from reviews.models import Brief, Row
from tests.browser.conftest import broken_rules, sign_in
from tests.browser.rows import add_rows, fill, table

pytestmark = pytest.mark.django_db(transaction=True)

STATES = [("packed", "road"), ("day", "day"), ("night", "night")]
CASES = [("everyday", "3", "285"), ("weekend", "5", "80")]
TARGETS = table(
    "id check rule value",
    "T71 | sleeping_places | at least | 0",
    "T72 | water_days | at least | 7 days",
    "T73 | way_to_bed | at least | 600 mm",
    "T74 | way_to_toilet | at least | 600 mm",
    "T75 | setup_time | at most | 3 h",
    "T76 | open_to_rain | at most | 45 min",
    "T77 | least_crew | at most | 3",
)
PACKAGE = {
    "rooms": table(
        "mark room use floor_m2 depth_m width_m clear_height_m sleepers at_x at_y",
        "R1 | Toilet  | wc  | 2.88 | 2.4 | 1.2 | 2.2 | 0 | 0   | 0",
        "R2 | Cabin   | day | 12   | 2.4 | 5   | 2.2 | 0 | 1.3 | 0",
        "R3 | Bed box | day | 4.8  | 2.4 | 2   | 2.0 | 0 | 6.4 | 0",
    ),
    "rooms_by_state": table(
        "room state use sleepers absent",
        "R2 | night  | sleep | 3 |",
        "R3 | night  | sleep | 2 |",
        "R3 | packed |       |   | yes",
    ),
    "doors": table(
        "mark place leaf_w clear_w outside role swing room faces left",
        "D1 | Front   | 900  | 850  | yes | main exit | out    | R2 | S | 3500",
        "D2 | Toilet  | 800  | 750  | no  | internal  | slides | R1 | E | 800",
        "D3 | Bed box | 1200 | 1200 | no  | internal  | slides | R2 | E | 600",
    ),
    "furniture": table(
        "mark item room kind n day night height_mm l w plan_x plan_y",
        "U1 | Bench | R2 | seat  | 1 | 3 | 0 | 450 | 2000 | 600 | 2000 | 2100",
        "U2 | Table | R2 | table | 1 | 0 | 0 | 730 | 1200 | 700 | 3600 | 2050",
        "U3 | Bed   | R3 | bed   | 1 | 2 | 0 | 450 | 1900 | 900 | 1050 | 1950",
    ),
    "furniture_by_state": table(
        "mark state x y l w h seats sleeps made",
        "U1 | night |      | 1700 |      | 1400 | 450 | 0 | 2 | yes",
        "U2 | night | 3800 | 1900 | 1400 | 1000 | 450 |   | 1 | yes",
        "U3 | night |      | 1700 |      | 1400 |     | 0 | 2 | yes",
    ),
    "tanks": table("mark holds litres usable_share stands", "T1 | potable | 300 | 0.9 | heated"),
    "steps": table(
        "mark step from to after people minutes opens closes",
        "Q1 | Level the cabin on its legs  | packed | day |       | 3 | 30 | none     |",
        "Q2 | Unlock and pull out the box  | packed | day | Q1    | 3 | 25 | roof gap |",
        "Q3 | Set the legs of the box      | packed | day | Q2    | 2 | 15 |          |",
        "Q4 | Close and seal the roof gap  | packed | day | Q3    | 2 | 20 |          | roof gap",
        "Q5 | Fold out the panels          | packed | day | Q1    | 2 | 35 |          |",
        "Q6 | Hang the outside steps       | packed | day | Q1    | 1 | 20 |          |",
        "Q7 | Connect water and power      | packed | day | Q4 Q5 | 1 | 25 |          |",
    ),
    "claims": table("about text", "Setting up | Set up in two hours by two"),
}


def write_the_brief(page, cast, url):
    Brief.objects.filter(pk=cast.studio.brief.pk).update(issued_at=None)
    sign_in(page, cast, cast.leader, url)
    page.goto(url + reverse("edit-states", args=[cast.studio.pk]))
    for n, (state, kind) in enumerate(STATES, 1):
        fill(page, f"states-{n}-state", state)
        fill(page, f"states-{n}-kind", kind)
    for n, (case, people, days) in enumerate(CASES, 1):
        fill(page, f"cases-{n}-case", case)
        fill(page, f"cases-{n}-people", people)
        fill(page, f"cases-{n}-days", days)
    page.get_by_role("button", name="Save states and people").click()
    expect(page.locator("[role=status], .message").first).to_contain_text("kept")
    page.goto(url + reverse("edit-site", args=[cast.studio.pk]))
    for head, text in {"people": "3", "crew": "3", "water_l_pd": "8"}.items():
        page.locator(f"[name={head}], [name=cell-{head}]").first.fill(text)
    page.locator("button.main").first.click()
    for cells in TARGETS:
        page.goto(url + reverse("edit-targets", args=[cast.studio.pk]))
        new = page.locator("form", has=page.get_by_role("button", name="Add the target"))
        for head, text in cells.items():
            cell = new.locator(f"[name$={head}]")
            cell.select_option(text) if head in ("check", "rule") else cell.fill(text)
        new.get_by_role("button", name="Add the target").click()
        expect(page.locator("main")).to_contain_text(cells["id"])
    page.goto(url + reverse("issue-brief", args=[cast.studio.pk]))
    page.get_by_role("button", name="Issue the brief").click()


def says_beneath_what_differs(page, cast, url):
    page.goto(url + reverse("show-schedule", args=[cast.scheme.pk, "furniture"]))
    bench = page.locator("tbody", has=page.get_by_label("U1, Mark"))
    expect(bench).to_contain_text("night, U1: on the plan, up 1700 mm, width 1400 mm")
    bench.get_by_role("link", name="packed for U1").click()
    new = page.locator("#row-new")
    expect(new.locator("[name=cell-mark]")).to_have_value("U1")
    expect(new.locator("[name=cell-state]")).to_have_value("packed")


def test_a_folding_building_is_typed_from_nothing_and_its_figures_argued(page, cast, live_server):
    write_the_brief(page, cast, live_server.url)
    page.context.clear_cookies()
    sign_in(page, cast, cast.student, live_server.url)
    assert not Row.objects.filter(package=cast.scheme.package).exists()
    for slug, rows in PACKAGE.items():
        add_rows(page, live_server, cast.scheme, slug, rows)
    says_beneath_what_differs(page, cast, live_server.url)

    def finding(target):
        page.goto(live_server.url + reverse("show-check", args=[cast.scheme.pk, target]))
        assert broken_rules(page) == []
        return page.locator("main")

    # five places for five: 2 and 1 in the cabin, 2 in the box
    expect(finding("T71")).to_contain_text("3 + 2 = 5")
    # 300 L × 0.9 ÷ (5 × 8 L): 6.75 days; for three 11.25
    water = finding("T72")
    expect(water).to_contain_text("6.8 days")
    expect(water).to_contain_text("case weekend")
    # the box's door, 600 to 1,800 mm from the upper wall, ends at 600; its bed at night begins
    # at 1,000 and at 100 from the wall: √(400² + 100²) = 412
    for target in ("T73", "T74"):
        way = finding(target)
        expect(way).to_contain_text("412 mm")
        expect(way).to_contain_text("between a wall of R3 and U3")
        expect(way).to_contain_text("state night")
    # by three: Q5 waits for two hands until Q4 has ended, 90 + 35 + 25
    time = finding("T75")
    expect(time).to_contain_text("150 min")
    expect(time).to_contain_text("the least, proved")
    # from the pull at 30 min to the seal at 90
    expect(finding("T76")).to_contain_text("60 min")
    expect(finding("T77")).to_contain_text("3 people at once")
    page.goto(live_server.url + reverse("show-checks", args=[cast.scheme.pk]))
    assert broken_rules(page) == []
    page.locator(".folds summary").first.click()
    serving = page.get_by_role("region", name="Figures by people case")
    expect(serving).to_contain_text("3 people, 285 days")
    expect(serving).to_contain_text("5 people, 80 days")
    claims = page.get_by_role("region", name="Claims on sheets", exact=True)
    expect(claims).to_contain_text("Claim differs")
    # two can't begin; even three take 150 minutes
    expect(claims).to_contain_text("still needs a crew of 3: Q1 takes 3 at once, and there are 2")
