from __future__ import annotations

import pytest

from swapwright.base.nearest import nearest

pytestmark = pytest.mark.arithmetic
KEYS = ("kerb_mass", "wheelbase", "cd_a", "c_rr")


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        ("kerbmass", "kerb_mass"),
        ("KERB_MASS", "kerb_mass"),
        (" wheelbse ", "wheelbase"),
        ("cd-a", "cd_a"),
        ("colour", ""),
        ("", ""),
        ("x" * 10_000, ""),
    ],
)
def test_a_slip_of_the_pen_is_told_what_was_likely_meant(given, meant):
    assert nearest(given, KEYS) == meant


def test_with_nothing_to_choose_from_nothing_is_near():
    assert nearest("kerb_mass", ()) == ""
