"""What a project says is never carried out, and no other page gets at the worktable."""

from __future__ import annotations

import contextlib
import http.server
import threading
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Opener
from tests.browser.running import RunningTable
from tests.browser.window import ALL_SCREENS, Window

EVIL = "<img src=x onerror=window.carriedOut=1><script>window.carriedOut=1</script>{{carriedOut=1}}"


def poisoned(text: str) -> str:
    """Return the example with words for a browser wherever a maker may write words."""
    for name in (
        "Tide mill flap",
        "unbleached sailcloth",
        "indigo twill",
        "chalk white",
        "corn gold",
        "thin cotton batting",
    ):
        assert f'"{name}"' in text
        text = text.replace(f'"{name}"', f'"{EVIL[:118]}"' if name == "Tide mill flap" else f'"{EVIL[:79]}"')
    return text


@pytest.mark.parametrize("screen", ALL_SCREENS)
def test_words_of_a_project_stay_words(window: Opener, table: RunningTable, screen: str) -> None:
    name = table.put(change=poisoned)
    maker = window()
    maker.go(screen, "" if screen == "shelf" else name)
    maker.quiet()
    assert maker.page.get_by_text("<img src=x", exact=False).count() > 0, "the words are shown"
    assert maker.page.locator("img[src=x]").count() == 0
    assert maker.page.evaluate("window.carriedOut") is None
    table.take_off(name)


FOREIGN = """<!doctype html><title>foreign</title>
<form id="form" method="post" action="%(origin)s/api/projects/%(name)s/edit" enctype="text/plain" target="frame">
<input name='{"base":%(base)s,"what":"x","changes":[{"path":"title","value":"stolen' value='"}]}'></form>
<iframe name="frame" id="frame"></iframe>"""

ATTACK = """
async ([origin, name, base]) => {
  const said = {};
  const tell = async (key, work) => { try { said[key] = await work(); } catch (error) { said[key] = "refused"; } };
  const edit = JSON.stringify({ base, what: "x", changes: [{ path: "title", value: "stolen" }] });
  const url = `${origin}/api/projects/${name}`;
  await tell("read", async () => (await fetch(url, { credentials: "include" })).text());
  await tell("read blindly", async () => (await fetch(url, { credentials: "include", mode: "no-cors" })).type);
  await tell("write", async () => (await fetch(`${url}/edit`, { method: "POST", credentials: "include", headers: { "content-type": "application/json" }, body: edit })).text());
  await tell("write blindly", async () => (await fetch(`${url}/edit`, { method: "POST", credentials: "include", mode: "no-cors", body: edit })).type);
  const loads = (tag, key, address) => new Promise((done) => {
    const made = Object.assign(document.createElement(tag), { onload: () => done("loaded"), onerror: () => done("refused") });
    made[key] = address;
    document.body.append(made);
  });
  await tell("picture", () => loads("img", "src", `${origin}/recipes/panel.svg`));
  await tell("script", () => loads("script", "src", `${origin}/parts/measures.js`));
  await tell("socket", () => new Promise((done) => {
    const socket = new WebSocket(origin.replace("http", "ws") + "/_nicegui_ws/socket.io/?EIO=4&transport=websocket");
    socket.onopen = () => done("open");
    socket.onerror = () => done("refused");
  }));
  return said;
}
"""


def version(maker: Window, name: str) -> int:
    """Return the number of the version of a project that holds."""
    return int(maker.page.request.get(f"{maker.table.origin}/api/projects/{name}/version").json()["version"])


class Quiet(http.server.SimpleHTTPRequestHandler):
    """A server of files that says nothing."""

    def log_message(self, *args: Any) -> None:
        """Say nothing."""


@contextlib.contextmanager
def foreign_server(folder: Path) -> Iterator[int]:
    """Serve a folder on another port of this machine."""
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=folder)) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        yield server.server_port
        server.shutdown()
        thread.join()


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost"])
def test_a_page_elsewhere_gets_nothing(window: Opener, table: RunningTable, tmp_path: Path, host: str) -> None:
    name = table.put()
    before = table.file(name).read_text()
    victim = window(expect_faults=["."])
    victim.go("draw", name)
    (tmp_path / "index.html").write_text(
        FOREIGN % {"origin": table.origin, "name": name, "base": version(victim, name)}
    )
    with foreign_server(tmp_path) as port:
        page = victim.context.new_page()
        page.goto(f"http://{host}:{port}/")
        said = page.evaluate(ATTACK, [table.origin, name, version(victim, name)])
        assert said == dict.fromkeys(said, "refused")
        assert len(said) == 7
        with page.expect_request("**/edit"):
            page.evaluate("document.getElementById('form').submit()")
        page.evaluate("(url) => { document.getElementById('frame').src = url; }", f"{table.origin}/project/{name}/draw")
        page.wait_for_timeout(700)
        inside = page.frames[1]
        assert inside.evaluate("document.querySelector('.table, #app') === null"), (
            "the worktable is shown in a foreign page"
        )
        page.close()
    assert table.file(name).read_text() == before


def test_the_same_attack_from_the_worktable_itself_would_do_harm(window: Opener, table: RunningTable) -> None:
    """The test above can fail."""
    name = table.put()
    maker = window(expect_faults=["."])
    maker.go("draw", name)
    said = maker.page.evaluate(ATTACK, [table.origin, name, version(maker, name)])
    assert [key for key, value in said.items() if value == "refused"] == ["socket"], "no page talks over a socket"
    assert 'title = "stolen"' in table.file(name).read_text()
