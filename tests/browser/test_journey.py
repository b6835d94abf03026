"""The whole way as four people: brief, package, jury, release, reading. Nothing is put in aside."""

import io
from datetime import timedelta

import pytest
from django.utils import timezone
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from reviews.models import Comment, JurySheet, Person, Revision

PASSWORD = "a long enough pass phrase"
ROSTER = "name,email,scheme number,scheme name\nStef Student,stef@example.org,R01,Lee\n"
WINDOWS = "mark\troom\tn\tframe_w [in]\tframe_h\tglass_w\tglass_h\tsill\topens\topen_share\n" + (
    "W1\tR1\t2\t55\t1200\t1240\t1040\t700\tside-hung\t0.9\n"
)
BRIEF = "A hut for thirteen on a ridge without road, main or cable."


@pytest.fixture
def open_as(browser: Browser, live_server):
    """Devices of their own, as four people have; each fails the test on a console error."""
    contexts, said = [], []

    def device(width: int = 1280, *, touch: bool = False) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": 1000}, has_touch=touch, base_url=live_server.url
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(20_000)
        page.on("console", lambda line: said.append(line.text) if line.type == "error" else None)
        return page

    yield device
    for context in contexts:
        context.close()
    # results before their release aren't there, and the browser says so
    assert [line for line in said if "404" not in line] == []


def _main(page: Page) -> None:
    """Press the one main button of the page."""
    page.locator("button.main").first.click()


def _sign_in(page: Page, email: str) -> None:
    page.goto("/sign-in/")
    page.get_by_role("textbox", name="E-mail").fill(email)
    page.get_by_role("textbox", name="Password").fill(PASSWORD)
    _main(page)


def _open_a_studio(page: Page) -> str:
    page.goto("/studios/new/")
    page.get_by_role("textbox", name="Title").fill("Ridge")
    page.get_by_role("textbox", name="Cohort").fill("Cohort R, autumn 2026")
    _main(page)
    expect(page.locator("h1")).to_have_text("Ridge")
    studio = page.url
    page.goto(f"{studio}people/bring-in/")
    page.locator("textarea").fill(ROSTER)
    _main(page)
    _main(page)
    expect(page.locator("main")).to_contain_text("Stef Student")
    return studio


def _set_a_crit(page: Page, studio: str) -> str:
    today = timezone.localdate()
    page.goto(f"{studio}crits/new/")
    page.locator("[name=kind]").select_option("final")
    page.locator("[name=day]").fill(today.isoformat())
    before = timezone.localtime() + timedelta(hours=2)
    if before.date() != today:
        before = timezone.localtime()
    page.locator("[name=pens_down]").fill(before.strftime("%Y-%m-%dT%H:%M"))
    _main(page)
    crit = page.url
    page.goto(f"{crit}criteria/")
    page.get_by_role("button", name="Start from the final sheet").click()
    expect(page.locator("main")).to_contain_text("Idea and its discipline")
    page.goto(f"{crit}jurors/")
    page.locator("[name$='-name']").first.fill("Jo Juror")
    page.locator("[name$='-kind']").first.select_option("visiting")
    _main(page)
    page.goto(f"{crit}order/")
    page.locator("[name$='-position']").first.fill("1")
    _main(page)
    return crit


def _write_the_brief(page: Page, studio: str) -> None:
    page.goto(f"{studio}brief/text/")
    page.get_by_role("textbox", name="Text").fill(BRIEF)
    _main(page)
    page.goto(f"{studio}brief/site/")
    page.locator("[name=people], [name=cell-people]").first.fill("13 kg")
    _main(page)
    expect(page.locator("main")).to_contain_text("13 kg")
    expect(page.locator("main")).to_contain_text("whole number")
    page.locator("[name=people], [name=cell-people]").first.fill("13")
    _main(page)
    page.goto(f"{studio}brief/targets/")
    new = page.locator("form", has=page.get_by_role("button", name="Add the target"))
    new.locator("[name$=id]").fill("T01")
    new.locator("[name$=what]").fill("Day room daylight ratio")
    new.locator("[name$=check]").select_option("daylight_ratio")
    new.locator("[name$=rooms]").fill("day")
    new.locator("[name$=rule]").select_option("at least")
    new.locator("[name$=value]").fill("12")
    new.get_by_role("button").click()
    expect(page.locator("main")).to_contain_text("T01")
    page.locator("details.published-set summary", has_text="IRC").first.click()
    page.locator("details.published-set[open] button").click()
    page.goto(f"{studio}brief/issue/")
    _main(page)
    expect(page.locator("main")).to_contain_text(BRIEF)


