"""What somebody reads who came by the school, or with a passkey, and isn't signed in."""

from __future__ import annotations

from typing import NamedTuple

from reviews.deeds.school_asking import Why


class Words(NamedTuple):
    """A heading, what to do, and the status of the answer."""

    heading: str
    lede: str
    status: int


_AGAIN = "Begin again from the sign-in page; if it happens twice, tell whoever runs the site."

WORDS: dict[Why, Words] = {
    Why.LOST: Words(
        "This sign-in is over",
        "It was begun too long ago, in another browser, or has been used. Begin again from the "
        "sign-in page.",
        400,
    ),
    Why.STOPPED: Words(
        "Not signed in", "The sign-in was stopped at {school}. Nothing was changed here.", 403
    ),
    Why.AWAY: Words(
        "{school} does not answer",
        "Its server can't be reached just now. Wait a minute and try again, or sign in with a "
        "password.",
        503,
    ),
    Why.ODD: Words(
        "The answer from {school} can't be trusted",
        f"It is not what was asked for, so nobody is signed in. {_AGAIN}",
        502,
    ),
    Why.CLOCK: Words(
        "The clocks differ",
        "The answer from {school} is of another time: the clock of its server or of this one is "
        f"off. {_AGAIN}",
        502,
    ),
    Why.UNVERIFIED: Words(
        "Your address is not verified",
        "{school} did not say that your e-mail address is verified, so it leads to no account "
        "here. Have it verified there, or sign in with a password.",
        403,
    ),
    Why.UNKNOWN: Words(
        "Nobody with this address is in a studio",
        "{school} knows you, and no account here has your address. Ask your studio leader to bring "
        "you in by the address that {school} has of you.",
        403,
    ),
    Why.TAKEN: Words(
        "This address belongs to somebody else here",
        "The account with your address was entered by somebody else of {school} before. Nothing "
        "was changed, and whoever runs the site is told: ask them.",
        403,
    ),
}

NO_PASSKEY = Words(
    "This passkey signs nobody in",
    "It isn't kept here (any more), its account is closed, or it was asked for too long ago. Try "
    "again, or sign in another way.",
    403,
)


def words_of(why: Why, school: str) -> Words:
    """What is said of it, with the school's name."""
    heading, lede, status = WORDS[why]
    return Words(heading.format(school=school), lede.format(school=school), status)
