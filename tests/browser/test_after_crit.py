"""The whole way after a crit: locked sheets, moderation, release, appeal, re-crit, next year.

Packages, sheets and levels are there as the crit left them; everything after is done by the pages.
"""

from collections.abc import Callable
from datetime import datetime, time, timedelta
from uuid import uuid4

import pytest
from django.core import mail as outbox
from django.utils import timezone
from playwright.sync_api import Browser, Page, expect

from reviews import clock
from reviews.deeds import crit_jury_keeping, revision_issuing
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.deeds.sheet_keeping import hang_sheet
from reviews.models import Crit, EvidenceBook, Studio
from reviews.places import Place
from reviews.reading.title_block import TitleBlock
from tests import factories
from tests.browser.conftest import broken_rules, sign_in
from tests.conftest import Cast, make_cast

Device = Callable[..., Page]

HAZARD = "One way out of the day room."
KEEP = "The lamp in the ridge."
GROUNDS = "F2 shows two joints, not one."
AGAIN = "Draw the second way out, and no more."


@pytest.fixture
def open_as(browser: Browser, live_server):
    """Devices of their own, as leader, student and jurors have; each fails on an error said."""
    contexts, said = [], []

    def device(width: int = 1280, *, touch: bool = False) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": 1000},
            has_touch=touch,
            base_url=live_server.url,
            service_workers="block",
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(60_000)  # the first page of a process takes its time
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on("console", lambda line: said.append(line.text) if line.type == "error" else None)
        return page

    yield device
    for context in contexts:
        context.close()
    # results before their release aren't there, and the browser says so
    assert [line for line in said if "404" not in line] == []


@pytest.fixture
def judged(transactional_db, settings, tmp_path, at_a_working_hour) -> Cast:
    """Last week's final: revisions A and B of one scheme, A of the other, two jurors' sheets."""
    settings.MEDIA_ROOT = tmp_path
    cast = make_cast()
    cast.crit.day = clock.today() - timedelta(days=7)
    before = datetime.combine(cast.crit.day - timedelta(days=1), time(18))
    cast.crit.pens_down = timezone.make_aware(before)
    cast.crit.kind = Crit.Kind.FINAL
    cast.crit.save()
    _issue(cast)
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    second = factories.SeatFactory(crit=cast.crit, name="Kit Second")
    jo = CommentSent("Hazard", Place("02", "B2"), cast.criterion, HAZARD)
    kit = CommentSent("Keep", Place("02", "C4"), cast.other_criterion, KEEP)
    for seat, levels, said in ((cast.seat, (2, 4), jo), (second, (3, 4), kit)):
        for scheme in (cast.scheme, cast.other_scheme):
            for criterion, level in zip(cast.crit.criteria.all(), levels, strict=True):
                crit_jury_keeping.keep_level(seat, scheme, criterion, level, 0)
        crit_jury_keeping.keep_comment(seat, cast.scheme, uuid4(), said, 0)
        for scheme in (cast.scheme, cast.other_scheme):
            crit_jury_keeping.lock_sheet(seat, scheme)
    return cast


def _issue(cast: Cast) -> None:
    package, at = cast.scheme.package, cast.crit.pens_down
    factories.RowFactory(package=package, changed_by=cast.student)
    cells = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "900", "glass_h": "900"}
    window = factories.RowFactory(
        package=package, schedule="windows", cells=cells, changed_by=cast.student
    )
    for each, by in ((package, cast.student), (cast.other_scheme.package, cast.classmate)):
        hang_sheet(each, factories.SheetFileFactory(), TitleBlock("02", "Plan"), by)
        revision_issuing.issue(each, by, at - timedelta(days=2))
    window.cells = cells | {"glass_w": "1200"}
    window.save()
    revision_issuing.issue(package, cast.student, at - timedelta(hours=1))


def _main(page: Page, name: str) -> None:
    """Press the main button that says so."""
    page.locator("button.main, a.main").get_by_text(name, exact=False).first.click()
    page.wait_for_load_state()


