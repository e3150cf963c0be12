"""Starting the worktable."""

from __future__ import annotations

import contextlib
import mimetypes
import socket
import threading
import time
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import Final

import font_source_sans_pro
import font_source_serif_pro
from fastapi import FastAPI
from nicegui import app, ui
from starlette.staticfiles import StaticFiles

from hoopwright.core.errors import OutputError
from hoopwright.worktable.api.answers import tell_errors
from hoopwright.worktable.api.beside import beside_router
from hoopwright.worktable.api.cloth import cloth_router
from hoopwright.worktable.api.draw import draw_router
from hoopwright.worktable.api.machine import machine_router
from hoopwright.worktable.api.project import project_router
from hoopwright.worktable.api.run import run_router
from hoopwright.worktable.api.settings import settings_router
from hoopwright.worktable.api.shelf import PICTURES, shelf_router
from hoopwright.worktable.api.swatches import swatches_router
from hoopwright.worktable.api.take import take_router
from hoopwright.worktable.api.texts import texts_router
from hoopwright.worktable.desk import Desk
from hoopwright.worktable.guard import KEY, Guard
from hoopwright.worktable.machine.halts import Halts
from hoopwright.worktable.machine.sharing import Sharing
from hoopwright.worktable.pages import add_pages
from hoopwright.worktable.room import Room

HOST: Final = "127.0.0.1"
FIRST_PORT: Final = 8765
PORTS: Final = 20
"""So many ports from the first are tried."""
WAITS: Final = 200
WAIT: Final = 0.05
"""So often, and so many seconds apart, it is tried whether the worktable answers before its address is told."""
COMPONENTS: Final = Path(__file__).parent / "components"


def hosts(port: int) -> tuple[str, ...]:
    """Return the names by which the worktable may be asked."""
    return f"{HOST}:{port}", f"localhost:{port}"


def fit_out(to: FastAPI, room: Room, port: int, key: str | None = None) -> Sharing:
    """Put routes, pages and the guard on an application; ``key`` as for ``serve``. What is returned must be ended with it."""
    sharing = Sharing(Halts(room))
    to.state.room = room
    mimetypes.add_type("text/javascript", ".js")
    to.include_router(shelf_router(room))
    to.include_router(project_router(room))
    to.include_router(draw_router(room))
    to.include_router(settings_router(room))
    to.include_router(run_router(room))
    to.include_router(take_router(room))
    to.include_router(cloth_router(room))
    to.include_router(beside_router(room))
    to.include_router(swatches_router())
    to.include_router(machine_router(sharing.halts, sharing))
    to.include_router(texts_router())
    tell_errors(to)
    for folder in (font_source_sans_pro, font_source_serif_pro):
        name = folder.__name__.split("_")[2]
        files = Path(str(folder.__file__)).parent / "files"
        to.mount(f"/fonts/{name}", StaticFiles(directory=files), name=f"fonts-{name}")
    to.mount("/recipes", StaticFiles(directory=PICTURES), name="recipes")
    to.mount("/parts", StaticFiles(directory=COMPONENTS), name="parts")
    to.add_middleware(Guard, hosts=hosts(port), key=key)
    return sharing


def free_port(wanted: int | None) -> int:
    """Return the wanted port, or without a wish the first free one of a few. Raises OutputError when there is none."""
    for port in range(FIRST_PORT, FIRST_PORT + PORTS) if wanted is None else (wanted,):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            with contextlib.suppress(OSError):
                probe.bind((HOST, port))
                return port
    raise OutputError(
        "The worktable cannot be opened: another program uses its address",
        "Close the other worktable, or give another number with --port",
    )


def _tell(port: int, address: str, ready: Callable[[str], None], *, show: bool) -> None:
    """Wait until the worktable answers at its port, then tell its address and open it in the browser if it is to be shown."""
    for _ in range(WAITS):
        with contextlib.suppress(OSError), socket.create_connection((HOST, port), timeout=1.0):
            break
        time.sleep(WAIT)
    ready(address)
    if show:
        webbrowser.open(address)


def serve(
    folder: Path,
    wanted: int | None,
    *,
    show: bool,
    ready: Callable[[str], None] = lambda _: None,
    key: str | None = None,
) -> None:
    """Serve the worktable of a folder on this machine until it is stopped; ``ready`` is told its whole address.

    ``key`` must be brought by whoever opens it (see hoopwright.worktable.guard); without one, everybody who uses this machine
    can. ``show`` opens the page in the browser.

    Raises OutputError when the folder or the wanted port cannot be used.
    """
    room = Room(Desk(folder))
    port = free_port(wanted)
    app.on_shutdown(fit_out(app, room, port, key).end)
    add_pages()
    address = f"http://{HOST}:{port}/" + ("" if key is None else f"?{KEY}={key}")
    telling = threading.Thread(target=_tell, args=(port, address, ready), kwargs={"show": show}, daemon=True)
    app.on_startup(telling.start)
    ui.run(
        host=HOST,
        port=port,
        title="Hoopwright",
        show=False,
        reload=False,
        tailwind=False,
        show_welcome_message=False,
        reconnect_timeout=10.0,
        uvicorn_logging_level="error",
    )
