"""Addresses for scripts, by version: what is given out stays; another form is another number."""

from collections.abc import Callable

from django.http.response import HttpResponseBase

from reviews.views import scripts, tokens

SCRIPT_ADDRESSES: dict[str, dict[str, Callable[..., HttpResponseBase]]] = {
    "you/tokens/": {
        "": tokens.keep_tokens,
        "<int:token_id>/end/": tokens.end_token,
    },
    "json/1/": {
        "": scripts.tell_start,
        "schema.json": scripts.tell_schema,
        "packages.json": scripts.tell_packages,
        "revisions.json": scripts.tell_revisions,
        "results.json": scripts.tell_all_results,
        "schemes/<int:scheme_id>/package.json": scripts.tell_package,
        "schemes/<int:scheme_id>/check-sheet.json": scripts.tell_checks,
        "revisions/<int:revision_id>/package.json": scripts.tell_issued_package,
        "revisions/<int:revision_id>/check-sheet.json": scripts.tell_issued_checks,
        "crits/<int:crit_id>/results/<int:scheme_id>.json": scripts.tell_results,
    },
}
"""Views by address, as those of `reviews.urls`, which takes them in."""
