"""Fields of a schedule's cells: hundreds stand on a page, so each is written at once."""

from __future__ import annotations

from urllib.parse import urlencode

from django import template
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from criteria.typed.columns import Kind
from reviews.pages.schedule_cells import Cell
from reviews.pages.schedule_page import Line

register = template.Library()


@register.simple_tag
def control(cell: Cell, form_id: str, called: str) -> SafeString:
    """The field of a cell with what is said beneath it."""
    return mark_safe(_field(cell, form_id, called) + _refusal(cell) + _beneath(cell))


def _field(cell: Cell, form_id: str, called: str) -> str:
    """The field of a cell: chosen where its texts are few."""
    which = f'name="{cell.name}" id="{escape(cell.id)}" form="{form_id}"'
    said = f'aria-label="{escape(called)}, {escape(cell.column.label)}"'
    said += f' aria-describedby="{escape(cell.described_by)}"'
    if _is_bad(cell):
        said += ' aria-invalid="true"'
    return (_select if cell.options else _input)(cell, which, said)


@register.simple_tag
def cells(line: Line, form_id: str, here: int) -> SafeString:
    """The cells of a row, its mark first; the mark of the row that somebody came for is `here`.

    Why one can't be read stands in the width of the row, beneath them all (`refusals`).
    """
    called, written = line.called, []
    for n, cell in enumerate(line.cells):
        tag = "td" if n else 'th scope="row"'
        named = (
            "num" * cell.column.is_number,
            "refused" * _is_bad(cell),
            "changed" * _differs(cell),
        )
        by_state = "" if n or not line.in_states or line.in_states.differs else _by_state(line)
        place = ' id="here"' if not n and line.pk and line.pk == here else ""
        written.append(
            f'<{tag} class="{" ".join(filter(None, named))}" data-part="{cell.name}"{place}>'
            f"{_field(cell, form_id, called)}{'' if _is_bad(cell) else _refusal(cell)}"
            f"{_beneath(cell)}{by_state}</{tag[:2]}>\n    "
        )
    return mark_safe("".join(written))


@register.simple_tag
def refusals(line: Line) -> SafeString:
    """Why cells of a row can't be read, one beneath another."""
    said = (
        f'<p class="refusal" id="{escape(cell.id)}-note"><strong>{escape(cell.column.label)}'
        f"</strong> {escape(cell.refused)}</p>"
        for cell in line.cells
        if _is_bad(cell)
    )
    return mark_safe("".join(said))


def _is_bad(cell: Cell) -> bool:
    return bool(cell.refused) and not cell.is_blank


def _differs(cell: Cell) -> bool:
    return cell.kept is not None


def _by_state(line: Line) -> str:
    """The way to say what differs of a row in a state, where none says anything yet."""
    said = line.in_states
    assert said
    query = urlencode({"key": said.mark})
    return (
        f'<a class="note no-print" href="../{said.slug}/?{query}#row-new">by state'
        f'<span class="visually-hidden">, {escape(said.mark)}</span></a>'
    )


def _select(cell: Cell, which: str, said: str) -> str:
    blank = f'<option value=""{"" if cell.text else " selected"}></option>'
    known = "".join(_option(text, shown, cell.text) for text, shown in cell.options)
    return f"<select {which} {said}>{blank}{known}</select>"


def _option(text: str, shown: str, now: str) -> str:
    value = "" if text == shown else f' value="{escape(text)}"'
    return f"<option{value}{' selected' if text == now else ''}>{escape(shown)}</option>"


def _input(cell: Cell, which: str, said: str) -> str:
    grey = f' placeholder="{escape(cell.placeholder)}"' if cell.placeholder else ""
    number = ' class="num"' if cell.column.is_number else ""
    as_typed = "" if cell.column.kind is Kind.TEXT else ' autocapitalize="off" autocorrect="off"'
    return (
        f'<input type="text" {which} value="{escape(cell.text)}" {said} autocomplete="off" '
        f'spellcheck="false"{as_typed}{number}{grey}>'
    )


def _refusal(cell: Cell) -> str:
    tone = "quiet" if cell.is_blank else "refusal"
    return _note(cell, tone, cell.refused) if cell.refused else ""


def _note(cell: Cell, tone: str, words: str) -> str:
    return f'<span class="note {tone}" id="{escape(cell.id)}-note">{escape(words)}</span>'


def _beneath(cell: Cell) -> str:
    said = _note(cell, "beneath", cell.beneath) if cell.beneath and not cell.refused else ""
    if _differs(cell):
        said += f'<span class="note stands">Kept: {escape(cell.kept or "blank")}</span>'
    return said
