"""Sharing with a device in the same room, over real sockets: closed before, opened by the code alone, one project and no more."""

from __future__ import annotations

import http.client
import ipaddress
import socket
import time
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlencode

import pytest

from hoopwright.core.errors import HoopwrightError
from hoopwright.worktable.desk import Desk
from hoopwright.worktable.guard import Guard
from hoopwright.worktable.machine.door import MINUTE, MOST_DEVICES, MOST_WRONG, WRONG_A_MINUTE, Door, fresh_code
from hoopwright.worktable.machine.halts import Halts
from hoopwright.worktable.machine.shared import COMPONENTS, PARTS, Shared, shared_app
from hoopwright.worktable.machine.sharing import LOCAL, Sharing, local_addresses
from hoopwright.worktable.room import Room
from tests.worktable.tables import DEMO, own_address, shelf

HERE = "127.0.0.1"
OTHER = "reed-bookmark"


class Watch:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = 1_000_000.0

    def __call__(self) -> float:
        return self.now


class Guest:
    """A device that asks as a browser does: it keeps its cookie."""

    def __init__(self, row: dict[str, Any]) -> None:
        self.host = row["address"].removeprefix("http://").rstrip("/")
        self.at, _, port = self.host.rpartition(":")
        self.port = int(port)
        self.cookie: str | None = None

    def ask(
        self, path: str, body: bytes | None = None, method: str | None = None, **headers: str
    ) -> tuple[int, dict[str, str], bytes]:
        line = http.client.HTTPConnection(self.at, self.port, timeout=10)
        sent = {"Host": self.host, **({"Cookie": self.cookie} if self.cookie else {})}
        if body is not None:
            sent["Origin"] = f"http://{self.host}"
        sent |= {k.replace("_", "-"): v for k, v in headers.items()}
        try:
            line.request(method or ("GET" if body is None else "POST"), path, body, sent)
            answer = line.getresponse()
            return answer.status, {k.lower(): v for k, v in answer.getheaders()}, answer.read()
        finally:
            line.close()

    def give(self, code: str) -> int:
        status, headers, _ = self.ask("/code", urlencode({"code": code}).encode())
        if "set-cookie" in headers:
            self.set_cookie = headers["set-cookie"]
            self.cookie = headers["set-cookie"].split(";")[0]
        return status


def wrong(code: str) -> str:
    return f"{(int(code) + 1) % 1_000_000:06d}"


@pytest.fixture(scope="module")
def watch() -> Watch:
    return Watch()


@pytest.fixture(scope="module")
def halts(tmp_path_factory: pytest.TempPathFactory, watch: Watch) -> Halts:
    return Halts(Room(Desk(shelf(tmp_path_factory.mktemp("shelf"), DEMO, OTHER)), watch))


@pytest.fixture
def sharing(halts: Halts) -> Iterator[Sharing]:
    found = Sharing(halts, lambda: (HERE,))
    yield found
    found.end()


@pytest.fixture
def guest(sharing: Sharing) -> Guest:
    sharing.begin(DEMO, HERE)
    return Guest(sharing.row())


def reachable(port: int, at: str = HERE) -> bool:
    with socket.socket() as probe:
        probe.settimeout(2)
        return probe.connect_ex((at, port)) == 0


def test_it_is_shared_over_the_network_at_the_address_that_was_chosen_and_at_no_other(halts: Halts) -> None:
    address = own_address()
    if address is None:
        pytest.skip("this machine has no address beside 127.0.0.1: sharing over a network is NOT TESTED")
    sharing = Sharing(halts, lambda: (address,))
    try:
        sharing.begin(DEMO, address)
        guest = Guest(sharing.row())
        assert guest.at == address and sharing.row()["address"] == f"http://{address}:{guest.port}/"
        assert reachable(guest.port, address) and not reachable(guest.port)
        assert guest.ask("/machine")[0] == 401
        assert guest.ask("/", Host=f"{HERE}:{guest.port}")[0] == 421
        assert guest.give(sharing.row()["code"]) == 303 and guest.ask("/machine")[0] == 200
        assert [d["address"] for d in sharing.row()["devices"]] == [address]
    finally:
        sharing.end()
    assert not reachable(guest.port, address)


def test_nothing_listens_before_it_is_turned_on_nor_after_it_is_turned_off(sharing: Sharing) -> None:
    assert sharing.row() == {"on": False, "addresses": [HERE]}
    sharing.begin(DEMO, HERE)
    port = Guest(sharing.row()).port
    assert reachable(port)
    sharing.end()
    assert not reachable(port) and not sharing.row()["on"]


def test_it_ends_at_once_also_while_a_device_holds_its_line_open(sharing: Sharing, guest: Guest) -> None:
    held = http.client.HTTPConnection(HERE, guest.port, timeout=10)
    held.request("GET", "/", headers={"Host": guest.host})
    held.getresponse().read()
    begun = time.monotonic()
    sharing.end()
    assert time.monotonic() - begun < 6 and not reachable(guest.port)
    with pytest.raises((OSError, http.client.HTTPException)):
        held.request("GET", "/", headers={"Host": guest.host})
        held.getresponse().read()
    held.close()


