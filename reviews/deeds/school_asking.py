"""Ask the school who somebody is, by OpenID Connect: the way there, and what comes back.

The library keeps the state, proves by PKCE that the code is ours, and takes it to the school. What
it leaves open is closed here: a nonce binds the token to this browser; the token's signature is
read with the school's keys whichever way it came, by none but the kinds named; issuer, audience
and times are held to; what the user page says counts only of the same subject. No token is kept.
"""

from __future__ import annotations

import logging
import re
import secrets
from enum import Enum, auto
from time import monotonic
from typing import Any, NamedTuple

import jwt
import requests
from allauth.socialaccount.adapter import get_adapter
from allauth.socialaccount.internal import statekit
from allauth.socialaccount.models import SocialApp
from allauth.socialaccount.providers.oauth2.client import OAuth2Error
from allauth.socialaccount.providers.openid_connect.provider import OpenIDConnectProvider
from allauth.socialaccount.providers.openid_connect.views import OpenIDConnectOAuth2Adapter
from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.http import HttpRequest
from django.urls import reverse
from django.utils.crypto import constant_time_compare

LOG = logging.getLogger(__name__)

SIGNED_BY = (
    *("RS256", "RS384", "RS512", "PS256", "PS384", "PS512"),
    *("ES256", "ES384", "ES512", "EdDSA"),
)
"""Kinds of signature that are read: each by a key that the school alone has."""
LEEWAY_S = 60
"""How far the clocks of school and site may differ [s]."""
KEPT_S, AWAY_S = 600, 10
"""How long a server's configuration is kept, and for how long one that is away isn't asked [s]."""
MOST_SUBJECT = 191


class Why(Enum):
    """Why somebody who comes by the school isn't signed in."""

    LOST = auto()
    STOPPED = auto()
    AWAY = auto()
    ODD = auto()
    CLOCK = auto()
    UNVERIFIED = auto()
    UNKNOWN = auto()
    TAKEN = auto()


class NotSignedIn(Exception):
    """Somebody isn't signed in by the school; why, and what the log alone is told of it."""

    def __init__(self, why: Why, logged: str = "") -> None:
        super().__init__(why)
        self.why = why
        if logged:
            LOG.warning("Sign-in through the school: %s", logged)


class Told(NamedTuple):
    """What the school says of somebody: a subject that never changes, an address that may.

    email   blank where there is none, or where the school doesn't say that it is verified
    next    where they were going, as it was kept here
    """

    issuer: str
    subject: str
    email: str
    next: str


_found: dict[str, tuple[float, dict[str, Any] | None]] = {}


class SchoolProvider(OpenIDConnectProvider):  # type: ignore[misc]
    """The school of the settings; none stands in the database."""

    def get_oauth2_adapter(self, request: HttpRequest) -> SchoolAdapter:
        return SchoolAdapter(request)


class SchoolAdapter(OpenIDConnectOAuth2Adapter):  # type: ignore[misc]
    """How this site speaks with the school's server."""

    def __init__(self, request: HttpRequest) -> None:
        super().__init__(request, settings.SCHOOL.server)

    def get_provider(self) -> SchoolProvider:
        school = settings.SCHOOL
        more = {"server_url": school.server, "oauth_pkce_enabled": True}
        app = SocialApp(
            provider=SchoolProvider.id,
            provider_id=school.server,
            name=school.name,
            client_id=school.client,
            secret=school.secret,
            settings={**more, "scope": ["openid", "email"]},
        )
        return SchoolProvider(self.request, app=app)

    @property
    def openid_config(self) -> dict[str, Any]:
        return _configuration(settings.SCHOOL.server)

    @property
    def basic_auth(self) -> bool:
        ways = self.openid_config.get("token_endpoint_auth_methods_supported")
        return "client_secret_post" not in (ways or ("client_secret_basic",))

    def get_callback_url(self, request: HttpRequest, app: SocialApp) -> str:
        return request.build_absolute_uri(reverse("come-from-school"))


def way_there(request: HttpRequest, onward: str) -> str:
    """The address at the school to which a browser goes; what must come back is kept here."""
    nonce = secrets.token_urlsafe(24)
    sent = (
        SchoolAdapter(request)
        .get_provider()
        .redirect(request, "login", next_url=onward, auth_params={"nonce": nonce}, nonce=nonce)
    )
    return str(sent.url)


