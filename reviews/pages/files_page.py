"""What a package may take rows from: files that are read, files that wait, earlier revisions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib.util import find_spec

from reviews import access_studio
from reviews.access import Viewer
from reviews.exchange.kinds import KINDS, FileKind
from reviews.models import BroughtFile, Package, Revision

MOST_LISTED = 20


@dataclass(frozen=True)
class KindLine:
    """A kind of file, and whether this server reads it."""

    kind: FileKind
    is_read: bool


@dataclass(frozen=True)
class FilesPage:
    """The page where a file is brought in.

    files      those of this package, the latest first
    revisions  whose rows may be taken over
    """

    package: Package
    kinds: Sequence[KindLine]
    files: Sequence[BroughtFile]
    revisions: Sequence[Revision]


def files_page(package: Package, viewer: Viewer) -> FilesPage:
    """Read what the page shows."""
    files = package.brought_files.select_related("by").defer("told")[:MOST_LISTED]
    revisions = access_studio.revisions_to_copy(viewer, package.scheme).select_related("scheme")
    return FilesPage(
        package,
        [KindLine(kind, is_read(kind)) for kind in KINDS],
        list(files),
        list(revisions[:MOST_LISTED]),
    )


def is_read(kind: FileKind) -> bool:
    """Whether the library that a kind needs is installed; it isn't imported here."""
    return not kind.library or find_spec(kind.library) is not None
