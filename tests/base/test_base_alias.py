from __future__ import annotations

import pytest

from swapwright.base.alias import meant_by
from swapwright.base.nearest import nearest

pytestmark = pytest.mark.arithmetic

CAR = ("kerb_mass", "cg_height", "tyres", "driven_axle", "engine_before")


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        ("weight", "kerb_mass"),
        ("Curb Weight", "kerb_mass"),
        ("tires", "tyres"),
        ("RWD", "driven_axle"),
        ("engine", "engine_before"),
        ("wait", ""),
    ],
)
def test_a_word_of_the_trade_is_near_what_a_file_calls_it(given, meant):
    assert nearest(given, CAR) == meant


@pytest.mark.parametrize(
    ("given", "axle"), [("fwd", "front"), ("rwd", "rear"), ("4wd", "all"), ("4x4", "all")]
)
def test_the_driven_axle_is_known_by_its_letters(given, axle):
    assert nearest(given, ("front", "rear", "all")) == axle


def test_a_word_nobody_uses_means_nothing():
    assert meant_by("flux") == ()
