"""The door: who is let in. Facts about Host and Origin: RFC 9110 (7.2) and RFC 6454; fetch metadata: W3C Fetch Metadata Request Headers."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI, Request, WebSocket
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from hoopwright.worktable.guard import Guard
from tests.worktable.tables import HOME, PORT, shelf, table


def door(most: int = 1000) -> TestClient:
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

    app.add_middleware(Guard, hosts=(f"127.0.0.1:{PORT}", f"localhost:{PORT}"), most=most)
    return TestClient(app, base_url=HOME)


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