DOUBLED = """() => [...document.querySelectorAll('[id]')].map((each) => each.id)
    .filter((id, n, all) => all.indexOf(id) !== n)"""
"""What has the name of another: a label then leads to the wrong field."""


def _says(page: Page, *words: str) -> None:
    for each in words:
        expect(page.locator("main")).to_contain_text(each)
    assert page.evaluate(DOUBLED) == []


def _link(page: Page, name: str) -> None:
    page.locator("main").get_by_role("link", name=name, exact=False).first.click()
    page.wait_for_load_state()


def _moderate(leader: Page, cast: Cast) -> None:
    """Agree levels of both schemes, one of them to be shown again with one criterion open."""
    leader.goto(f"/crits/{cast.crit.pk}/")
    _link(leader, "Moderation")
    _link(leader, "R01")
    leader.get_by_label("Agreed level of F1 Light").select_option("2")
    leader.get_by_label("Agreed level of F2 Making").select_option("4")
    leader.get_by_label("Verdict").select_option("again")
    leader.get_by_label("F1 Light", exact=True).check()
    leader.get_by_label("In words").fill(AGAIN)
    _main(leader, "Save levels and verdict")
    _says(leader, "Read nothing. Expected why it is 2 where the jurors' mean is 2.50.")
    leader.get_by_label("Why, for F1 Light").fill("Talked through: no second way out is drawn.")
    _main(leader, "Save levels and verdict")
    _says(leader, "Show again: F1 stay open")
    _link(leader, "Back to the table")
    _link(leader, "R02")
    leader.get_by_label("Agreed level of F1 Light").select_option("3")
    leader.get_by_label("Agreed level of F2 Making").select_option("4")
    leader.get_by_label("Verdict").select_option("go-on")
    _main(leader, "Save levels and verdict")
    _says(leader, "Go on")


def _release(leader: Page, crit: Crit, words: str) -> None:
    """Decide what must be, read each scheme as its students will, then release."""
    leader.goto(f"/crits/{crit.pk}/release/")
    if leader.get_by_role("link", name="Decide it").count():
        _link(leader, "Decide it")
        _main(leader, "Read: let this hazard go out")
        _says(leader, "Read by Lena Leader")
        _link(leader, "Release")
    _link(leader, "Read R0")
    while leader.locator(".proof-tick button.main").count():
        _main(leader, "can go out so")
    leader.goto(f"/crits/{crit.pk}/release/")
    leader.get_by_label("The leader's words").fill(words)
    _main(leader, "Release to all students")
    _says(leader, "Who has opened it")


def _answer(student: Page, cast: Cast) -> None:
    """Read the results from the first page on, answer what is asked, allow the letter."""
    student.goto("/")
    student.get_by_role("link", name=f"{cast.crit}").first.click()
    _says(student, HAZARD, KEEP, "Show again", AGAIN, "Roughed out")
    student.get_by_role("button", name="Allow it").click()
    _says(student, "Stef Student allowed it")
    _link(student, "Answers, conversation, appeal")
    hazard = student.locator("article", has_text=HAZARD)
    hazard.get_by_label("Taken up", exact=True).check()
    hazard.get_by_label("Words").fill("A door in the gable.")
    hazard.get_by_label("Place now").fill("02 D6")
    hazard.get_by_role("button", name="Save the answer").click()
    expect(student.locator("article", has_text=HAZARD)).to_contain_text("A door in the gable.")


def _appeal(student: Page, leader: Page, office: Page, cast: Cast) -> None:
    """Made by the student, found on first pages, decided by a coordinator with a correction."""
    _link(student, "Appeal")
    student.get_by_label("A level or a figure was reckoned wrongly").check()
    student.get_by_label("What happened, and what you ask for").fill(GROUNDS)
    _main(student, "Make the appeal")
    _says(student, GROUNDS, "Not decided")
    for page in (leader, office):
        page.goto("/")
        _link(page, "the appeal")
        _says(page, "The trail", GROUNDS)
    _says(leader, "A coordinator decides")
    office.get_by_label("Upheld", exact=True).check()
    office.get_by_label("Reasons").fill("The second joint is on sheet 02.")
    office.get_by_text("Put right with it").click()
    office.get_by_label("Agreed level of F2 Making").select_option("5")
    _main(office, "Decide the appeal")
    _says(office, "Upheld", "The second joint is on sheet 02.")
    student.goto(f"/crits/{cast.crit.pk}/results/{cast.scheme.pk}/")
    _says(student, "The second joint is on sheet 02.")