def what_came(request: HttpRequest) -> Told:
    """What the school says of whoever comes back. Raises NotSignedIn."""
    adapter = SchoolAdapter(request)
    provider = adapter.get_provider()
    kept = statekit.unstash_state(
        request, provider_id=provider.sub_id, state_id=request.GET.get("state", "")
    )
    if kept is None:
        raise NotSignedIn(Why.LOST)
    if "code" not in request.GET:
        raise _refused_there(request.GET.get("error", ""))
    server = adapter.openid_config
    if request.GET.get("iss", server["issuer"]) != server["issuer"]:
        raise NotSignedIn(Why.ODD, "the answer names another issuer")
    try:
        client = adapter.get_client(request, provider.app)
        given = adapter.get_access_token_data(request, None, client, kept["pkce_code_verifier"])
        claims = _verified(given["id_token"], server, kept["nonce"])
        if "email" not in claims and (page := server.get("userinfo_endpoint")):
            said = _asked(page, Authorization=f"Bearer {given['access_token']}")
            if said.get("sub") == claims["sub"]:
                claims |= {head: said.get(head) for head in ("email", "email_verified")}
    except (jwt.ExpiredSignatureError, jwt.ImmatureSignatureError) as fault:
        raise NotSignedIn(Why.CLOCK, f"{fault}; the two clocks may differ") from None
    except requests.RequestException as fault:
        raise NotSignedIn(Why.AWAY, f"no answer ({type(fault).__name__})") from None
    except (OAuth2Error, jwt.PyJWTError, KeyError, TypeError, ValueError, AttributeError) as fault:
        raise NotSignedIn(Why.ODD, _safely(fault)) from None
    return Told(server["issuer"], _subject(claims), _address(claims), kept.get("next") or "/")


def _refused_there(error: str) -> NotSignedIn:
    """What an answer without a code means: RFC 6749, 4.1.2.1."""
    if error == "access_denied":
        return NotSignedIn(Why.STOPPED)
    is_away = error in ("temporarily_unavailable", "server_error")
    return NotSignedIn(Why.AWAY if is_away else Why.ODD, f"the school says {error[:60]!r}")


def _configuration(server: str) -> dict[str, Any]:
    """How a server is spoken with; kept for a while, and so is that it is away."""
    until, found = _found.get(server, (0.0, None))
    if monotonic() > until:
        try:
            found = _sound(server, _asked(f"{server.rstrip('/')}/.well-known/openid-configuration"))
        except requests.RequestException as fault:
            found = None
            LOG.warning("Sign-in through the school: no answer (%s)", type(fault).__name__)
        _found[server] = (monotonic() + (AWAY_S if found is None else KEPT_S), found)
    if found is None:
        raise NotSignedIn(Why.AWAY)
    return found


def _sound(server: str, said: dict[str, Any]) -> dict[str, Any]:
    """The same, where it is of that server alone and every address as safe as its own."""
    needed = ("issuer", "authorization_endpoint", "token_endpoint", "jwks_uri")
    asked = [str(said.get(head)) for head in needed] + [str(said.get("userinfo_endpoint", server))]
    safe = ("https://",) if server.startswith("https://") else ("https://", "http://")
    if not all(each.startswith(safe) for each in asked):
        raise NotSignedIn(Why.ODD, "its configuration lacks an address, or has an unsafe one")
    if asked[0].rstrip("/") != server.rstrip("/"):
        raise NotSignedIn(Why.ODD, f"its configuration is of {asked[0][:200]!r}")
    return said


def _asked(address: str, **heads: str) -> dict[str, Any]:
    """What an address of the school says, as JSON."""
    with get_adapter().get_requests_session() as session:
        answer = session.get(address, headers=heads)
        answer.raise_for_status()
        said = answer.json()
    if not isinstance(said, dict):
        raise requests.exceptions.InvalidJSONError
    return said


def _verified(token: str, server: dict[str, Any], nonce: str) -> dict[str, Any]:
    """The claims of a token that the school signed for this site and this sign-in."""
    kid = jwt.get_unverified_header(token).get("kid")
    keys = jwt.PyJWKSet.from_dict(_asked(server["jwks_uri"])).keys
    key = next((key for key in keys if kid is None or key.key_id == kid), None)
    if key is None:
        raise jwt.InvalidKeyError("no key of the school's has this token's name")
    ours = settings.SCHOOL.client
    claims = jwt.decode(
        token,
        key,
        algorithms=SIGNED_BY,
        audience=ours,
        issuer=server["issuer"],
        leeway=LEEWAY_S,
        options={"require": ["iss", "sub", "aud", "exp", "iat"]},
    )
    if not constant_time_compare(str(claims.get("nonce")), nonce):
        raise jwt.InvalidTokenError("it was made for another sign-in")
    if claims.get("azp", ours) != ours:
        raise jwt.InvalidAudienceError("it was made for another site")
    return claims


def _subject(claims: dict[str, Any]) -> str:
    subject = str(claims["sub"])
    if not 0 < len(subject) <= MOST_SUBJECT or not subject.isprintable():
        raise NotSignedIn(Why.ODD, f"a subject of {len(subject)} signs; {MOST_SUBJECT} are kept")
    return subject


def _address(claims: dict[str, Any]) -> str:
    """An address that the school says is verified, else nothing."""
    try:
        validate_email(email := str(claims.get("email") or ""))
    except ValidationError:
        return ""
    return email if str(claims.get("email_verified")).lower() == "true" else ""


def _safely(fault: Exception) -> str:
    """A fault in words for the log; of an answer at length the error's name alone."""
    if isinstance(fault, OAuth2Error):
        named = re.search(r'"error"\s*:\s*"([\w.-]{1,60})"', str(fault))
        return f"it gave no token ({named[1] if named else 'and names no error'})"
    return f"{type(fault).__name__}: {str(fault)[:200]}"
