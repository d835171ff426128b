"""How a person wants pages: units, world, paper; kept in a cookie, nowhere else."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from swapwright.base.display import PROFILES, WORLDS

THEMES = ("auto", "light", "dark")
COOKIE = "swapwright"


@dataclass(frozen=True)
class Settings:
    """The units (empty: those of the car's region), the world numbers are told in, the paper."""

    units: str = ""
    world: str = "electric"
    theme: str = "auto"

    def profile(self, region: str) -> str:
        """Return the units to show for a car of a region."""
        return self.units or {"US": "us", "UK": "uk"}.get(region, "metric")

    def with_choice(self, given: Mapping[str, str]) -> Settings:
        """Return these settings with what was chosen; what is no choice changes nothing."""
        allowed = {"units": ("", *PROFILES), "world": WORLDS, "theme": THEMES}
        chosen = {key: given[key] for key, each in allowed.items() if given.get(key) in each}
        return replace(self, **chosen)

    def text(self) -> str:
        """Return the settings as a cookie keeps them."""
        return f"{self.units or 'own'}.{self.world}.{self.theme}"


def settings_of(text: str) -> Settings:
    """Return the settings of a cookie's text; the usual ones where it cannot be read."""
    words = text.split(".")
    if len(words) != 3:
        return Settings()
    units = "" if words[0] == "own" else words[0]
    return Settings().with_choice({"units": units, "world": words[1], "theme": words[2]})
