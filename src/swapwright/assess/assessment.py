"""What a solve returns: every figure, finding and curve of one revision."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swapwright.base.curve import Curve
from swapwright.base.figure import Figure
from swapwright.base.finding import Finding, Verdict

SCHEMA_VERSION = 1


@dataclass(frozen=True)
class Assessment:
    """All figures, findings and curves of one revision.

    ``missing`` gives, for each figure that could not be made, the build paths that would give it;
    ``swings`` gives, for each banded figure, what each uncertain input does to it at its low and
    high end, SI; ``skipped`` names rules and systems not judged, and why; ``rules_run`` counts the
    rules.
    """

    schema_version: int
    revision: str
    region: str
    data_version: str
    name: str
    figures: Mapping[str, Figure]
    missing: Mapping[str, tuple[str, ...]]
    findings: tuple[Finding, ...]
    curves: Mapping[str, Curve]
    swings: Mapping[str, Mapping[str, tuple[float, float]]]
    assumed: tuple[str, ...]
    skipped: tuple[str, ...]
    rules_run: int

    def count(self, verdict: Verdict) -> int:
        """Return how many findings have a verdict."""
        return sum(finding.verdict == verdict for finding in self.findings)
