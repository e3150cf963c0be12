"""The running worktable, asked as a stranger would: by raw lines over a socket (RFC 9112, RFC 6455), with wrong names and without the key."""

from __future__ import annotations

import base64
import os
import re
import select
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from hoopwright.core.errors import OutputError
from hoopwright.worktable import server
from hoopwright.worktable.server import HOST, free_port
from tests.worktable.tables import DEMO, shelf

OPEN = re.compile(r"http://127\.0\.0\.1:(\d+)/\?key=([\w-]+)")
START = "from hoopwright.cli.main import app; app()"
LONGEST = 60.0


@dataclass(frozen=True)
class Running:
    port: int
    key: str
    pid: int
    state: Path

    @property
    def cookie(self) -> str:
        return f"Cookie: hoopwright-{self.port}={self.key}"

    @property
    def host(self) -> str:
        return f"Host: {HOST}:{self.port}"

    @property
    def origin(self) -> str:
        return f"Origin: http://{HOST}:{self.port}"

    def say(self, first: str, *lines: str, body: bytes = b"") -> tuple[int, str]:
        """Send a request line by line; return the status and all that came back."""
        with socket.create_connection((HOST, self.port), timeout=20) as wire:
            wire.sendall("\r\n".join([first, *lines, "Connection: close", "", ""]).encode() + body)
            return _heard(wire)


def _heard(wire: socket.socket) -> tuple[int, str]:
    said = b""
    while chunk := wire.recv(65536):
        said += chunk
        if len(said) > 5_000_000:
            break
    return int(said.split(b" ", 2)[1]), said.decode("utf-8", "replace")


def _line(process: subprocess.Popen[str]) -> str:
    """Return what the process says until it has told its address."""
    assert process.stdout is not None
    said, until = "", time.monotonic() + LONGEST
    while not OPEN.search(said.replace("\n", "")) and time.monotonic() < until and process.poll() is None:
        if select.select([process.stdout], [], [], 0.5)[0]:
            said += os.read(process.stdout.fileno(), 4096).decode()
    return said.replace("\n", "")


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    if os.name == "nt":
        pytest.skip("pipes cannot be waited for here: the running server is NOT TESTED")
    folder, state = shelf(tmp_path_factory.mktemp("shelf")), tmp_path_factory.mktemp("state")
    port = free_port(None)
    command = [sys.executable, "-c", START, "worktable", str(folder), "--no-show", "--port", str(port)]
    outside = {k: v for k, v in os.environ.items() if not k.startswith(("PYTEST", "NICEGUI"))}
    env = {**outside, "XDG_STATE_HOME": str(state), "COLUMNS": "200", "NO_COLOR": "1"}
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=env)
    try:
        said = _line(process)
        found = OPEN.search(said)
        assert found, f"the worktable did not tell its address: {said}"
        yield Running(int(found[1]), found[2], process.pid, state)
    finally:
        process.terminate()
        process.communicate(timeout=20)


def test_the_page_opens_with_its_key_and_keeps_it_out_of_the_address(running: Running) -> None:
    status, said = running.say(f"GET /?key={running.key} HTTP/1.1", running.host)
    assert status == 303 and "location: /\r\n" in said
    cookie = next(line for line in said.splitlines() if line.startswith("set-cookie"))
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie and running.key in cookie
    status, said = running.say("GET / HTTP/1.1", running.host, running.cookie)
    assert status == 200 and "/parts/style.css" in said and running.key not in said


def test_the_key_lies_where_only_its_owner_reads_it_and_stays_the_same(running: Running) -> None:
    place = running.state / "hoopwright" / "worktable-key"
    assert place.read_text() == running.key
    assert place.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(
    "path", ["/", f"/project/{DEMO}/draw", "/api/shelf", "/parts/table.js", "/?key=", "/?key=wrong"]
)
def test_nobody_comes_in_without_the_key(running: Running, path: str) -> None:
    for cookie in (
        "X: y",
        f"Cookie: hoopwright-{running.port}=wrong",
        "Cookie: \u00e9=\u00ff; ;;=",
        f"Cookie: key={running.key}",
    ):
        status, said = running.say(f"GET {path} HTTP/1.1", running.host, cookie)
        assert status == 403 and "address" in said and "Tide mill" not in said


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:{port}", "127.0.0.1.evil.example:{port}", "[::1]:{port}"]
)
def test_a_name_that_was_pointed_at_this_machine_is_not_answered(running: Running, host: str) -> None:
    """The defence against DNS rebinding: the browser names the attacker's host, whatever address it leads to."""
    name = host.format(port=running.port)
    for path in ("/", "/api/shelf", f"/?key={running.key}"):
        status, said = running.say(f"GET {path} HTTP/1.1", f"Host: {name}", running.cookie)
        assert status == 421 and "set-cookie" not in said
    assert running.say("GET / HTTP/1.1", running.host, f"Host: {name}", running.cookie)[0] in (400, 421)
    assert running.say(f"GET http://{name}/api/shelf HTTP/1.1", f"Host: {name}", running.cookie)[0] in (400, 421)


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "application/json", "multipart/form-data; boundary=x"]
)
def test_a_form_on_another_page_changes_nothing(running: Running, kind: str) -> None:
    """What a page elsewhere may send without asking first ("simple" requests, Fetch standard), and what it may not."""
    body = b'{"title": "Taken over"}'
    first = f"POST /api/shelf/{DEMO}/rename HTTP/1.1"
    lines = (running.host, running.cookie, f"Content-Type: {kind}", f"Content-Length: {len(body)}")
    for origin in ("Origin: http://evil.example", "Origin: null", f"Origin: http://{HOST}:1", "X: y"):
        assert running.say(first, *lines, origin, body=body)[0] == 403
    status, said = running.say("GET /api/shelf HTTP/1.1", running.host, running.cookie)
    assert status == 200 and "Taken over" not in said


