"""A server of PostgreSQL of our own, for the tests that keep records in one."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

POSTGRES = sorted(Path("/usr/lib/postgresql").glob("*/bin"))
"""Where the server's programs lie on a Debian-like machine."""


def _as_server(folder: Path, *command: str) -> None:
    """Run one of the server's programs as somebody who is not root: it refuses to be."""
    who = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    subprocess.run(
        [*who, *command], check=True, capture_output=True, timeout=60, cwd=folder, text=True
    )


@contextmanager
def serving_postgres() -> Iterator[str]:
    """Give the URL, a name of a database wanting, of a server for this run; skip without one."""
    if not POSTGRES:
        pytest.skip("PostgreSQL's server is not installed (Debian: postgresql)")
    if os.geteuid() == 0 and shutil.which("runuser") is None:
        pytest.skip("the server of PostgreSQL does not run as root, and runuser is not there")
    programs = POSTGRES[-1]
    # Sockets have short names, and the server's user has to reach the folder.
    folder = Path(subprocess.check_output(["mktemp", "-d", "-t", "pgXXXXXX"], text=True).strip())
    try:
        folder.chmod(0o755)
        data = folder / "data"
        data.mkdir()
        if os.geteuid() == 0:
            shutil.chown(folder, "postgres")
            shutil.chown(data, "postgres")
        _as_server(folder, f"{programs}/initdb", "-D", str(data), "-U", "shop", "-A", "trust")
        options = f"-k {folder} -c listen_addresses='' -c max_connections=80"
        _as_server(
            folder,
            *(f"{programs}/pg_ctl", "-D", str(data), "-w", "-l", str(folder / "log")),
            *("-o", options, "start"),
        )
        try:
            yield f"postgresql://shop@/{{}}?host={folder}"
        finally:
            _as_server(folder, f"{programs}/pg_ctl", "-D", str(data), "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
