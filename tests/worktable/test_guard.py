"""The door: who is let in. Facts about Host and Origin: RFC 9110 (7.2) and RFC 6454; fetch metadata: W3C Fetch Metadata Request Headers."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI, Request, WebSocket
from starlette.responses import Response
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from hoopwright.worktable.guard import Guard
from hoopwright.worktable.key import LETTERS, kept_key
from tests.worktable.tables import HOME, PORT, shelf, table


def door(most: int = 1000, key: str | None = None) -> TestClient:
    app = FastAPI()

    @app.get("/")
    def there() -> str:
        return "there"

    @app.post("/")
    async def taken() -> str:
        return "taken"

    @app.websocket("/talk")
    async def talk(socket: WebSocket) -> None:
        await socket.accept()
        await socket.send_text("hello")
        await socket.close()

    app.add_middleware(Guard, hosts=(f"127.0.0.1:{PORT}", f"localhost:{PORT}"), most=most, key=key)
    return TestClient(app, base_url=HOME, follow_redirects=False)


def test_its_own_page_is_let_in() -> None:
    assert door().get("/").status_code == 200
    assert door().get("/", headers={"host": f"LocalHost:{PORT}"}).status_code == 200
    assert door().post("/", headers={"origin": HOME}).status_code == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", f"127.0.0.1.evil.example:{PORT}", f"evil.example:{PORT}", ""]
)
def test_another_host_is_not(host: str) -> None:
    assert door().get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", f"https://127.0.0.1:{PORT}", "http://127.0.0.1:1", f"{HOME}.evil.example"]
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_another_origin_is_not(origin: str, method: str) -> None:
    assert door().request(method, "/", headers={"origin": origin}).status_code == 403


def test_a_change_must_name_its_origin() -> None:
    assert door().post("/").status_code == 403


def test_a_picture_in_a_foreign_page_is_not_shown_but_a_link_is_followed() -> None:
    assert door().get("/", headers={"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}).status_code == 403
    assert door().get("/", headers={"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}).status_code == 200


def test_too_much_is_refused_before_it_is_read() -> None:
    refused = door().post("/", content=b"x" * 1001, headers={"origin": HOME})
    assert refused.status_code == 413
    assert "at most" in refused.text


def test_more_than_was_promised_is_cut_off() -> None:
    def pieces() -> Iterator[bytes]:
        for _ in range(5):
            yield b"x" * 400

    app = FastAPI()
    seen: list[int] = []

    @app.post("/")
    async def taken(request: Request) -> str:
        seen.append(len(await request.body()))
        return "taken"

    app.add_middleware(Guard, hosts=(f"127.0.0.1:{PORT}",), most=1000)
    client = TestClient(app, base_url=HOME, raise_server_exceptions=False)
    answer = client.post("/", content=pieces(), headers={"origin": HOME})
    assert answer.status_code != 200
    assert seen == []


def test_a_websocket_from_the_page_is_let_in() -> None:
    with door().websocket_connect(f"ws://127.0.0.1:{PORT}/talk", headers={"origin": HOME}) as socket:
        assert socket.receive_text() == "hello"


@pytest.mark.parametrize("headers", [{}, {"origin": "http://evil.example"}, {"origin": HOME, "host": "evil.example"}])
def test_no_other_websocket_is(headers: dict[str, str]) -> None:
    with pytest.raises(WebSocketDisconnect), door().websocket_connect(f"ws://127.0.0.1:{PORT}/talk", headers=headers):
        pass


def test_every_answer_forbids_foreign_scripts_and_frames(tmp_path: Path) -> None:
    for path in ("/api/shelf", "/parts/table.js", "/nowhere"):
        headers = table(shelf(tmp_path / path.replace("/", "_"))).get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'self'" in policy and "frame-ancestors 'none'" in policy and "http" not in policy
        assert headers["x-content-type-options"] == "nosniff"


KEY = "k" * 43


@pytest.mark.parametrize(("host", "sent"), [("127.0.0.1", True), ("192.168.1.20", False)])
def test_what_browsers_heed_on_a_trusted_way_only_is_sent_there_only(host: str, sent: bool) -> None:
    """HTML, "Cross-origin opener policy": it is ignored where the origin is not potentially trustworthy; loopback addresses are."""
    app = FastAPI()
    app.add_middleware(Guard, hosts=(f"{host}:{PORT}",))
    answer = TestClient(app, base_url=f"http://{host}:{PORT}").get("/")
    assert ("cross-origin-opener-policy" in answer.headers) is sent
    assert answer.headers["cross-origin-resource-policy"] == "same-origin"


def test_who_brings_the_key_may_come_again_without_it() -> None:
    client = door(key=KEY)
    assert client.get("/").status_code == 403
    answer = client.get(f"/?key={KEY}")
    assert answer.status_code == 303 and answer.headers["location"] == "/"
    assert answer.headers["cache-control"] == "no-store"
    assert client.get("/").status_code == 200
    assert client.post("/", headers={"origin": HOME}).status_code == 200
    with client.websocket_connect(f"ws://127.0.0.1:{PORT}/talk", headers={"origin": HOME}) as socket:
        assert socket.receive_text() == "hello"


@pytest.mark.parametrize(
    "query",
    ["", "?key=", f"?key={KEY}x", f"?key={KEY[:-1]}", "?key=%ff%fe", f"?KEY={KEY}", "?" + "key=x&" * 11, f"?x={KEY}"],
)
def test_a_wrong_key_is_none(query: str) -> None:
    client = door(key=KEY)
    assert client.get(f"/{query}").status_code == 403
    assert client.get("/").status_code == 403


def test_the_key_is_taken_at_the_door_only() -> None:
    client = door(key=KEY)
    assert client.get(f"/talk?key={KEY}").status_code == 403
    assert client.post(f"/?key={KEY}", headers={"origin": HOME}).status_code == 403
    assert client.get(f"/?key={KEY}", headers={"host": "evil.example"}).status_code == 421


@pytest.mark.parametrize(
    "cookie",
    [f"hoopwright-{PORT}=wrong", f"hoopwright-1={KEY}", f"key={KEY}", "=;=;", f"hoopwright-{PORT}", "a" * 5000],
)
def test_another_cookie_is_no_key(cookie: str) -> None:
    assert door(key=KEY).get("/", headers={"cookie": cookie}).status_code == 403


def test_a_websocket_without_the_key_is_not_opened() -> None:
    client = door(key=KEY)
    with (
        pytest.raises(WebSocketDisconnect),
        client.websocket_connect(f"ws://127.0.0.1:{PORT}/talk", headers={"origin": HOME}),
    ):
        pass


def test_what_is_closed_is_closed_to_all() -> None:
    assert door().get("/_nicegui_ws/socket.io/").status_code == 404
    assert door().post("/_nicegui/client/1/upload/2", headers={"origin": HOME}).status_code == 404


def test_a_key_is_kept_for_its_owner_alone(tmp_path: Path) -> None:
    key = kept_key(tmp_path / "state")
    place = tmp_path / "state" / "worktable-key"
    assert len(key) >= 43 and kept_key(tmp_path / "state") == key
    if os.name != "nt":
        assert place.stat().st_mode & 0o777 == 0o600
        place.chmod(0o644)
        assert kept_key(tmp_path / "state") != key, "others could have read it"


@pytest.mark.parametrize("text", ["", "short", "x" * 200, "a b" * 20, "\n" * 50])
def test_a_spoilt_key_is_made_anew(tmp_path: Path, text: str) -> None:
    (tmp_path / "worktable-key").write_text(text)
    (tmp_path / "worktable-key").chmod(0o600)
    assert LETTERS.fullmatch(kept_key(tmp_path))


def test_a_key_that_cannot_be_kept_is_for_this_time(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    first, second = kept_key(tmp_path / "file"), kept_key(tmp_path / "file")
    assert LETTERS.fullmatch(first) and first != second


@pytest.mark.parametrize("path", ["/parts/root.js", "/parts/style.css", "/api/texts/en"])
def test_parts_and_answers_are_asked_about_each_time(tmp_path: Path, path: str) -> None:
    answer = table(tmp_path).get(path)
    assert answer.status_code == 200
    assert answer.headers.get_list("cache-control") == ["no-cache"]
    if "etag" in answer.headers:
        assert table(tmp_path).get(path, headers={"if-none-match": answer.headers["etag"]}).status_code == 304


def test_the_first_part_too_which_the_frame_would_let_be_kept() -> None:
    async def kept() -> Response:
        return Response("", headers={"cache-control": "public, max-age=3600"})

    app = FastAPI()
    app.get("/_nicegui/3/components/{key}")(kept)
    app.add_middleware(Guard, hosts=(f"127.0.0.1:{PORT}",))
    answer = TestClient(app, base_url=HOME).get("/_nicegui/3/components/root.js")
    assert answer.headers.get_list("cache-control") == ["no-cache"]
