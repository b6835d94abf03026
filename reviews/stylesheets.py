"""The stylesheets of every page as one file: a slow line is asked once before a page is painted."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any

from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.files.base import ContentFile
from whitenoise.storage import CompressedManifestStaticFilesStorage

FOLDER = "reviews/css"
SHEETS = (
    *("tokens", "type", "board", "sheet", "foot", "tables"),
    *("marks", "checks", "forms", "voices", "zones", "traced", "jury"),
)
"""In their order, which decides; what a page alone needs it names itself."""

WHOLE = f"{FOLDER}/every-page.css"


class WithOneStylesheet(CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """Collected files, named by their contents, and one that holds what every page needs."""

    def post_process(
        self, paths: dict[str, Any], dry_run: bool = False, **options: Any
    ) -> Iterator[Any]:
        """Write the one file, then name and compress all."""
        parts = [f"{FOLDER}/{sheet}.css" for sheet in SHEETS]
        if not dry_run and paths.keys() >= set(parts):
            self.delete(WHOLE)
            self.save(WHOLE, ContentFile(b"\n".join(map(self._read, parts))))
            paths = {**paths, WHOLE: (self, WHOLE)}
        yield from super().post_process(paths, dry_run, **options)

    def url(self, name: str, force: bool = False) -> str:
        """The address of a file, worked out once: what is collected stays as long as a process."""
        if force or name not in self._addresses:
            self._addresses[name] = super().url(name, force)
        return self._addresses[name]

    @cached_property
    def _addresses(self) -> dict[str, str]:
        return {}

    def _read(self, name: str) -> bytes:
        with self.open(name) as file:
            return bytes(file.read())


def stylesheets() -> list[str]:
    """The addresses of what every page needs: one, where it is collected."""
    collected = getattr(staticfiles_storage, "hashed_files", {})
    names = [WHOLE] if WHOLE in collected else [f"{FOLDER}/{sheet}.css" for sheet in SHEETS]
    return [staticfiles_storage.url(name) for name in names]
