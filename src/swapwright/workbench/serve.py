"""Serving the workbench, here or on a network: a free port, the browser opened, a quiet end."""

from __future__ import annotations

import os
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path

import uvicorn
from starlette.types import ASGIApp

from swapwright.base.errors import InputError, Problem
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.network import LOOPBACK, THIS_MACHINE, Network
from swapwright.jobs.shop import Shop
from swapwright.workbench import links
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage
from swapwright.workbench.tidying import Tidying

TRIED = 20
"""Ports tried, from the one asked for, before any that is free is taken."""
PATIENCE = 30
"""Seconds a request may take to finish once the workbench is to stop."""


def serve(
    folder: Path,
    catalogue: Catalogue,
    port: int,
    *,
    in_browser: bool,
    say: Callable[[str], None],
    shop: Shop | None = None,
    network: Network = THIS_MACHINE,
) -> None:
    """Serve a folder of cars until Ctrl-C; ``say`` is given the address once it answers there."""
    garage = Garage(folder, catalogue)
    listening = free_socket(port, network.address)
    address = address_of(listening, network)
    app = Tidying(application(garage, hosts=hosts_of(network), shop=shop, network=network))
    beside = threading.Thread(target=_begin, args=(garage, app, address, in_browser), daemon=True)
    try:
        say(address)
        beside.start()
        uvicorn.Server(settings_for(app, network)).run(sockets=[listening])
    except KeyboardInterrupt:
        # The server has let every request finish by then; nothing is left to tell.
        pass
    finally:
        listening.close()
    if beside.is_alive():
        # A thread that compiles cannot be stopped, and must not be left running in a process
        # that takes itself apart.
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(0)


def settings_for(app: ASGIApp, network: Network) -> uvicorn.Config:
    """Return how the server runs: under TLS, and nothing but TLS, where there is a certificate."""
    found = network.certificate
    if network.is_open and found is None:
        raise ValueError("nothing is served to others without TLS")
    return uvicorn.Config(
        app,
        loop="asyncio",
        http="h11",
        ws="none",
        lifespan="off",
        log_level="error",
        access_log=False,
        server_header=False,
        proxy_headers=False,
        timeout_graceful_shutdown=PATIENCE,
        ssl_certfile=None if found is None else str(found.file),
        ssl_keyfile=None if found is None else str(found.key_file),
    )


def hosts_of(network: Network) -> tuple[str, ...]:
    """Return the names it answers to, as a browser writes them."""
    return tuple(_written(each) for each in network.names)


def free_socket(port: int, at: str = LOOPBACK) -> socket.socket:
    """Return a socket that listens on the port asked for, on one of the next, or on any."""
    family = socket.AF_INET6 if ":" in at else socket.AF_INET
    asked = [each for each in range(port, port + TRIED) if each <= 65535]
    problem: OSError | None = None
    for each in (*asked, 0):
        # Named as TCP, the server sends without waiting for what it sent before to be heard of:
        # that wait is 40 ms of every answer.
        found = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        if os.name == "posix":
            # Without it a port stays taken for a minute after the workbench was stopped.
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((at, each))
            found.listen(128)
        except OSError as error:
            found.close()
            problem = error
        else:
            return found
    words = "nothing can listen on this machine" if problem is None else str(problem.strerror)
    raise InputError(Problem("", "", f"no free port: {words}", given=f"{at} port {port}"))


def address_of(listening: socket.socket, network: Network = THIS_MACHINE) -> str:
    """Return the address a person types to reach a listening socket."""
    scheme = "http" if network.certificate is None else "https"
    port = listening.getsockname()[1]
    return f"{scheme}://{_written(network.names[0])}:{port}{links.START}"


def _written(name: str) -> str:
    return f"[{name}]" if ":" in name else name


def has_display() -> bool:
    """Tell whether a browser would show in a window: never one that takes the terminal over."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY"))


def open_in_browser(address: str) -> bool:
    """Open an address in the browser; tell whether there was one."""
    try:
        return has_display() and webbrowser.open(address)
    except (OSError, webbrowser.Error):
        return False


def _begin(garage: Garage, app: Tidying, address: str, in_browser: bool) -> None:
    """Assess the cars once, which compiles the time loop, then open the browser."""
    try:
        for name in garage.names():
            desk = garage.desk(name)
            if desk is not None:
                desk.look()
    finally:
        app.begin()
        if in_browser:
            open_in_browser(address)
