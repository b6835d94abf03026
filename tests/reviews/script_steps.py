"""What a script does: it asks by a token, and holds the answer to the printed schema."""

import json

from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from criteria.command.schema import package_schema
from reviews.deeds import token_keeping
from reviews.models import (
    Person,
)
from tests.json_schema_check import broken

SCHEMA = package_schema()["$defs"]


def by_token(person: Person, name: str = "laptop") -> dict[str, str]:
    """The head by which a person's script asks."""
    return {"Authorization": f"Bearer {token_keeping.make(person, name)}"}


def told(answer: HttpResponse, part: str) -> dict:
    """An answer, held to the part of the schema that it says describes it."""
    assert answer.status_code == 200
    made = json.loads(answer.content)
    assert list(broken(made, SCHEMA[part])) == []
    assert f"#/$defs/{part}>" in answer["Link"]
    return made


def problem(answer: HttpResponse) -> dict:
    made = json.loads(answer.content)
    assert answer["Content-Type"] == "application/problem+json"
    assert list(broken(made, SCHEMA["problem"])) == []
    assert made["status"] == answer.status_code
    return made


def get(name: str, *args: object, head: dict[str, str], **more: str) -> HttpResponse:
    return Client().get(reverse(name, args=args), headers={**head, **more})
