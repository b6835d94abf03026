"""What of a studio's other days goes where somebody is made anonymous.

Desk crits and options go with the draft that nobody else draws; when somebody opened an addendum
goes always. Quiet notes, questions, answers and portfolios stay under the new name: others have
read them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from reviews.models import (
    AddendumOpened,
    BriefQuestion,
    Person,
    Portfolio,
    PortfolioItem,
    Scheme,
    Studio,
)


def empty_desk(scheme: Scheme) -> list[tuple[int, None]]:
    """Take out a scheme's desk crits and options; return their photos, for whoever clears them."""
    notes = scheme.desk_crits.exclude(photo=None)
    photos = [(photo, None) for photo in notes.values_list("photo", flat=True)]
    scheme.desk_crits.all().delete()
    scheme.options.all().delete()
    return photos


def forget_opened(person: Person) -> None:
    """Forget when somebody opened which addendum."""
    AddendumOpened.objects.filter(person=person).delete()


def mask_answers(
    studios: Iterable[Studio],
    names: Mapping[str, str],
    masked: Callable[[str, Mapping[str, str]], str],
) -> None:
    """Write new names over old ones where an addition to an answer is signed in its text."""
    answers = BriefQuestion.objects.filter(brief__studio__in=list(studios)).exclude(answer="")
    for question in answers:
        if (without := masked(question.answer, names)) != question.answer:
            BriefQuestion.objects.filter(pk=question.pk).update(answer=without)


def mask_portfolios(
    studios: Iterable[Studio],
    names: Mapping[str, str],
    masked: Callable[[str, Mapping[str, str]], str],
) -> None:
    """Write new names over old ones in the words of portfolios and under their pages."""
    in_studios = list(studios)
    of = Portfolio.objects.filter(scheme__studio__in=in_studios)
    pages = PortfolioItem.objects.filter(portfolio__scheme__studio__in=in_studios)
    for rows, heads in ((of, ("title", "words", "credits")), (pages, ("caption",))):
        for row in rows:
            held = {head: getattr(row, head) for head in heads}
            without = {head: masked(text, names) for head, text in held.items()}
            if without != held:
                title = {"title": without["title"][:120]} if "title" in without else {}
                type(row)._base_manager.filter(pk=row.pk).update(**without | title)
