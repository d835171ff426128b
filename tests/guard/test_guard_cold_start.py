"""What a first `swapwright check` may load: it has to be quick on a workshop laptop."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from project_files import ROOT, SOURCE

EXAMPLE = "examples/ridgeway.toml"
REFUSED_WITHIN = 200
"""Microseconds below which nothing was loaded."""

HEAVY = {
    "CoolProp",
    "fastapi",
    "fluids",
    "jinja2",
    "pint",
    "pydantic",
    "rich",
    "scipy",
    "sqlalchemy",
    "starlette",
    "sympy",
    "tomlkit",
    "uvicorn",
}


@pytest.mark.guard
@pytest.mark.skipif(not (SOURCE / "cli" / "__main__.py").exists(), reason="no terminal face yet")
def test_a_cold_check_loads_nothing_heavy(tmp_path):
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "swapwright.cli", "check", EXAMPLE],
        cwd=ROOT,
        env={**os.environ, "HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    loaded = set()
    for line in done.stderr.splitlines():
        if line.startswith("import time:") and "cumulative" not in line:
            _, whole, module = line.removeprefix("import time:").split("|")
            # A package that was asked for and refused shows too, with next to no time.
            if int(whole) >= REFUSED_WITHIN:
                loaded.add(module.strip().split(".")[0])
    assert done.returncode in {0, 1, 3}, done.stderr
    assert "swapwright" in loaded
    assert not loaded & HEAVY
