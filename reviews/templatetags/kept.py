"""A part of a page that a process keeps by the fingerprint of all that it shows."""

from __future__ import annotations

from collections.abc import Sequence
from secrets import token_hex

from django import template
from django.core.cache import cache
from django.template.base import FilterExpression, NodeList, Parser, Token
from django.utils.safestring import SafeString, mark_safe

register = template.Library()

TOKEN = f"token-{token_hex(16)}"
"""Stands for a reader's own token in the forms of a kept part; nobody can know and type it."""


class Kept(template.Node):
    """Shows again what it showed under the same fingerprint; without one, nothing is kept."""

    def __init__(self, name: str, told: Sequence[FilterExpression], nodelist: NodeList) -> None:
        self.name, self.told, self.nodelist = name, told, nodelist

    def render(self, context: template.Context) -> SafeString:
        told = [each.resolve(context, ignore_failures=True) for each in self.told]
        if not told[0]:
            return mark_safe(self.nodelist.render(context))
        key = ":".join(map(str, (self.name, *told)))
        part: str | None = cache.get(key)
        if part is None:
            with context.push(csrf_token=TOKEN):
                part = self.nodelist.render(context)
            cache.set(key, part, None)
        return mark_safe(part.replace(TOKEN, str(context.get("csrf_token", ""))))


@register.tag
def kept(parser: Parser, token: Token) -> Kept:
    """Keep what stands before endkept: `{% kept levels page.fingerprint scheme.pk %}`."""
    name, *told = token.split_contents()[1:]
    nodelist = parser.parse(("endkept",))
    parser.delete_first_token()
    return Kept(name, [parser.compile_filter(each) for each in told], nodelist)
