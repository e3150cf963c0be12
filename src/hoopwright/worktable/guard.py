"""The door of the worktable: who may come in, and how much they may carry.

A page elsewhere on the web may send requests to a server on this machine, and may point a name of its own at it. So every
request and every websocket must name this server as its host, must not come from another origin, and must be of bounded
size; answers tell the browser to load nothing from elsewhere and to show the worktable in no other page.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from typing import Any, Final, TypeAlias

Message: TypeAlias = MutableMapping[str, Any]
Receive: TypeAlias = Callable[[], Awaitable[Message]]
Send: TypeAlias = Callable[[Message], Awaitable[None]]
App: TypeAlias = Callable[[Message, Receive, Send], Awaitable[None]]

MOST_BYTES: Final = 12_000_000
"""Bytes that one request may carry: the largest file a project may name is 10 MB, a photograph is made smaller before."""

SAFE: Final = frozenset({"GET", "HEAD", "OPTIONS"})

HEADERS: Final = (
    (
        b"content-security-policy",
        b"default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
        b"img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; object-src 'none'; base-uri 'none'; "
        b"form-action 'self'; frame-ancestors 'none'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
)
"""Sent with every answer. The page's framework compiles its templates in the browser, which needs 'unsafe-eval'; no text of
a project is ever a template."""


class Guard:
    """Wraps the worktable's application; see the module."""

    def __init__(self, app: App, hosts: Iterable[str], most: int = MOST_BYTES) -> None:
        """Let in requests for ``hosts`` ("127.0.0.1:8765") that carry at most ``most`` bytes."""
        self.app = app
        self.hosts = frozenset(h.lower() for h in hosts)
        self.origins = frozenset(f"http://{h}" for h in self.hosts)
        self.most = most

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        said = self._refusal(scope)
        if said is not None:
            await _refuse(scope, send, *said)
            return
        await self.app(scope, self._counted(receive), _with_headers(send))

    def _refusal(self, scope: Message) -> tuple[int, str] | None:
        """Return why a request is refused, as status and sentence."""
        headers = {k.lower(): v for k, v in scope["headers"]}
        if (
            sum(1 for k, _ in scope["headers"] if k.lower() == b"host") != 1
            or _text(headers, b"host") not in self.hosts
        ):
            return (
                421,
                "This is the worktable of another machine. Open it by the address it printed when it was started.",
            )
        origin = _text(headers, b"origin")
        asks = scope["type"] == "http" and scope["method"] in SAFE
        if origin not in self.origins and (origin or not asks):
            return 403, "Another page tried to reach the worktable. Nothing was changed."
        if _text(headers, b"sec-fetch-site") == "cross-site" and _text(headers, b"sec-fetch-mode") != "navigate":
            return 403, "Another page tried to look into the worktable. Nothing was shown."
        length = _text(headers, b"content-length")
        if length and (not length.isdigit() or int(length) > self.most):
            return 413, f"This file is too large: at most {self.most // 1_000_000} MB can be taken."
        return None

    def _counted(self, receive: Receive) -> Receive:
        """Return ``receive`` that ends a request in which more comes than may be carried, whatever it promised."""
        seen = 0

        async def counted() -> Message:
            nonlocal seen
            message = await receive()
            if message["type"] == "http.request":
                seen += len(message.get("body", b""))
                if seen > self.most:
                    return {"type": "http.disconnect"}
            return message

        return counted


def _text(headers: dict[bytes, bytes], name: bytes) -> str:
    return headers.get(name, b"").decode("latin-1").lower()


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            have = {k.lower() for k, _ in message.get("headers", ())}
            message["headers"] = [*message.get("headers", ()), *(row for row in HEADERS if row[0] not in have)]
        await send(message)

    return sending


async def _refuse(scope: Message, send: Send, status: int, sentence: str) -> None:
    if scope["type"] == "websocket":
        await send({"type": "websocket.close", "code": 4403, "reason": sentence[:120]})
        return
    headers = [(b"content-type", b"text/plain; charset=utf-8"), *HEADERS]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": sentence.encode()})
