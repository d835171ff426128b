"""What a first `swapwright check` may load: it has to be quick on a workshop laptop."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from project_files import ROOT, SOURCE

EXAMPLE = "examples/ridgeway.toml"
HEAVY = {
    "CoolProp",
    "fluids",
    "jinja2",
    "pint",
    "rich",
    "scipy",
    "sqlalchemy",
    "starlette",
    "sympy",
    "tomlkit",
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
    modules = [
        line.rsplit("|", 1)[1].strip()
        for line in done.stderr.splitlines()
        if line.startswith("import time:")
    ]
    # A package that was asked for and refused shows without any module below it.
    loaded = {module.split(".")[0] for module in modules if "." in module}
    assert done.returncode in {0, 1, 3}, done.stderr
    assert "swapwright" in loaded
    assert not loaded & HEAVY
