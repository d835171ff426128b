"""The key checkpoints are signed with: outside the data, for its owner's eyes only.

Whoever has the key can sign another history. It is in no backup, and a store that is restored
elsewhere gets a key of its own there.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import TypeAlias

from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from swapwright.base.errors import InputError, Problem

SigningKey: TypeAlias = Ed25519PrivateKey

NAME = "ledger-key.pem"
VARIABLE = "SWAPWRIGHT_KEY"
OTHERS = stat.S_IRWXG | stat.S_IRWXO


def key_path(given: Path | None = None) -> Path:
    """Return where the key lies: as given, as the environment says, or in the user's own folder."""
    if given is not None:
        return given
    named = os.environ.get(VARIABLE)
    return Path(named) if named else own_folder() / NAME


def own_folder() -> Path:
    """Return the folder of this user's own settings, made or not."""
    base = os.environ.get("XDG_CONFIG_HOME") or str(Path.home() / ".config")
    return Path(base) / "swapwright"


def signing_key(path: Path, data: Path | None = None) -> SigningKey:
    """Return the key, made where there is none yet.

    ``data`` is the folder the store lies in, if it lies in one. Raises InputError for a key that
    others may read, that lies with the data, or that is none.
    """
    _apart(path, data)
    if not path.exists():
        make_private(path, _fresh())
    if os.name == "posix" and path.stat().st_mode & OTHERS:
        raise _refused(path, "others may read the signing key", "for its owner alone: chmod 600")
    try:
        found = serialization.load_pem_private_key(path.read_bytes(), password=None)
    except (ValueError, TypeError, OSError):
        found = None
    if not isinstance(found, Ed25519PrivateKey):
        raise _refused(path, "this is no signing key", "an Ed25519 key in PEM")
    return found


def _apart(path: Path, data: Path | None) -> None:
    if data is not None and data.resolve() in path.resolve().parents:
        raise _refused(
            path,
            "the signing key must not lie with the data it signs",
            f"a folder outside {data}",
        )


def _fresh() -> bytes:
    return Ed25519PrivateKey.generate().private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def make_private(path: Path, content: bytes) -> None:
    """Write a file that only its owner can read, in a folder of which the same is true.

    A file that is there already is left as it is: two that start at once agree on one.
    """
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    beside = path.with_name(f"{path.name}.{os.getpid()}.new")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.link(beside, path)
    except FileExistsError:
        return
    finally:
        beside.unlink(missing_ok=True)


def _refused(path: Path, words: str, allowed: str) -> InputError:
    return InputError(Problem(str(path), "", words, allowed=allowed))
