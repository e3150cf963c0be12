"""What another device sees: one project's halts, its own two small pages, and nothing else of the worktable.

The page after the door is the same component as on the maker's screen, without the framework of the worktable: plain modules
from this folder's own list, so that the browser may be told to run nothing that is not among them.
"""

from __future__ import annotations

import html
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from pathlib import Path
from typing import Any, Final, TypeAlias
from urllib.parse import parse_qs

import font_source_sans_pro
import font_source_serif_pro
from pydantic import ValidationError
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from hoopwright.core.errors import HoopwrightError, OutputError
from hoopwright.worktable.guard import App, Guard, Message, Receive, Send
from hoopwright.worktable.machine.asked import MOST_BYTES, GoBody, HoopingBody, NoteBody, RestBody
from hoopwright.worktable.machine.door import Door
from hoopwright.worktable.machine.halts import Halts
from hoopwright.worktable.speech import FOUND, Speech
from hoopwright.worktable.texts import FIRST, NAMES, language_of, words
from hoopwright.worktable.workbook import GoneError

COMPONENTS: Final = Path(__file__).parents[1] / "components"
PARTS: Final = (
    "start.js",
    "machine_shared.js",
    "machine_view.js",
    "machine_cards.js",
    "machine_words.js",
    "machine_dom.js",
    "measures.js",
    "machine.css",
    "machine_shared.css",
)
"""The only files of the worktable that another device may load."""
FONTS: Final = {
    name: Path(str(module.__file__)).parent / "files" / name
    for module, names in (
        (font_source_sans_pro, ("SourceSansPro-Regular.ttf", "SourceSansPro-Semibold.ttf")),
        (font_source_serif_pro, ("SourceSerifPro-Semibold.ttf",)),
    )
    for name in names
}
KINDS: Final = {".js": "text/javascript", ".css": "text/css", ".ttf": "font/ttf"}
WORDS: Final = "machine."
"""Only words with this beginning are told."""

POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
PICTURE_POLICY: Final = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
PAGE: Final = (
    (b"content-security-policy", POLICY.encode()),
    (b"referrer-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)
"""Sent where an answer says nothing else. Without a referrer the code's form would come from nowhere, and be refused."""


@dataclass(frozen=True, slots=True, eq=False)
class Shared:
    """What is shared: the halts of one project, who may come in, for how long a device is known, whether it has ended."""

    halts: Halts
    name: str
    door: Door
    seconds: int
    ended: Callable[[], bool]


def shared_app(shared: Shared, host: str) -> App:
    """Return the application that another device asks at ``host`` ("192.168.1.20:8790") and by no other name."""
    cookie = f"hoopwright-shared-{host.rpartition(':')[2]}"
    pages = _Pages(shared, cookie)
    app = Starlette(routes=pages.routes(), exception_handlers={HTTPException: _refused, HoopwrightError: _told})
    return Guard(_Own(app, pages.lets_in), hosts=(host,), most=MOST_BYTES)


Answer: TypeAlias = Callable[[Request], Awaitable[Response]]

OPEN: Final = ("/", "/code", "/parts/", "/fonts/")
"""What may be asked without the code: nothing of it tells anything of a project."""


class _Own:
    """Lets nobody past the door without the code, nothing after the end, and gives every answer the headers of these pages."""

    def __init__(self, app: App, lets_in: Callable[[Message], bool]) -> None:
        self.app = app
        self.lets_in = lets_in

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return

        async def sending(message: Message) -> None:
            if message["type"] == "http.response.start":
                have = {k.lower() for k, _ in message.get("headers", ())}
                message["headers"] = [*message.get("headers", ()), *(row for row in PAGE if row[0] not in have)]
            await send(message)

        path = scope["path"]
        free = path in OPEN[:2] or path.startswith(OPEN[2:])
        if free or self.lets_in(scope):
            await self.app(scope, receive, sending)
        else:
            said = {"message": "Open the page and give the code first", "cure": "The maker's screen shows it"}
            speech = Speech(_language(Request(scope)))
            await JSONResponse(speech.of(said, FOUND), 401)(scope, receive, sending)


class _Pages:
    """The routes of one sharing."""

    def __init__(self, shared: Shared, cookie: str) -> None:
        self.shared = shared
        self.cookie = cookie

    def routes(self) -> list[Route]:
        """Return everything that can be asked."""
        halts, name = self.shared.halts, self.shared.name
        posts: tuple[tuple[str, type[HoopingBody], Callable[[Any], dict[str, Any]]], ...] = (
            ("go", GoBody, lambda b: halts.go(name, b.hooping, b.come_from, b.to, done=b.done)),
            ("follow", HoopingBody, lambda b: halts.follow(name, b.hooping)),
            ("rest", RestBody, lambda b: halts.rest(name, b.hooping, on=b.on)),
            ("note", NoteBody, lambda b: halts.note(name, b.hooping, b.group, b.text)),
            ("again", HoopingBody, lambda b: halts.again(name, b.hooping)),
            ("accept", HoopingBody, lambda b: halts.accept(name, b.hooping)),
        )
        return [
            Route("/", self.page),
            Route("/code", self.code, methods=["POST"]),
            Route("/parts/{file}", _part),
            Route("/fonts/{file}", _font),
            Route("/words/{language}", _words),
            Route("/machine", _asked(lambda say: halts.told(name, say), lambda: halts.names(name))),
            Route("/machine/stand", _asked(lambda _: halts.stand(name))),
            *(Route(f"/machine/{path}", _posted(kind, work), methods=["POST"]) for path, kind, work in posts),
            Route("/machine/pictures/{key}/{print_}/{file}", self.picture),
        ]

    def lets_in(self, scope: Message) -> bool:
        """Whether the device that asks was let in, and the sharing still goes on."""
        if self.shared.ended():
            return False
        jar: SimpleCookie = SimpleCookie()
        try:
            jar.load("; ".join(v.decode("latin-1") for k, v in scope["headers"] if k.lower() == b"cookie"))
        except CookieError:
            return False
        found = jar.get(self.cookie)
        return found is not None and self.shared.door.knows(found.value, _address(scope))

    async def page(self, request: Request) -> Response:
        """Return the halts for a device that was let in, else the door."""
        if not self.lets_in(request.scope):
            return _door(request, "")
        return HTMLResponse(_html(request, "", script=True))

    async def code(self, request: Request) -> Response:
        """Let a device in that brings the code."""
        given = _given((await request.body()).decode("utf-8", "replace"))
        word, said = (None, "closed") if self.shared.ended() else self.shared.door.knock(given, _address(request.scope))
        if word is None:
            return _door(request, said)
        answer = RedirectResponse("/", 303)
        answer.set_cookie(self.cookie, word, max_age=self.shared.seconds, path="/", httponly=True, samesite="strict")
        return answer

    async def picture(self, request: Request) -> Response:
        """Return a picture of a halt, which runs nothing, also when it is opened by itself."""
        key, print_, file = (request.path_params[k] for k in ("key", "print_", "file"))
        language = language_of(request.query_params.get("in", FIRST))
        data = await run_in_threadpool(self.shared.halts.picture, self.shared.name, key, print_, file, language)
        headers = {"content-security-policy": PICTURE_POLICY, "cache-control": "private, max-age=86400, immutable"}
        return Response(data, media_type="image/svg+xml", headers=headers)


def _given(form: str) -> str:
    """Return the code in a form; nothing from one that is not ours."""
    try:
        return parse_qs(form, max_num_fields=5).get("code", [""])[0]
    except ValueError:
        return ""


def _asked(work: Callable[[Speech], dict[str, Any]], names: Callable[[], tuple[str, ...]] = tuple) -> Answer:
    async def answer(request: Request) -> Response:
        return JSONResponse(await run_in_threadpool(work, Speech(_language(request), names)))

    return answer


def _posted(kind: type[HoopingBody], work: Callable[[Any], dict[str, Any]]) -> Answer:
    async def answer(request: Request) -> Response:
        try:
            asked = kind.model_validate_json(await request.body())
        except ValidationError:
            body = {"message": "This was not understood", "cure": "Load the page again"}
            return JSONResponse(Speech(_language(request)).of(body, FOUND), 422)
        return JSONResponse(await run_in_threadpool(work, asked))

    return answer


async def _part(request: Request) -> Response:
    return _file({p: COMPONENTS / p for p in PARTS}.get(request.path_params["file"]))


async def _font(request: Request) -> Response:
    return _file(FONTS.get(request.path_params["file"]))


def _file(path: Path | None) -> Response:
    if path is None:
        raise HTTPException(404)
    return Response(path.read_bytes(), media_type=KINDS[path.suffix], headers={"cache-control": "no-cache"})


async def _words(request: Request) -> Response:
    code = request.path_params["language"]
    code = code if code in NAMES else FIRST
    rows = {k: v for k, v in words(code).items() if k.startswith(WORDS)}
    languages = [{"code": c, "name": n} for c, n in NAMES.items()]
    return JSONResponse({"language": code, "languages": languages, "words": rows})


def _door(request: Request, said: str) -> Response:
    status = {"": 200, "wait": 429}.get(said, 403)
    return HTMLResponse(_html(request, said, script=False), status)


def _html(request: Request, said: str, *, script: bool) -> str:
    language = _language(request)
    word = words(language)
    head = (
        f'<!doctype html><html lang="{language}"><head><meta charset="utf-8"><title>Hoopwright</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:,">'
        '<link rel="stylesheet" href="/parts/machine_shared.css"><link rel="stylesheet" href="/parts/machine.css">'
    )
    if script:
        parts = "".join(f'<script type="module" src="/parts/{p}.js"></script>' for p in ("start", "machine_shared"))
        return f"{head}{parts}</head><body></body></html>"
    told = f'<p class="door-said" role="alert">{html.escape(word[f"machine.door.{said}"])}</p>' if said else ""
    ask = (
        f'<form method="post" action="/code"><label for="code">{html.escape(word["machine.door.code"])}</label>'
        '<input id="code" name="code" inputmode="numeric" autocomplete="off" maxlength="12" required autofocus>'
        f"<button>{html.escape(word['machine.door.open'])}</button></form>"
    )
    title, help_ = html.escape(word["machine.door.title"]), html.escape(word["machine.door.help"])
    return f'{head}</head><body><main class="door"><h1>{title}</h1>{told}<p>{help_}</p>{ask}</main></body></html>'


def _language(request: Request) -> str:
    """Return the first language of the browser that there are words in."""
    return language_of(request.headers.get("accept-language", ""))


def _address(scope: Message) -> str:
    client = scope.get("client")
    return str(client[0]) if client else ""


async def _told(request: Request, error: Exception) -> Response:
    assert isinstance(error, HoopwrightError)
    status = 507 if isinstance(error, OutputError) else 404 if isinstance(error, GoneError) else 400
    said = {"message": error.message, "cure": error.cure}
    return JSONResponse(Speech(_language(request)).of(said, FOUND), status)


async def _refused(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    said = {"message": "There is nothing at this address", "cure": ""}
    return JSONResponse(Speech(_language(request)).of(said, FOUND), error.status_code)
