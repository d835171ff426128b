"""A car of the public test lists as a build file: what the list gives, and one common set besides.

``python tests/validation/list_car.py`` writes the build files of the rows of ``cars.toml``. To hold
another car against the model, add its row there or in ``further_cars.toml``.
"""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

from swapwright.base.quantity import parse
from swapwright.physics.pack.charge import typical_charger_efficiency

FOLDER = Path(__file__).resolve().parent

# The common set. The reasons stand in docs/validation.md.
POWER_PER_STRING = 60e3  # W of rated power for each string of 96 cells begun ...
MOST_STRINGS = 5  # ... up to 89 kWh
SMALL_CHARGER, CHARGER = 3300.0, 6600.0  # W, for one string and for more
CHARGER_SPREAD = 0.06  # to each side
ROAD_LOAD_SPREAD = 0.25  # of each coefficient, to each side
LOSS_FACTOR = (0.6, 1.6)
REGEN_SHARE = (0.6, 0.95)
ALTITUDE = 263.0  # m, where the standard atmosphere stands at 98.21 kPa


def rows_of(file: str) -> dict[str, dict[str, Any]]:
    """Return the rows of a file of this folder."""
    rows: dict[str, dict[str, Any]] = tomllib.loads((FOLDER / file).read_text(encoding="utf-8"))
    return rows


def strings(row: dict[str, Any]) -> int:
    """Return how many cells stand in parallel for the row's rated power."""
    power = parse(f"{row['power']} hp", "power").si
    return min(math.ceil(power / POWER_PER_STRING), MOST_STRINGS)


def build_text(row: dict[str, Any]) -> str:
    """Return the build file of a row of ``cars.toml``."""
    parallel = strings(row)
    charger = SMALL_CHARGER if parallel == 1 else CHARGER
    efficiency = typical_charger_efficiency(charger)
    low, high = (100 * (efficiency + side * CHARGER_SPREAD) for side in (-1, 1))
    a, b, c = (
        f"{value * (1 - ROAD_LOAD_SPREAD):.6g}..{value * (1 + ROAD_LOAD_SPREAD):.6g}"
        for value in row["road_load"]
    )
    motor = f'kind = "permanent-magnet", peak_power = "{row["power"]} hp", max_speed = "10000 rpm"'
    title = f"{row['class']}, {row['year']}"
    tests = "test numbers not seen"
    if "test" in row["udds"]:
        tests = f"tests {row['udds']['test']} (UDDS) and {row['highway']['test']} (highway)"
    filed = ", ".join(f"{value:g}" for value in row["road_load"])
    return f"""\
# {title[0].upper()}{title[1:]}: {tests}.
# Published (US EPA test car list): test weight, rated power and road load, which is written with
# its spread; as filed it is {filed} (lbf, mph).
# All the rest is one common set for the cars of this folder, made by list_car.py and explained in
# docs/validation.md.
format = 1

[car]
name            = "{title}"
test_mass       = "{row["weight"]} lb"
rotating_factor = 1.00            # the rolls simulate the test weight and nothing more
rolling_radius  = "0.31 m"
driven_axle     = "front"

[car.road_load]
a = "{a} lbf"
b = "{b} lbf/mph"
c = "{c} lbf/mph^2"
mass = "{row["weight"]} lb"       # filed at the test weight

[conditions]
altitude = "{ALTITUDE:.0f} m"              # the air the coefficients are filed at: 98.21 kPa ...
humidity = "0 %"                # ... and dry, 1.167 kg/m^3 at 20 degC

[goals]
region = "US"

[drive]
motor       = {{ {motor} }}
gearbox     = {{ ratios = [9.0] }}
final_drive = 1.0
loss_factor = "{LOSS_FACTOR[0]}..{LOSS_FACTOR[1]}"
regen.share = "{REGEN_SHARE[0]}..{REGEN_SHARE[1]}"

[pack]
cell     = "nmc-prismatic-50ah"
series   = 96
parallel = {parallel}

[charging]
power      = "{charger / 1000:.1f} kW"
efficiency = "{low:.0f}..{high:.0f} %"
"""


def main() -> None:
    """Write the build file of every row of ``cars.toml``."""
    for name, row in rows_of("cars.toml").items():
        (FOLDER / "cars" / f"{name}.toml").write_text(build_text(row), encoding="utf-8")


if __name__ == "__main__":
    main()