SOCKET = ("Upgrade: websocket", "Connection: Upgrade", "Sec-WebSocket-Version: 13")


@pytest.mark.parametrize(
    "path", ["/_nicegui_ws/socket.io/?EIO=4&transport=websocket", "/_nicegui_ws/", "/", "/api/shelf"]
)
@pytest.mark.parametrize("who", ["stranger", "no origin", "no key", "own"])
def test_no_websocket_is_opened(running: Running, path: str, who: str) -> None:
    """The framework's line is closed, to the page itself too: the page never asks for it."""
    key = base64.b64encode(os.urandom(16)).decode()
    lines = [running.host, *SOCKET, f"Sec-WebSocket-Key: {key}"]
    lines += [] if who == "no key" else [running.cookie]
    lines += {"stranger": ["Origin: http://evil.example"], "own": [running.origin]}.get(who, [])
    with socket.create_connection((HOST, running.port), timeout=20) as wire:
        wire.sendall("\r\n".join([f"GET {path} HTTP/1.1", *lines, "", ""]).encode())
        answer = wire.recv(4096).decode("latin-1")
    assert answer.startswith("HTTP/1.1 ") and not answer.startswith("HTTP/1.1 101")


@pytest.mark.parametrize(
    "path",
    [
        "/_nicegui_ws/socket.io/?EIO=4&transport=polling",
        "/_nicegui/client/x/upload/1",
        "/_nicegui/auto/static/x",
        "/docs",
        "/redoc",
        "/openapi.json",
    ],
)
def test_what_the_framework_offers_besides_is_closed(running: Running, path: str) -> None:
    for first in (f"GET {path} HTTP/1.1", f"POST {path} HTTP/1.1"):
        status, _ = running.say(first, running.host, running.cookie, running.origin, "Content-Length: 0")
        assert status in (404, 405)


@pytest.mark.parametrize("at", ["/parts/", "/fonts/sans/", "/recipes/", "/project/", "/api/projects/", "/api/shelf/"])
@pytest.mark.parametrize(
    "way",
    [
        "../server.py",
        "..%2fserver.py",
        "%2e%2e/server.py",
        "....//server.py",
        "..%5cserver.py",
        "/etc/passwd",
        "%00",
        "x%0d%0aSet-Cookie:a=b",
    ],
)
def test_no_path_leads_out(running: Running, at: str, way: str) -> None:
    status, said = running.say(f"GET {at}{way} HTTP/1.1", running.host, running.cookie)
    assert status in (400, 404, 405) or (at == "/project/" and "/parts/style.css" in said)
    assert "def serve" not in said and "root:" not in said
    assert "\r\nset-cookie" not in said.lower()


def test_a_name_on_the_page_is_not_written_into_it(running: Running) -> None:
    """A project's name in the address goes nowhere but into the browser's own reading of it."""
    status, said = running.say(
        "GET /project/%60$%7Balert(1)%7D%3Cscript%3Eboo/draw HTTP/1.1", running.host, running.cookie
    )
    assert status == 200 and "alert(1)" not in said and "boo" not in said


def test_a_request_that_never_ends_is_cut_off(running: Running) -> None:
    with socket.create_connection((HOST, running.port), timeout=20) as wire:
        head = f"POST /api/shelf/new HTTP/1.1\r\n{running.host}\r\n{running.cookie}\r\n{running.origin}\r\n"
        wire.sendall((head + "Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n").encode())
        chunk = b"100000\r\n" + b" " * 0x100000 + b"\r\n"
        try:
            for _ in range(40):
                wire.sendall(chunk)
            assert wire.recv(4096).split(b" ", 2)[1] in (b"400", b"413", b"500")
        except OSError:
            pass
    assert running.say("GET /api/shelf HTTP/1.1", running.host, running.cookie)[0] == 200


def test_it_answers_this_machine_only(running: Running) -> None:
    others = {row[4][0] for row in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)} - {HOST}
    for address in others:
        if not str(address).startswith("127."):
            with pytest.raises(OSError), socket.create_connection((str(address), running.port), timeout=3):
                pass


def test_ports_that_are_used_are_passed_over() -> None:
    first = free_port(None)
    with socket.socket() as taken:
        taken.bind((HOST, first))
        taken.listen()
        assert free_port(None) != first
        with pytest.raises(OutputError, match="another program uses its address"):
            free_port(first)


def test_the_names_it_answers_to() -> None:
    assert server.hosts(8765) == ("127.0.0.1:8765", "localhost:8765")
