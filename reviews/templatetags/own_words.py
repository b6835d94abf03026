"""Our own sentences in a reader's units."""

from django import template

from criteria.own_words import in_si, in_units

register = template.Library()
register.filter("in_units", in_units)
register.simple_tag(in_si)
