"""Sharing the halts of one project with a device in the same room: off unless the maker turns it on.

It is a second server, on an address of this machine in the local network that the maker chose, and knows one project only (see
hoopwright.worktable.machine.shared). It ends with a button, with the worktable, and after HOURS.
The way from device to device is not enciphered, because no browser trusts a certificate that was made on a kitchen table:
who shares the network can read along what is sewn, and with luck the cookie. That is said where sharing is turned on.
"""

from __future__ import annotations

import contextlib
import ipaddress
import os
import socket
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

import uvicorn

from hoopwright.core.errors import HoopwrightError, OutputError, reason_of
from hoopwright.worktable.machine.door import Door
from hoopwright.worktable.machine.halts import Halts
from hoopwright.worktable.machine.shared import Shared, shared_app

HOURS: Final = 12
FIRST_PORT: Final = 8790
PORTS: Final = 20
WAIT: Final = 5.0
"""Seconds in which a server must have begun, or ended."""
MOST_AT_ONCE: Final = 40
"""Requests that are answered at once; more are refused."""
LOCAL: Final = tuple(ipaddress.ip_network(n) for n in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16"))
"""Addresses that no packet from outside the local network reaches (RFC 1918)."""
NOWHERE: Final = ("192.0.2.1", 9)
"""An address for documentation (RFC 5737). Nothing is sent to it: the system is only asked by which of its own it would."""


def local_addresses() -> tuple[str, ...]:
    """Return the addresses of this machine in local networks, the usual one first."""
    found: list[str] = []
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(NOWHERE)
        found.append(probe.getsockname()[0])
    with contextlib.suppress(OSError):
        rows = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET, socket.SOCK_STREAM)
        found += [str(address[0]) for *_, address in rows]
    return tuple(a for a in dict.fromkeys(found) if any(ipaddress.ip_address(a) in n for n in LOCAL))


@dataclass(frozen=True, slots=True, eq=False)
class _Open:
    """A sharing that goes on."""

    name: str
    host: str
    door: Door
    until: float
    server: uvicorn.Server
    thread: threading.Thread
    timer: threading.Timer


class Sharing:
    """Whether a project is shared, and with whom. May be asked from several threads."""

    def __init__(self, halts: Halts, addresses: Callable[[], tuple[str, ...]] = local_addresses) -> None:
        """Begin with nothing shared; ``addresses`` are those that the maker may choose from."""
        self.halts = halts
        self.addresses = addresses
        self._lock = threading.RLock()
        self._open: _Open | None = None

    def begin(self, name: str, address: str, hours: float = HOURS) -> None:
        """Share a project at an address, with a fresh code; what was shared before no longer is.

        Raises HoopwrightError for a project that cannot be sewn or an address that is not this machine's in a local network,
        OutputError when no server can begin there.
        """
        self.halts.stand(name)
        if address not in self.addresses():
            raise HoopwrightError(
                "This computer does not have this address in a local network", "Choose one that is shown"
            )
        with self._lock:
            self.end()
            bound = _bound(address)
            host = f"{address}:{bound.getsockname()[1]}"
            door, until = Door(time.monotonic), self.halts.room.clock() + hours * 3600.0
            shared = Shared(self.halts, name, door, int(hours * 3600.0), lambda: self.halts.room.clock() >= until)
            server = _server(shared, host)
            thread = threading.Thread(target=server.run, kwargs={"sockets": [bound]}, daemon=True)
            timer = threading.Timer(hours * 3600.0, self._over, [door])
            timer.daemon = True
            self._open = _Open(name, host, door, until, server, thread, timer)
            thread.start()
            timer.start()
            _wait(lambda: server.started or not thread.is_alive())
            if not server.started:
                self.end()
                bound.close()
                raise OutputError("Sharing could not begin at this address", "Choose another one")

    def end(self) -> None:
        """Share nothing any more; nobody is answered after it returns."""
        with self._lock:
            was, self._open = self._open, None
            if was is None:
                return
            was.timer.cancel()
            was.server.should_exit = True
            was.thread.join(WAIT)
            if was.thread.is_alive():
                was.server.force_exit = True
                was.thread.join(WAIT)

    def row(self) -> dict[str, Any]:
        """Return how things stand, as plain data for the maker's own screen."""
        with self._lock:
            now = self.halts.room.clock()
            if self._open is not None and now >= self._open.until:
                self.end()
            on = self._open
        if on is None:
            return {"on": False, "addresses": list(self.addresses())}
        ticks = time.monotonic()
        devices = [
            {"address": d.address, "minutes": round((ticks - d.since) / 60.0), "seen": round(ticks - d.seen)}
            for d in on.door.devices()
        ]
        return {
            "on": True,
            "name": on.name,
            "address": f"http://{on.host}/",
            "code": on.door.code,
            "closed": on.door.closed,
            "wrong": on.door.wrong,
            "devices": devices,
            "hours": round((on.until - now) / 3600.0, 1),
            "addresses": list(self.addresses()),
        }

    def _over(self, door: Door) -> None:
        """End a sharing whose time is over, unless another one began since."""
        with self._lock:
            if self._open is not None and self._open.door is door:
                self.end()


def _server(shared: Shared, host: str) -> uvicorn.Server:
    config = uvicorn.Config(
        shared_app(shared, host),
        log_config=None,
        access_log=False,
        lifespan="off",
        ws="none",
        http="h11",
        server_header=False,
        proxy_headers=False,
        limit_concurrency=MOST_AT_ONCE,
        timeout_keep_alive=5,
        timeout_graceful_shutdown=2,
    )
    return uvicorn.Server(config)


def _bound(address: str) -> socket.socket:
    """Return a socket at an address of this machine, and at no other. Raises OutputError when there is no room."""
    last = "no number is free"
    for port in range(FIRST_PORT, FIRST_PORT + PORTS):
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name != "nt":
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((address, port))
            found.listen(64)
        except OSError as error:
            found.close()
            last = reason_of(error)
            continue
        return found
    raise OutputError(f"Sharing could not begin at this address ({last})", "Choose another one, or try again later")


def _wait(until: Callable[[], bool]) -> None:
    end = time.monotonic() + WAIT
    while not until() and time.monotonic() < end:
        time.sleep(0.01)
