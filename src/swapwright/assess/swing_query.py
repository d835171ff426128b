"""How far each uncertain input moves a figure of an assessment."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.assess.assessment import Assessment


def shares_moved(assessment: Assessment, figure_id: str) -> Mapping[str, float]:
    """Return the most each uncertain input, alone, moves a figure by, as a share of the figure.

    Empty where there is no such figure or it is not above zero: there is no share of nothing.
    """
    figure = assessment.figures.get(figure_id)
    if figure is None or figure.value.si <= 0.0:
        return {}
    swings = assessment.swings.get(figure_id, {})
    return {path: max(map(abs, ends)) / figure.value.si for path, ends in swings.items()}
