"""Every hostile file read by the process that the site starts, with its limits on time and memory.

    python -m tests.benchmarks.hostile_files [WORD]

Those of the tests whose name holds the word, and some that the limits alone end: each says what
became of it, and what it took. Ends with an error where one isn't refused that should be, or where
a file is left behind. Not collected by pytest.
"""

import os
import sys
import tempfile
from pathlib import Path

from django.conf import settings

from tests.reviews.hostile_files import PLAIN, REFUSED, page

TILING = (
    b"/Resources<</Pattern<</P 5 0 R>>>>",
    b"<</PatternType 1/PaintType 1/TilingType 1/BBox[0 0 1 1]/XStep .001/YStep .001/Resources<<>>"
    b"/Length 10>>\nstream\n0 0 1 1 re\nendstream",
)
ENDED = {
    "a page of 400,000 clear fills": lambda: page(
        b"/G gs " + b"0 0 300 200 re f " * 400_000,
        b"0 0 14000 14000",
        b"/Resources<</ExtGState<</G<</ca .5/BM/Luminosity>>>>>>",
    ),
    "a pattern of a thousandth of a point": lambda: page(
        b"/Pattern cs /P scn 0 0 300 200 re f", b"0 0 300 200", *TILING
    ),
}
"""What takes the processor: ended by its limit, or drawn within it."""


def main(word: str) -> int:
    """Print what becomes of each; return how many became something else."""
    from criteria.errors import Refused
    from reviews.deeds.sheet_uploads import Unfinished, at_hand, pages_of

    wrong = 0
    for name, make in {**REFUSED, **PLAIN, **ENDED}.items():
        if word not in name:
            continue
        path = Path(settings.MEDIA_ROOT, "a file")
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(make())
        with path.open("rb") as file, at_hand(file, name) as sent:
            try:
                became = read_page(sent, bool(pages_of(sent)))
            except Refused as refused:
                became = f"refused: {refused.read}"
            except Unfinished:
                became = "refused: not read in its time"
        is_left = any(Path(settings.MEDIA_ROOT, "work").iterdir())
        is_wrong = is_left or (
            (name in REFUSED) != became.startswith("refused") and name not in ENDED
        )
        wrong += is_wrong
        print(f"{'WRONG ' if is_wrong else ''}{name}: {became}", flush=True)
    return wrong


def read_page(sent, is_pdf: bool) -> str:
    """What a picture, or the first page of a PDF, becomes; raises Refused."""
    from reviews.deeds import sheet_uploads

    made = [str(sent.path.with_name(each)) for each in ("image", "preview", "small")]
    asked = ["page", str(sent.path), "1"] if is_pdf else ["plain", str(sent.path)]
    reader = sheet_uploads.PDF if is_pdf else sheet_uploads.PICTURE
    told = sheet_uploads.read_apart(
        sent.name, reader, [*asked, *made], sheet_uploads.LONGEST_WAIT_S
    )
    return f"{told['width']} × {told['height']} px"


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {
            "MUNTIN_DATA_DIR": folder,
            "MUNTIN_SECRET_KEY": "for this run alone; " * 3,
            "DJANGO_SETTINGS_MODULE": "reviews.settings",
            "MUNTIN_DEBUG": "yes",
            "DATABASE_URL": "",
        }
        import django

        django.setup()
        sys.exit(min(main("".join(sys.argv[1:2])), 1))