def _fill_a_package(page: Page, link: str) -> None:
    page.goto(link)
    page.locator("[type=password]").first.fill(PASSWORD)
    page.locator("[type=password]").last.fill(PASSWORD)
    _main(page)
    page.goto("/")
    page.get_by_role("link", name="Lee").first.click()
    package = page.url
    page.goto(f"{package}schedules/rooms/")
    ghost = page.locator("tbody.ghost-line")
    for head, text in (("mark", "R1"), ("room", "Day room"), ("floor_m2", "86 sq ft")):
        ghost.locator(f"[name=cell-{head}]").fill(text)
    ghost.locator("[name=cell-use]").select_option("day")
    ghost.get_by_role("button", name="Add the row").click()
    expect(page.locator("main")).to_contain_text("8.0 m²")
    page.goto(f"{package}schedules/windows/paste/")
    page.locator("textarea").fill(WINDOWS)
    _main(page)
    page.get_by_role("button", name="Take over what is ticked").click()
    expect(page.locator("main")).to_contain_text("windows: 1 new")
    page.goto(f"{package}checks/T01/")
    expect(page.locator("main")).to_contain_text("32.3 %")
    page.goto(f"{package}sheets/")
    page.locator("[type=file]").first.set_input_files(
        {"name": "02 Plan.png", "mimeType": "image/png", "buffer": _picture()}
    )
    _main(page)
    expect(page.locator("main")).to_contain_text("600 × 424 px")
    page.goto(f"{package}issue/")
    page.get_by_role("button", name="Issue revision A").click()
    expect(page.locator("main")).to_contain_text("Receipt number", ignore_case=True)


def _picture() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (600, 424), "white").save(out, "PNG")
    return out.getvalue()


def _judge(page: Page, link: str) -> int:
    """Set an impression, eight levels and two comments, and lock; return the taps."""
    page.goto(link)
    page.get_by_role("link", name="R01").first.tap()
    page.locator("#impression button[value='4']").tap()
    taps = 1
    lines = page.locator("[id^=level-] form")
    for n in range(lines.count()):
        lines.nth(n).locator("button[value='3']").tap()
        taps += 1
    for kind, zone in (("Prove", "C4"), ("Keep", "A1")):
        page.locator(".stub .level-choice", has_text=kind).tap()
        page.locator(".sheet-picks > label", has_text="02").tap()
        page.locator(f".zone-panel:visible button[value='02·{zone}']").tap()
        taps += 3
    expect(page.locator("#own-comments .own-comment")).to_have_count(2)
    page.locator("#own-comments textarea").first.fill("Where does day five go?")
    page.locator("#own-comments").get_by_role("button", name="Save the words").first.tap()
    expect(page.locator("#own-comments")).to_contain_text("Kept")
    page.locator(".thumb-bar button.main").tap()
    expect(page.locator("#locked")).to_be_visible()
    return taps + 1


def test_four_people_go_the_whole_way(
    live_server, open_as, transactional_db, settings, tmp_path, at_a_working_hour
):
    settings.MEDIA_ROOT = tmp_path
    Person.objects.create_user("lena@example.org", "Lena Leader", PASSWORD, opens_studios=True)

    leader = open_as()
    _sign_in(leader, "lena@example.org")
    studio = _open_a_studio(leader)
    crit = _set_a_crit(leader, studio)
    _write_the_brief(leader, studio)
    leader.goto(f"{studio}people/?links=print")
    personal_link = leader.locator("a[href*='/enter/']").first.get_attribute("href")

    student = open_as()
    _fill_a_package(student, personal_link)
    assert Revision.objects.get().letter == "A"

    leader.goto(f"{crit}jurors/links/")
    juror = open_as(820, touch=True)
    assert _judge(juror, leader.locator("a[href*='/j/']").first.get_attribute("href")) == 16
    assert JurySheet.objects.get().is_locked

    student.goto(f"{crit}results/{Revision.objects.get().scheme_id}/")
    assert "Where does day five go" not in student.content()

    leader.goto(f"{crit}table/")
    expect(leader.locator("main")).to_contain_text("3.0")
    leader.goto(f"{crit}release/")
    # a comment without words is named, and the scheme is read before it goes out
    expect(leader.locator("main")).to_contain_text("1 comment released without words")
    leader.get_by_role("link", name="Read the first").click()
    _main(leader)
    leader.locator("[name=words]").fill("Read the comments first.")
    _main(leader)

    student.goto(f"{crit}results/{Revision.objects.get().scheme_id}/")
    for words in ("Read the comments first.", "Where does day five go?", "02·C4", "Worked through"):
        expect(student.locator("main")).to_contain_text(words)
    assert Comment.objects.count() == 2