def test_without_the_code_nothing_of_the_project_is_told(guest: Guest) -> None:
    status, _, page = guest.ask("/")
    assert status == 200 and b"<form" in page and b"Tide" not in page
    for path in ("/machine", "/machine/stand", "/words/en", "/machine/pictures/panel/x/panel-step-01.svg"):
        assert guest.ask(path)[0] == 401
    for path in ("go", "follow", "rest", "note", "again", "accept"):
        assert guest.ask(f"/machine/{path}", b'{"hooping": "panel"}')[0] == 401


def test_the_right_code_opens_and_a_wrong_one_does_not(sharing: Sharing, guest: Guest) -> None:
    code = sharing.row()["code"]
    assert guest.give(wrong(code)) == 403 and guest.cookie is None
    for near in ("", code[:5], code + "0", " ", "００００００"):
        assert guest.give(near) in (403, 429)
        assert guest.cookie is None


def test_a_device_that_was_let_in_follows_the_halts(sharing: Sharing, guest: Guest) -> None:
    code = sharing.row()["code"]
    assert guest.give(f"{code[:3]} {code[3:]}") == 303
    assert "httponly" in guest.set_cookie.lower() and "samesite=strict" in guest.set_cookie.lower()
    assert b"machine_shared.js" in guest.ask("/")[2]
    assert guest.ask("/machine")[0] == 200
    body = b'{"hooping": "panel", "from": "before", "to": "1-1", "done": true}'
    assert guest.ask("/machine/go", body)[0] == 200
    note = '{"hooping": "panel", "group": "1", "text": "Fäden"}'.encode()
    assert guest.ask("/machine/note", note)[0] == 200
    row = sharing.halts.stand(DEMO)["hoopings"]["panel"]
    assert row["at"] == "1-1" and row["notes"] == {"1": "Fäden"}
    devices = sharing.row()["devices"]
    assert len(devices) == 1 and devices[0]["address"] == HERE


