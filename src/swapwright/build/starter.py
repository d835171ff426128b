"""A commented build file to start from: what is known filled in, the rest one keystroke away."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.base.errors import UnitError
from swapwright.base.quantity import parse, show
from swapwright.build.edit import edit

# (section, what it is about, rows); a row is (key, an example in TOML, comment).
_Rows = tuple[tuple[str, str, str], ...]

_SECTIONS: tuple[tuple[str, str, _Rows], ...] = (
    (
        "car",
        "the donor, weighed and measured before anything comes out",
        (
            ("name", '"my car"', ""),
            ("mark", '"A"', "your own mark of this version"),
            ("kerb_mass", '"1000 kg"', "on a weighbridge, not from a brochure"),
            ("axle_mass", '{ front = "550 kg", rear = "450 kg" }', ""),
            (
                "limits",
                '{ gross = "1400 kg", front_axle = "700 kg", rear_axle = "750 kg" }',
                "from the plate",
            ),
            ("wheelbase", '"2.40 m"', ""),
            ("tyres", '"175/70 R13"', "as on the sidewall"),
            (
                "road_load",
                '{ cd_a = "0.65..0.75 m^2", c_rr = 0.012 }',
                "or a, b and c from a coast-down",
            ),
            ("driven_axle", '"rear"', "front, rear or all"),
            ("engine_before", '{ power = "55 kW", fuel = "9 L/100km" }', ""),
        ),
    ),
    (
        "goals",
        "what the owner wants; a range means nothing without a speed and a temperature",
        (
            (
                "range",
                '{ min = "120 km", at = "90 km/h", at_temperature = "20 degC" }',
                "",
            ),
            ("climb", '{ grade = "6 %", at = "80 km/h", for = "10 min" }', ""),
            ("top_speed", '"120 km/h"', ""),
            ("occupants", "2", ""),
            ("region", '"EU"', "EU, UK, US, AU or NZ"),
        ),
    ),
    (
        "drive",
        "parts by catalogue name, by name with changes, or in full from a data sheet",
        (
            ("motor", '"pm-radial-75kw"', ""),
            ("inverter", '"inverter-400v-300a"', ""),
            ("gearbox", '"reducer-9-1"', ""),
            ("final_drive", "1.0", "1.0 where the reduction gear drives the wheels"),
            ("regen", '{ off_above_soc = "95 %", off_below_cell = "5 degC" }', ""),
        ),
    ),
    (
        "pack",
        "modules in series, strings in parallel",
        (
            ("module", '"nmc-module-8s1p-60ah"', ""),
            ("modules_per_string", "12", ""),
            ("strings", "1", ""),
            ("usable", '{ from = "5 %", to = "95 %" }', ""),
        ),
    ),
    (
        "hv",
        "class B: everything here is orange on the car",
        (
            (
                "main_fuse",
                '{ rating = "200 A", voltage = "500 V", breaking = "20 kA", poles = "one" }',
                "",
            ),
            ("contactors", '{ voltage = "500 V", carry = "250 A", poles = "both" }', ""),
            (
                "precharge",
                '{ resistor = "220 ohm", rating = "50 W", pulse = "60 J", timeout = "1 s" }',
                "",
            ),
            ("bleed", '"47 kohm"', ""),
            ("isolation_monitor", '{ alarm = "500 ohm/V" }', ""),
        ),
    ),
    (
        "charging",
        "",
        (
            ("charger", '"charger-6k6-400v"', ""),
            ("inlet", '"type 2"', ""),
            ("supply", '{ voltage = "230 V", current = "32 A", phases = 1 }', ""),
        ),
    ),
    (
        "lv",
        "the 12 V side",
        (
            ("dcdc", '"dcdc-1200w-400v"', ""),
            ("battery", '{ capacity = "20 Ah", kind = "AGM" }', ""),
        ),
    ),
    (
        "shop",
        "the kit assumed while designing",
        (
            ("gloves", '"class 0"', ""),
            ("meter", '{ category = "CAT III", voltage = "1000 V" }', ""),
        ),
    ),
)

_FRONT_SHARE = 0.55
"""Of the kerb mass, in the example of a car that has been weighed as a whole."""

_LEDGER = """\
# [[mass]]                      # the axle ledger: one row for each thing out, in, or carried
# remove = "engine and ancillaries"
# mass = "140 kg"
# x = "0.05 m"                  # behind the front axle
"""


def starter(given: Mapping[str, str]) -> str:
    """Return the text of a build file to start from.

    ``given`` is what is known already, by build path, as a person types it
    (``{"car.kerb_mass": "1180 kg", "drive.motor": "pm-radial-75kw"}``); everything else usual
    stands there as a comment with an example. Raises InputError where a path is not one of a
    build file.
    """
    headers = [f"[{name}]" + (f"  # {about}" if about else "") for name, about, _ in _SECTIONS]
    text = "\n\n".join(["# One car. Take the # off a line to use it.\nformat = 1", *headers])
    text += "\n\n"
    for path, typed in given.items():
        text = edit(text, path, typed)
    fitting = _axle_masses(given.get("car.kerb_mass", ""))
    for (name, _, rows), header in zip(_SECTIONS, headers, strict=True):
        before, after = text.split(f"{header}\n", 1)
        known, _, rest = after.partition("\n\n") if after[0] != "\n" else ("", "", after[1:])
        examples = [
            f"# {key} = {fitting.get(f'{name}.{key}', example)}"
            + (f"  # {comment}" if comment else "")
            for key, example, comment in rows
            if not any(_is_said_by(path, f"{name}.{key}") for path in given)
        ]
        lines = [header, *known.splitlines(), *examples]
        text = before + "\n".join(lines) + f"\n\n{rest}"
    return f"{text.rstrip()}\n\n{_LEDGER}"


def _axle_masses(kerb: str) -> Mapping[str, str]:
    """Return an example of axle loads that add up to a kerb mass, none where it cannot be read."""
    try:
        mass = parse(kerb, "mass").si
    except UnitError:
        return {}
    front, rear = (
        show(share * mass, "mass", unit="kg", digits=4)
        for share in (_FRONT_SHARE, 1 - _FRONT_SHARE)
    )
    return {"car.axle_mass": f'{{ front = "{front}", rear = "{rear}" }}'}


def _is_said_by(path: str, row: str) -> bool:
    return path == row or path.startswith(f"{row}.")