def _set_a_recrit(leader: Page, cast: Cast) -> Crit:
    """From the crit that it follows: day, cap, who shows again, one original juror and one new."""
    leader.goto(f"/crits/{cast.crit.pk}/release/")
    _link(leader, "Set the re-crit")
    expect(leader.get_by_label("Kind")).to_have_value("re-crit")
    follows = leader.get_by_label("Of a re-crit, the crit that it follows")
    expect(follows).to_have_value(str(cast.crit.pk))
    leader.get_by_label("Day", exact=True).fill(clock.today().isoformat())
    leader.get_by_label("Pens down").fill(f"{clock.today().isoformat()}T23:59")
    leader.get_by_label("Of a re-crit, the highest level").fill("3")
    _main(leader, "Set the crit")
    _link(leader, "Shown again")
    expect(leader.get_by_label("R01 Lee")).to_be_checked()
    expect(leader.get_by_label("R02 Keel")).not_to_be_checked()
    _main(leader, "Save who shows again")
    _link(leader, "Jurors")
    for n, name in enumerate(("Jo Juror", "Nell New")):
        leader.locator("[name$='-name']").nth(n).fill(name)
        leader.locator("[name$='-kind']").nth(n).select_option("visiting")
    _main(leader, "Save the jurors")
    return Crit.objects.get(follows=cast.crit)


def _issue_c(student: Page, cast: Cast) -> None:
    """Read what is asked for, widen the window until its target is met, issue revision C."""
    student.goto("/")
    _link(student, "What to show again")
    _says(student, AGAIN, HAZARD, "A door in the gable.", "F1 Light", "to 3 at most")
    _link(student, "Package: draw, type and issue")
    student.goto(f"/schemes/{cast.scheme.pk}/schedules/windows/")
    student.locator("[id^=row-] [name=cell-n]").first.fill("3")
    student.locator("h1").click()
    expect(student.locator("#tally")).to_contain_text("1 → 3")
    student.get_by_role("link", name="Package").first.click()
    _link(student, "Issue revision C")
    _main(student, "Issue revision C")
    _says(student, "Receipt number")


def _judge_again(juror: Page, link: str, level: int) -> None:
    """What was said and what became of it; one tap, one level, locked."""
    juror.goto(link)
    juror.get_by_role("link", name="R01").first.tap()
    _says(juror, AGAIN, HAZARD, "A door in the gable.", "what changed since revision B")
    expect(juror.locator("main")).not_to_contain_text(KEEP)
    juror.get_by_role("button", name="Closed", exact=True).tap()
    expect(juror.locator(".second-look")).to_contain_text("ept ")
    juror.locator(f"[id^=level-] button[value='{level}']").tap()
    expect(juror.locator("[id^=level-] [data-kept]")).to_contain_text("ept ")
    juror.locator(".thumb-bar button.main").tap()
    expect(juror.locator("#locked")).to_be_visible()


def _close(leader: Page, recrit: Crit, cast: Cast) -> None:
    """Before and after side by side; what both jurors say is closed, is."""
    leader.goto(f"/crits/{recrit.pk}/again/")
    _link(leader, "Before and after")
    _says(leader, "2 of 2 say closed", "capped at 3")
    expect(leader.locator("[name$=-said]")).to_have_value("closed")
    leader.get_by_label("Words to its students").fill("The gable door does it.")
    _main(leader, "Save the decisions")
    _says(leader, "Closed Lena Leader")