def test_its_pages_may_run_nothing_that_is_not_theirs(sharing: Sharing, guest: Guest) -> None:
    guest.give(sharing.row()["code"])
    for path in ("/", "/machine", "/parts/machine_view.js", "/nothing"):
        policy = guest.ask(path)[1]["content-security-policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy
    hooping = sharing.halts.plan(DEMO)["hoopings"][0]
    picture = f"/machine/pictures/panel/{hooping['print']}/{hooping['cards'][0]['picture']}"
    status, headers, data = guest.ask(picture)
    assert status == 200 and data.startswith(b"<") and "sandbox" in headers["content-security-policy"]


def test_every_module_that_is_asked_for_is_given_and_no_other(guest: Guest) -> None:
    for name in PARTS:
        status, _, data = guest.ask(f"/parts/{name}")
        assert status == 200 and data == (COMPONENTS / name).read_bytes()
        wanted = [line.split('"/parts/')[1].split('"')[0] for line in data.decode().splitlines() if '"/parts/' in line]
        assert set(wanted) <= set(PARTS), name
        assert "innerHTML" not in data.decode() and 'from "vue"' not in data.decode()
    for path in ("/parts/store.js", "/parts/..%2fserver.py", "/parts/", "/fonts/..%2f..%2fx", "/parts/machine.js"):
        assert guest.ask(path)[0] == 404


def test_no_other_project_and_nothing_that_edits_is_there(sharing: Sharing, guest: Guest) -> None:
    guest.give(sharing.row()["code"])
    for path in (
        "/api/shelf",
        f"/api/projects/{DEMO}",
        f"/api/projects/{OTHER}",
        f"/api/projects/{OTHER}/machine",
        "/api/sharing",
        f"/project/{DEMO}/draw",
        f"/machine/{OTHER}",
        "/docs",
        "/openapi.json",
    ):
        assert guest.ask(path)[0] == 404, path
    edit = b'{"base": 0, "what": "x", "changes": [{"path": "title", "value": "taken"}]}'
    for path in (f"/api/projects/{DEMO}/edit", "/api/sharing/end", f"/api/shelf/{DEMO}/archive", "/machine"):
        assert guest.ask(path, edit)[0] in (404, 405), path
    assert sharing.row()["on"]


def test_guessing_is_stopped(sharing: Sharing, guest: Guest) -> None:
    code = sharing.row()["code"]
    assert [guest.give(wrong(code)) for _ in range(WRONG_A_MINUTE)] == [403] * WRONG_A_MINUTE
    assert guest.give(wrong(code)) == 429
    assert guest.give(code) == 429, "not even the right one, within the minute"
    assert sharing.row()["wrong"] == WRONG_A_MINUTE


def test_after_twenty_wrong_codes_nobody_else_is_let_in() -> None:
    watch = Watch()
    door = Door(watch, "123456")
    inside, _ = door.knock("123456", "a")
    assert inside is not None
    for _ in range(MOST_WRONG // WRONG_A_MINUTE):
        assert all(door.knock("654321", "b")[0] is None for _ in range(WRONG_A_MINUTE))
        assert door.knock("123456", "b")[0] is None
        watch.now += MINUTE
    assert door.closed and door.knock("123456", "b") == (None, "closed")
    assert door.knows(inside, "a"), "who was inside stays"


def test_a_code_lets_in_a_few_devices_each_with_a_word_of_its_own() -> None:
    door = Door(Watch(), "123456")
    given = {door.knock("123 456", "a")[0] for _ in range(MOST_DEVICES + 2)}
    assert len(given - {None}) == MOST_DEVICES and None in given
    assert not door.knows("", "a") and not door.knows("x" * 43, "a")


def test_codes_are_fresh_and_of_six_digits(sharing: Sharing) -> None:
    codes = {fresh_code() for _ in range(200)}
    assert len(codes) > 190 and all(len(c) == 6 and c.isdigit() for c in codes)
    sharing.begin(DEMO, HERE)
    first = Guest(sharing.row())
    first.give(sharing.row()["code"])
    assert first.ask("/machine")[0] == 200
    sharing.begin(OTHER, HERE)
    second = Guest(sharing.row())
    second.cookie = first.cookie
    assert second.ask("/machine")[0] == 401, "who was let in to one sharing is not in the next"


@pytest.mark.parametrize("host", ["evil.example", "localhost:{port}", "evil.example:{port}", "127.0.0.1", ""])
def test_it_answers_by_its_own_address_only(sharing: Sharing, guest: Guest, host: str) -> None:
    guest.give(sharing.row()["code"])
    assert guest.ask("/machine", Host=host.format(port=guest.port))[0] == 421


@pytest.mark.parametrize("origin", ["http://evil.example", "null", ""])
def test_another_page_cannot_press_its_buttons(sharing: Sharing, guest: Guest, origin: str) -> None:
    guest.give(sharing.row()["code"])
    body = b'{"hooping": "panel", "from": "before", "to": "1-1", "done": true}'
    assert guest.ask("/machine/go", body, Origin=origin)[0] == 403
    assert guest.ask("/code", b"code=123456", Origin=origin)[0] == 403


def test_large_or_senseless_requests_are_refused(sharing: Sharing, guest: Guest) -> None:
    guest.give(sharing.row()["code"])
    assert guest.ask("/machine/note", b" " * 30_000)[0] == 413
    for body in (b"", b"[]", b"{", b'{"hooping": "panel", "from": "before", "to": "1-1", "more": 1}', b"\xff\xfe"):
        assert guest.ask("/machine/go", body)[0] == 422
    for form in (b"code=" + b"1" * 5000, b"&a=1" * 4000, b"\xff=%ff&code", b"{}"):
        assert guest.ask("/code", form)[0] == 403


def test_it_ends_after_its_hours(sharing: Sharing, guest: Guest, watch: Watch) -> None:
    guest.give(sharing.row()["code"])
    watch.now += 12 * 3600 - 1
    assert guest.ask("/machine")[0] == 200
    watch.now += 1
    assert guest.ask("/machine")[0] == 401
    assert not sharing.row()["on"] and not reachable(guest.port)


def test_its_own_timer_ends_it_when_nobody_looks(sharing: Sharing) -> None:
    sharing.begin(DEMO, HERE, hours=0.4 / 3600)
    port = Guest(sharing.row()).port
    end = time.monotonic() + 8
    while reachable(port) and time.monotonic() < end:
        time.sleep(0.1)
    assert not reachable(port)


def test_only_an_address_of_this_computer_is_taken(sharing: Sharing) -> None:
    for address in ("0.0.0.0", "192.168.255.254", "", "localhost"):
        with pytest.raises(HoopwrightError):
            sharing.begin(DEMO, address)
    with pytest.raises(HoopwrightError):
        sharing.begin("nothing-there", HERE)
    assert not sharing.row()["on"]


def test_addresses_to_choose_from_are_of_local_networks_only() -> None:
    for address in local_addresses():
        assert any(ipaddress.ip_address(address) in net for net in LOCAL)
    nets = [str(n) for n in LOCAL]
    assert nets == ["10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16"], "RFC 1918, section 3"


def test_the_door_speaks_the_language_of_the_device(guest: Guest) -> None:
    assert "Code aus sechs Ziffern" in guest.ask("/", Accept_Language="de-AT,de;q=0.9")[2].decode()
    assert "Code of six digits" in guest.ask("/", Accept_Language="xx,<script>;q=1")[2].decode()


def test_the_application_is_guarded_for_one_host(sharing: Sharing) -> None:
    app = shared_app(Shared(sharing.halts, DEMO, Door(Watch()), 60, lambda: False), "192.168.1.20:8790")
    assert isinstance(app, Guard) and app.hosts == {"192.168.1.20:8790"}
