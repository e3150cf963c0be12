"""The door of the worktable: who may come in, and how much they may carry.

A page elsewhere on the web may send requests to a server on this machine, and may point a name of its own at it. So every
request and every websocket must name this server as its host, must not come from another origin, and must be of bounded
size; answers tell the browser to load nothing from elsewhere and to show the worktable in no other page.

Other people who use the same machine can reach the same address. So the worktable is opened with a *key*, a long random word
at the end of the address it prints; the browser then carries it as a cookie that no page elsewhere can send or read.
"""

from __future__ import annotations

import hmac
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any, Final, TypeAlias
from urllib.parse import parse_qs

from hoopwright.translation.sentences import translated
from hoopwright.worktable.texts import language_of

Message: TypeAlias = MutableMapping[str, Any]
Receive: TypeAlias = Callable[[], Awaitable[Message]]
Send: TypeAlias = Callable[[Message], Awaitable[None]]
App: TypeAlias = Callable[[Message, Receive, Send], Awaitable[None]]

MOST_BYTES: Final = 12_000_000
"""Bytes that one request may carry: the largest file a project may name is 10 MB, a photograph is made smaller before."""

KEY: Final = "key"
"""The word in the address before the key."""
KEY_AGE: Final = 400 * 24 * 3600
"""Seconds that a browser keeps the key: the most that browsers allow (RFC 6265bis, 5.5)."""

NO_KEY: Final = (
    "Open the worktable by the whole address that it printed when it was started, with its key at the end.\n\n"
    "Öffnen Sie den Arbeitstisch mit der ganzen Adresse, die er beim Start genannt hat, mit dem Schlüssel am Ende."
)

CLOSED: Final = ("/_nicegui_ws", "/_nicegui/auto", "/_nicegui/client")
"""Beginnings of addresses of the page's framework that the worktable has no use for: its line to the browser, uploads."""

SAFE: Final = frozenset({"GET", "HEAD", "OPTIONS"})

Headers: TypeAlias = tuple[tuple[bytes, bytes], ...]

HEADERS: Final[Headers] = (
    (
        b"content-security-policy",
        b"default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
        b"img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; object-src 'none'; base-uri 'none'; "
        b"form-action 'self'; frame-ancestors 'none'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),
)
"""Sent with every answer. The page's framework compiles its templates in the browser, which needs 'unsafe-eval'; no text of
a project is ever a template."""
AT_HOME: Final = (b"cross-origin-opener-policy", b"same-origin")
"""Sent by an address of this machine alone: browsers heed it on a trusted way only, and complain about it on another."""
HOME: Final = ("127.0.0.1", "localhost")

ASKED_AGAIN: Final = ("/parts/", "/api/", "/recipes/")
"""Beginnings of addresses whose answers the browser keeps but asks about each time (RFC 9111, 5.2.2.4): after an upgrade, parts of
two versions must not meet on a page."""
FRAME: Final = "/components/"
"""In the address of the first of our parts, which the page's framework would let the browser keep unasked."""
ASK_AGAIN: Final = (b"cache-control", b"no-cache")


class Guard:
    """Wraps the worktable's application; see the module."""

    def __init__(self, app: App, hosts: Iterable[str], most: int = MOST_BYTES, key: str | None = None) -> None:
        """Let in requests for ``hosts`` ("127.0.0.1:8765") that carry at most ``most`` bytes and the ``key`` (None: any)."""
        self.app = app
        self.key = key
        self.hosts = frozenset(h.lower() for h in hosts)
        self.origins = frozenset(f"http://{h}" for h in self.hosts)
        self.most = most
        home = all(h.rpartition(":")[0] in HOME for h in self.hosts)
        self.headers = (*HEADERS, AT_HOME) if home else HEADERS

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        said = self._refusal(scope)
        if said is None and self._brings_key(scope):
            await self._hand_over(scope, send)
            return
        if said is None and not self._has_key(scope):
            said = (403, NO_KEY)
        if said is not None:
            await _refuse(scope, send, said[0], _in_language(scope, said[1]))
            return
        await self.app(scope, self._counted(receive), _with_headers(send, scope["path"], self.headers))

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
        if scope["path"].startswith(CLOSED):
            return 404, "There is nothing at this address."
        length = _text(headers, b"content-length")
        if length and (not length.isdigit() or int(length) > self.most):
            return 413, f"This file is too large: at most {self.most // 1_000_000} MB can be taken."
        return None

    def _brings_key(self, scope: Message) -> bool:
        """Whether this is the address with the key, as it was printed."""
        if self.key is None or scope["type"] != "http" or scope["method"] != "GET" or scope["path"] != "/":
            return False
        try:
            given = parse_qs(scope.get("query_string", b"").decode("latin-1"), max_num_fields=10).get(KEY, [])
        except ValueError:
            return False
        return any(_same(one, self.key) for one in given)

    def _has_key(self, scope: Message) -> bool:
        if self.key is None:
            return True
        headers = [v.decode("latin-1") for k, v in scope["headers"] if k.lower() == b"cookie"]
        jar: SimpleCookie = SimpleCookie()
        try:
            jar.load("; ".join(headers))
        except CookieError:
            return False
        found = jar.get(self._cookie(scope))
        return found is not None and _same(found.value, self.key)

    def _cookie(self, scope: Message) -> str:
        """Return the cookie's name; browsers keep cookies by machine, not by port, so the port is part of it."""
        port = _text({k.lower(): v for k, v in scope["headers"]}, b"host").rpartition(":")[2]
        return f"hoopwright-{port}"

    async def _hand_over(self, scope: Message, send: Send) -> None:
        """Give the browser the key to keep, and lead it to the page, so that the key does not stay in the address."""
        cookie = f"{self._cookie(scope)}={self.key}; Path=/; HttpOnly; SameSite=Strict; Max-Age={KEY_AGE}"
        headers = [
            (b"location", b"/"),
            (b"set-cookie", cookie.encode()),
            (b"cache-control", b"no-store"),
            (b"content-length", b"0"),
            *HEADERS,
        ]
        await send({"type": "http.response.start", "status": 303, "headers": headers})
        await send({"type": "http.response.body", "body": b""})

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


def _in_language(scope: Message, sentence: str) -> str:
    """Return a refusal in the language of the page that asked; one that stands in all languages is not changed by that."""
    accepted = _text({k.lower(): v for k, v in scope["headers"]}, b"accept-language")
    return sentence if sentence is NO_KEY else translated(sentence, language_of(accepted))


def _same(one: str, other: str) -> bool:
    """Whether two keys are the same, compared in a time that does not tell how much of them is."""
    return hmac.compare_digest(one.encode("utf-8", "replace"), other.encode())


def _with_headers(send: Send, path: str, headers: Headers) -> Send:
    ours = path.startswith("/_nicegui/") and FRAME in path
    wanted = (*headers, ASK_AGAIN) if ours or path.startswith(ASKED_AGAIN) else headers

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            rows = [row for row in message.get("headers", ()) if not (ours and row[0].lower() == ASK_AGAIN[0])]
            have = {k.lower() for k, _ in rows}
            message["headers"] = [*rows, *(row for row in wanted if row[0] not in have)]
        await send(message)

    return sending


async def _refuse(scope: Message, send: Send, status: int, sentence: str) -> None:
    if scope["type"] == "websocket":
        await send({"type": "websocket.close", "code": 4403, "reason": sentence[:120]})
        return
    headers = [(b"content-type", b"text/plain; charset=utf-8"), *HEADERS]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": sentence.encode()})