def _write_to_jurors(leader: Page, cast: Cast) -> None:
    leader.goto(f"/crits/{cast.crit.pk}/")
    _link(leader, "Letters to jurors")
    _link(leader, "Read before it goes")
    _says(leader, HAZARD, "A door in the gable.", "Closed", "now meets")
    _link(leader, "All letters")
    _main(leader, "Send 2 letters")
    _says(leader, "No letter waits to be sent.")
    (letter,) = [each for each in outbox.outbox if "became of your remarks" in each.subject]
    assert letter.to == ["jo@example.org"]
    assert "A door in the gable." in letter.body


def _freeze_a_book(leader: Page, cast: Cast) -> None:
    leader.goto(f"/studios/{cast.studio.pk}/")
    _link(leader, "Evidence")
    _link(leader, "Make an evidence book")
    leader.get_by_label("Title").fill("Ridge, for visitors")
    leader.get_by_label("Schemes").select_option("all")
    _main(leader, "Make the book")
    _says(leader, "Frozen", EvidenceBook.objects.get().receipt)
    _link(leader, "R01")
    _says(leader, HAZARD, "A door in the gable.", "The second joint is on sheet 02.")
    _says(leader, "before Roughed out, after Worked through. Judged Resolved; capped at")


def _carry(leader: Page, cast: Cast) -> Studio:
    leader.goto(f"/studios/{cast.studio.pk}/")
    _link(leader, "Open next year’s from it")
    leader.get_by_label("Cohort").fill("cohort U, next autumn")
    day = cast.crit.day + timedelta(days=365)
    leader.locator(f"[name=day_{cast.crit.pk}]").fill(day.isoformat())
    leader.locator(f"[name=pens_{cast.crit.pk}]").fill(f"{day - timedelta(days=1)}T18:00")
    _main(leader, "Open the studio")
    _says(leader, "cohort U, next autumn", "In preparation", cast.studio.brief.text)
    _says(leader, "Day room daylight ratio", "0 of 2 met", "Last year is Ridge, cohort T")
    return Studio.objects.get(follows=cast.studio)


def test_the_way_from_locked_sheets_to_next_years_brief(open_as: Device, live_server, judged):
    cast = judged
    leader, student, office = open_as(), open_as(390), open_as()
    for page, who in ((leader, cast.leader), (student, cast.student), (office, cast.coordinator)):
        sign_in(page, cast, who, live_server.url)
    results = f"/crits/{cast.crit.pk}/results/{cast.scheme.pk}/"

    _moderate(leader, cast)
    assert broken_rules(leader) == []
    for address in ("/", results, f"/crits/{cast.crit.pk}/"):
        student.goto(address)
        for words in (HAZARD, KEEP, AGAIN, "Show again"):
            assert words not in student.content(), address

    _release(leader, cast.crit, "Read the hazard first.")
    _answer(student, cast)
    assert broken_rules(student) == []
    _appeal(student, leader, office, cast)

    recrit = _set_a_recrit(leader, cast)
    _issue_c(student, cast)
    leader.goto(f"/crits/{recrit.pk}/jurors/links/")
    links = [link.get_attribute("href") for link in leader.locator("a[href*='/j/']").all()]
    jurors = [open_as(820, touch=True) for _ in links]
    for juror, link in zip(jurors, links, strict=True):
        _judge_again(juror, link, 4)
    assert broken_rules(jurors[0]) == []
    _close(leader, recrit, cast)
    student.goto(f"/schemes/{cast.scheme.pk}/again/")
    assert "The gable door does it." not in student.content()
    _release(leader, recrit, "Closed, and well drawn.")
    student.goto("/")
    student.get_by_role("link", name=f"{recrit}").first.click()
    _says(student, "The gable door does it.", "capped at Worked through", "Closed")
    student.goto(results)
    _says(student, "Roughed out")

    _write_to_jurors(leader, cast)
    _freeze_a_book(leader, cast)
    new = _carry(leader, cast)
    assert not new.brief.is_issued
