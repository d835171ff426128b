"""The certificate a workbench shows on a network: one that was given, or one it makes itself.

One made here is signed by nobody else. A person compares its fingerprint on the tablet with the
one told where the workbench was started; after that the browser knows it again.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.types import PrivateKeyTypes
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from swapwright.base.errors import InputError, Problem
from swapwright.records.key import OTHERS

NAME = "workbench-certificate.pem"
LASTS = timedelta(days=397)
"""The longest browsers take a certificate to be good for."""
RENEWED_BEFORE = timedelta(days=7)
"""How long before its end it is made anew, so that it does not end while the workbench runs."""
CLOCKS_DIFFER = timedelta(hours=1)
_BEGINS = b"-----BEGIN CERTIFICATE-----"


@dataclass(frozen=True)
class Certificate:
    """A certificate and its key in their files; ``fingerprint`` is its SHA-256, in pairs.

    ``is_own`` where the workbench made it itself, ``is_new`` where it did so just now.
    """

    file: Path
    key_file: Path
    fingerprint: str
    until: datetime
    is_own: bool = False
    is_new: bool = False


def given_certificate(file: Path, key_file: Path, now: datetime) -> Certificate:
    """Return a certificate somebody brings.

    Raises InputError for one that cannot be read, has ended, or does not belong to its key, and
    for a key that everybody may read.
    """
    found = _certificate(file)
    key = _key(key_file)
    if key.public_key() != found.public_key():
        raise _unfit(key_file, "this key does not belong to the certificate", str(file))
    if not found.not_valid_before_utc <= now < found.not_valid_after_utc:
        ends = (
            f"from {found.not_valid_before_utc:%Y-%m-%d} until {found.not_valid_after_utc:%Y-%m-%d}"
        )
        raise _unfit(file, "this certificate is not valid today", given=ends)
    return Certificate(file, key_file, fingerprint_of(found), found.not_valid_after_utc)


def own_certificate(file: Path, names: Sequence[str], now: datetime) -> Certificate:
    """Return the workbench's own certificate for some names and addresses.

    It is made where there is none, and made anew where it is about to end or lacks a name; with it
    the key, which lies in the same file, for its owner alone. Raises InputError where that file is
    open to others, or cannot be written.
    """
    if file.exists():
        there = _own_there(file, names, now)
        if there is not None:
            return there
    made, content = _made(names, now)
    _put(file, content)
    return _own(file, made, is_new=True)


def fingerprint_of(certificate: x509.Certificate) -> str:
    """Return a certificate's SHA-256 in pairs, as browsers show it."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


def _own(file: Path, found: x509.Certificate, *, is_new: bool) -> Certificate:
    until = found.not_valid_after_utc
    return Certificate(file, file, fingerprint_of(found), until, is_own=True, is_new=is_new)


def _own_there(file: Path, names: Sequence[str], now: datetime) -> Certificate | None:
    """Return the certificate made before, None where it does not do any more."""
    if os.name == "posix" and file.stat().st_mode & OTHERS:
        raise _unfit(file, "others may read the workbench's key", "for its owner alone: chmod 600")
    try:
        found = _certificate(file)
        _key(file)
    except InputError:
        return None
    holds = found.not_valid_before_utc <= now < found.not_valid_after_utc - RENEWED_BEFORE
    return _own(file, found, is_new=False) if holds and set(names) <= _names_in(found) else None


def _names_in(certificate: x509.Certificate) -> set[str]:
    try:
        found = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except x509.ExtensionNotFound:
        return set()
    hosts = found.get_values_for_type(x509.DNSName)
    return {*hosts, *(str(each) for each in found.get_values_for_type(x509.IPAddress))}


def _made(names: Sequence[str], now: datetime) -> tuple[x509.Certificate, bytes]:
    """Return a certificate signed with its own key, and the text of both."""
    key = ec.generate_private_key(ec.SECP256R1())
    called = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Swapwright workbench")])
    usage = x509.KeyUsage(True, False, False, False, False, False, False, False, False)
    made = (
        x509.CertificateBuilder()
        .subject_name(called)
        .issuer_name(called)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCKS_DIFFER)
        .not_valid_after(now - CLOCKS_DIFFER + LASTS)
        .add_extension(x509.SubjectAlternativeName([_general(each) for each in names]), False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    secret = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    return made, secret + made.public_bytes(serialization.Encoding.PEM)


def _general(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ip_address(name))
    except ValueError:
        pass
    try:
        return x509.DNSName(name)
    except ValueError:
        words = "this name cannot stand in a certificate"
        allowed = "letters, digits, dashes and dots"
        raise InputError(Problem("", "name", words, given=name[:80], allowed=allowed)) from None


def _put(file: Path, content: bytes) -> None:
    """Write a file only its owner can read, whole or not at all, in place of what was there."""
    beside = file.with_name(f"{file.name}.{os.getpid()}.new")
    try:
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        try:
            with os.fdopen(handle, "wb") as opened:
                opened.write(content)
                opened.flush()
                os.fsync(opened.fileno())
            beside.replace(file)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as error:
        raise _unfit(file, f"cannot be written: {error.strerror}") from None


def _certificate(file: Path) -> x509.Certificate:
    content = _content(file)
    at = content.find(_BEGINS)
    try:
        return x509.load_pem_x509_certificate(content[max(at, 0) :])
    except ValueError:
        raise _unfit(file, "this is no certificate", "a certificate in PEM") from None


def _key(file: Path) -> PrivateKeyTypes:
    """Return the private key in a file; raise InputError for none, or one everybody may read.

    A key with a password is none here: nobody is there to type it when the workbench starts.
    """
    content = _content(file)
    if os.name == "posix" and file.stat().st_mode & stat.S_IRWXO:
        raise _unfit(file, "everybody may read this key", "for its owner alone: chmod 600")
    try:
        return serialization.load_pem_private_key(content, password=None)
    except (ValueError, TypeError, UnsupportedAlgorithm):
        raise _unfit(file, "this is no key", "a private key in PEM, without a password") from None


def _content(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        raise _unfit(file, f"cannot be read: {error.strerror}") from None


def _unfit(file: Path, words: str, allowed: str = "", given: str = "") -> InputError:
    return InputError(Problem(str(file), "", words, given=given, allowed=allowed))
