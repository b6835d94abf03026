"""What a published set of targets is."""

from dataclasses import dataclass

from criteria.findings import Rule
from criteria.sources import Citation, Source
from criteria.units import System


@dataclass(frozen=True, kw_only=True)
class PublishedTarget:
    """One clause as a target, with its figure as printed in either system [unit of the check]."""

    key: str
    words: str
    check: str
    metric: str
    us: str
    citation: Citation
    uses: tuple[str, ...] = ()
    rule: Rule = Rule.AT_LEAST
    note: str = ""

    def figure(self, system: System) -> str:
        """Return the printed figure of a system, with its unit."""
        return self.us if system is System.US else self.metric


@dataclass(frozen=True, kw_only=True)
class PublishedSet:
    """A publication's figures that the checks can answer."""

    slug: str
    title: str
    source: Source
    targets: tuple[PublishedTarget, ...]

    @property
    def caution(self) -> str:
        """Whom it binds, and that this is no approval."""
        return f"{self.source} binds {self.source.binds}. A teaching check, not a code approval."
