"""Slow the guessing of passwords: refuse by account and address together, delay by account alone.

Whoever fails ten times at an account from one address waits a quarter of an hour there, and
nobody elsewhere does. Where an account is tried from many addresses, each try waits, 30 s at most,
and is never refused: so nobody can lock another out. An account that isn't there is answered the
same. Failures are kept in the database, so that all processes know of them.
"""

from __future__ import annotations

from datetime import timedelta
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from math import ceil
from typing import Any

from axes.models import AccessAttempt
from django.conf import settings
from django.db.models import Sum
from django.http import HttpRequest
from django.utils import timezone

FREE, LONGEST_S = 10, 30
REMEMBERED: timedelta = settings.AXES_COOLOFF_TIME
UNKNOWN = "0.0.0.0"
_ENDLESS = 10**9
_WAIT_KEY = "sign-in-waits"


def client_address(request: HttpRequest) -> str:
    """Whence somebody asks: of IPv6 the network, which one household or attacker has whole.

    Where the settings declare a header, that alone is believed, and of it the last address, which
    the front server itself wrote; else the connection, of which our own server says what a front
    server wrote. The machine's own address is a front server's that says nothing.
    """
    header = settings.CLIENT_HEADER.upper().replace("-", "_")
    named = request.META.get(f"HTTP_{header}" if header else "REMOTE_ADDR", "")
    try:
        address: IPv4Address | IPv6Address = ip_address(named.rpartition(",")[2].strip())
    except ValueError:
        return UNKNOWN
    if address.is_loopback:
        return UNKNOWN
    if isinstance(address, IPv6Address):
        network = ip_network((address, 64), strict=False)
        return str(address.ipv4_mapped or network.network_address)
    return str(address)


def account_named(request: HttpRequest, credentials: dict[str, Any] | None) -> str:
    """The account that is tried, however it is capitalised, whether or not there is one."""
    return str((credentials or {}).get("username") or "").strip().lower()


def most_failures(request: HttpRequest, credentials: dict[str, Any] | None) -> int:
    """How often one address may fail at one account: without end where it isn't known."""
    return _ENDLESS if client_address(request) == UNKNOWN else FREE


def delay_s(email: str, whence: str = UNKNOWN) -> int:
    """How long each try at an account waits [s], by its failures of late from other addresses."""
    of_late = AccessAttempt.objects.filter(
        username=email.strip().lower(), attempt_time__gte=timezone.now() - REMEMBERED
    )
    if whence != UNKNOWN:
        of_late = of_late.exclude(ip_address=whence)
    failures = of_late.aggregate(n=Sum("failures_since_start"))["n"] or 0
    return 0 if failures < FREE else int(min(LONGEST_S, 2 ** min(failures - FREE + 1, 9)))


def still_waits_s(request: HttpRequest, email: str) -> int:
    """How long a browser has still to wait [s]; each try takes up what was waited for it.

    No thread waits with it: the browser is told, and asks again.
    """
    delay, session = delay_s(email, client_address(request)), request.session
    if not delay:
        return 0
    now = timezone.now().timestamp()
    account, until = session.get(_WAIT_KEY, ("", 0.0))
    is_asked = account == email
    left = ceil(min(until - now, LONGEST_S)) if is_asked else delay
    if not is_asked or left <= 0:
        session[_WAIT_KEY] = (email, now + delay)
    return max(0, left)
