"""Pages as a reader is shown them, and the parts that this process has kept of pages."""

from django.core.cache import cache
from django.urls import reverse


def shown(client, name, *args, **query):
    answer = client.get(reverse(name, args=args), query)
    assert answer.status_code == 200
    return answer.content.decode()


def kept() -> int:
    return len(cache._cache)
