"""Addresses of a brief, of its tables and of each of its parts."""

from collections.abc import Iterable

from reviews.deeds.brief_writing import PARTS
from reviews.package_urls import View
from reviews.views import brief_questions, brief_weather, brief_workbook, briefs, targets

BRIEF_ADDRESSES: dict[str, dict[str, View]] = {
    "studios/<int:studio_id>/brief/weather": {
        "/": brief_weather.edit_weather,
        ".csv": brief_weather.export_weather,
        "/figures/": brief_weather.take_weather_figures,
    },
    "studios/<int:studio_id>/brief/": {
        "": briefs.show_brief,
        "brief.xlsx": briefs.take_brief,
        "workbook/": brief_workbook.bring_brief_in,
        "issue/": briefs.issue_brief,
        "addenda/new/": briefs.add_addendum,
        "questions/": brief_questions.show_brief_questions,
        "questions/ask/": brief_questions.ask_brief_question,
        "questions/<int:question_id>/": brief_questions.answer_brief_question,
        "targets/": targets.edit_targets,
        "targets/set/": targets.add_published_set,
        "targets/<int:line_id>/": targets.save_target,
        "targets/<int:line_id>/remove/": targets.remove_target,
    },
}

PART_ADDRESSES: dict[tuple[str, str], tuple[View, Iterable[str]]] = {
    ("edit", "/"): (briefs.edit_part, briefs.FORMS),
    ("paste", "/paste/"): (briefs.paste_part, briefs.TABLES),
    ("export", ".csv"): (briefs.export_part, briefs.TABLES),
    ("undo", "/undo/"): (briefs.undo_part, PARTS),
}
"""Of each part of a brief: what is done, its address behind the part's, its view, which parts."""
