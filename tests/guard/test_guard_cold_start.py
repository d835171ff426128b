"""What a first `swapwright check` may load: it has to be quick on a workshop laptop."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from project_files import ROOT, SOURCE

EXAMPLE = "examples/ridgeway.toml"
LOADED = "loaded:"
COMMAND = f"""
import runpy, sys
sys.argv = ["swapwright", *sys.argv[1:]]
try:
    runpy.run_module("swapwright.cli", run_name="__main__")
finally:
    # What was asked for and refused stands there as None, or not at all.
    found = {{name.split(".")[0] for name, module in sys.modules.items() if module is not None}}
    print("{LOADED}", *sorted(found), file=sys.stderr)
"""

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
        [sys.executable, "-c", COMMAND, "check", EXAMPLE],
        cwd=ROOT,
        env={**os.environ, "HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode in {0, 1, 3}, done.stderr
    told = next(line for line in done.stderr.splitlines() if line.startswith(LOADED))
    loaded = set(told.removeprefix(LOADED).split())
    assert "swapwright" in loaded
    assert not loaded & HEAVY
