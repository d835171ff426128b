"""12 V."""

from __future__ import annotations

from swapwright.assess.context import Rule

RULES: tuple[Rule, ...] = ()
