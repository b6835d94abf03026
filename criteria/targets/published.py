"""What a published set of targets is."""

from dataclasses import dataclass, replace

from criteria.checks.catalogue import CHECKS
from criteria.findings import Rule
from criteria.sources import Citation, Source
from criteria.units import System


@dataclass(frozen=True)
class PublishedTarget:
    """One clause as a target, with its figure as printed in either system [unit of the check].

    own_words   what it is of, where its check's title isn't enough
    """

    key: str
    check: str
    citation: Citation
    own_words: str = ""
    uses: tuple[str, ...] = ()
    rule: Rule = Rule.AT_LEAST
    metric: str = "yes"
    us: str = "yes"
    note: str = ""

    def at_least(self, metric: str, us: str = "") -> "PublishedTarget":
        """Return the target with its lower bound; `us` where US units print another."""
        return replace(self, metric=metric, us=us or metric)

    def at_most(self, metric: str, us: str = "") -> "PublishedTarget":
        """Return the target with its upper bound; `us` where US units print another."""
        return replace(self, rule=Rule.AT_MOST, metric=metric, us=us or metric)

    def all_of_them(self) -> "PublishedTarget":
        """Return the target as one that each thing must meet."""
        return replace(self, rule=Rule.ALL)

    def noting(self, note: str) -> "PublishedTarget":
        """Return the target with what to know when reading it."""
        return replace(self, note=note)

    @property
    def words(self) -> str:
        """What it is of."""
        return self.own_words or CHECKS[self.check].title

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
