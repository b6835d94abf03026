"""What every page needs is one file once it is collected, in the order of its parts."""

import re

from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.management import call_command
from django.urls import reverse

from reviews.stylesheets import FOLDER, SHEETS, stylesheets


def test_a_page_asks_for_one_stylesheet_that_holds_all(settings, tmp_path, client, db):
    backend = {"BACKEND": "reviews.stylesheets.WithOneStylesheet"}
    settings.STATIC_ROOT = tmp_path
    settings.STORAGES = {**settings.STORAGES, "staticfiles": backend}
    for _ in range(2):  # collected again, nothing is held twice
        call_command("collectstatic", interactive=False, verbosity=0)
    (address,) = stylesheets()
    assert re.fullmatch(r"/static/reviews/css/every-page\.[0-9a-f]{12}\.css", address)
    page = client.get(reverse("sign-in")).content.decode()
    asked = re.findall(r'<link rel="stylesheet" href="([^"]+)">', page)
    assert asked[0] == address
    assert not [each for each in asked[1:] if re.search(rf"/({'|'.join(SHEETS)})\.", each)]
    whole = (tmp_path / address.removeprefix("/static/")).read_text()
    ends = [0]
    for sheet in SHEETS:
        part = (tmp_path / staticfiles_storage.stored_name(f"{FOLDER}/{sheet}.css")).read_text()
        assert whole.count(part) == 1
        ends.append(whole.index(part))
    assert ends[1:] == sorted(ends[1:])
    fonts = re.findall(r'url\("\.\./fonts/([^"]+)"\)', whole)
    assert fonts
    assert all((tmp_path / "reviews/fonts" / font).exists() for font in fonts)


def test_before_that_a_page_asks_for_each():
    assert [address.split("/")[-1] for address in stylesheets()] == [f"{s}.css" for s in SHEETS]
