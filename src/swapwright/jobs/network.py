"""Who may reach the workbench: this machine alone, or a network, with accounts and under TLS."""

from __future__ import annotations

import socket
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from ipaddress import IPv4Address, IPv6Address, ip_address
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.shop import Shop
from swapwright.jobs.shop_access import has_admin
from swapwright.records import certificate as certificates
from swapwright.records.certificate import Certificate
from swapwright.records.key import own_folder

LOOPBACK = "127.0.0.1"
HERE = (LOOPBACK, "localhost", "::1")
_ELSEWHERE = (("192.0.2.1", socket.AF_INET), ("2001:db8::1", socket.AF_INET6))
"""Addresses of the documentation (RFC 5737, RFC 3849): nothing is ever sent to them."""


@dataclass(frozen=True)
class Network:
    """Where the workbench listens, the names it answers to, and the certificate it shows.

    ``is_open`` where others than this machine reach it: everybody then logs in.
    """

    address: str = LOOPBACK
    names: tuple[str, ...] = HERE
    certificate: Certificate | None = None
    is_open: bool = False

    @property
    def is_known(self) -> bool:
        """Tell whether browsers know the certificate by themselves: somebody else signed it."""
        return self.certificate is not None and not self.certificate.is_own


THIS_MACHINE = Network()
"""Nobody but this machine reaches it."""


def network(
    listen: str = LOOPBACK,
    *,
    names: Sequence[str] = (),
    given: tuple[Path | None, Path | None] = (None, None),
    shop: Shop | None = None,
    own: Path | None = None,
    now: datetime,
) -> Network:
    """Return how the workbench listens at an address.

    ``names`` are more names others reach it by, ``given`` a certificate and its key, ``own`` the
    file of the one it makes itself. Raises InputError beyond this machine where no admin has a
    password yet, and for half a certificate.
    """
    address = _address(listen)
    is_open = not address.is_loopback
    if is_open and (shop is None or not has_admin(shop)):
        words = "a workbench that others reach needs accounts, and no admin has a password here yet"
        allowed = f"{LOOPBACK}; or start it there, open its account page and make the first account"
        raise InputError(Problem("", "--listen", words, given=listen, allowed=allowed))
    called = tuple(dict.fromkeys((*_names_of(address), *map(_plain, names))))
    file, key_file = given
    if file is not None and key_file is not None:
        found = certificates.given_certificate(file, key_file, now)
        return Network(str(address), called, found, is_open)
    if file is not None or key_file is not None:
        words = "a certificate and its key come together"
        raise InputError(Problem("", "--certificate", words, allowed="both files, or neither"))
    if not is_open:
        return Network(str(address), called)
    file = own_folder() / certificates.NAME if own is None else own
    return Network(str(address), called, certificates.own_certificate(file, called, now), is_open)


def _address(listen: str) -> IPv4Address | IPv6Address:
    """Return an address to listen at; raise InputError for what is none."""
    try:
        return ip_address(LOOPBACK if listen.strip().lower() == "localhost" else listen.strip())
    except ValueError:
        allowed = f"{LOOPBACK}, an address of this machine, or 0.0.0.0 for all of them"
        raise InputError(
            Problem("", "--listen", "this is no address", given=listen[:80], allowed=allowed)
        ) from None


def _plain(name: str) -> str:
    """Return a further name as a browser sends it; raise InputError for what is none."""
    found = name.strip().strip(".").lower()
    letters = found.replace("-", "").replace(".", "")
    if len(found) <= 253 and letters.isascii() and letters.isalnum():
        return found
    allowed = "letters, digits, dashes and dots"
    raise InputError(Problem("", "--name", "this is no name", given=name[:80], allowed=allowed))


def _names_of(address: IPv4Address | IPv6Address) -> tuple[str, ...]:
    """Return the names this machine is reached by at an address: of all its own for 0.0.0.0."""
    if address.is_loopback:
        return tuple(dict.fromkeys((str(address), *HERE)))
    hosts = _host_names()
    if not address.is_unspecified:
        return (str(address), *hosts)
    return (*_own_addresses(), *hosts, *HERE)


def _host_names() -> tuple[str, ...]:
    with suppress(InputError):
        name = _plain(socket.gethostname())
        return (name,) if "." in name else (name, f"{name}.local")
    return ()


def _own_addresses() -> tuple[str, ...]:
    """Return the addresses this machine has towards others, the one most used first."""
    found: list[str] = []
    for elsewhere, family in _ELSEWHERE:
        with suppress(OSError), socket.socket(family, socket.SOCK_DGRAM) as asking:
            asking.connect((elsewhere, 9))
            found.append(str(asking.getsockname()[0]))
    with suppress(OSError):
        rows = socket.getaddrinfo(socket.gethostname(), None, type=socket.SOCK_STREAM)
        found += [str(row[4][0]) for row in rows if "%" not in str(row[4][0])]
    return tuple(each for each in dict.fromkeys(found) if not ip_address(each).is_loopback)
