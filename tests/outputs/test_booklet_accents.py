"""The booklet of accents: what is hooped for them, what takes it away, and the cautions that go with it."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from hoopwright.build import Build
from hoopwright.outputs.booklet.assembly import FILM_WET, NET_WARM, cautions, words_used
from hoopwright.outputs.booklet.materials import materials
from hoopwright.pipeline import build
from hoopwright.project.load import load
from hoopwright.project.schema import Project

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def made(name: str, base: str) -> Build:
    table = load(EXAMPLES / name / "project.toml").project.model_dump(by_alias=True)
    if table["item"] == "accent":
        table["make"] = {"motif": "leaf", "size": 34, "count": 1, "base": base}
    else:
        table["panel"]["accents"] = [{"motif": "leaf", "size": 34, "base": base}]
    return build(Project.model_validate(table), prove=False)


def listed(name: str, base: str) -> dict[str, Any]:
    return materials(made(name, base))


def test_what_is_hooped_for_accents_is_listed_for_itself() -> None:
    rows = [(r["layers"], r["hoopings"]) for r in listed("tide-mill-flap", "film")["hooped"]]
    assert rows[0] == (["2 layers of water-soluble film"], "1 hooping")
    assert len(rows) == 2 and rows[1][0][0].startswith("tear-away")
    assert [r["layers"] for r in listed("tide-lace", "net")["hooped"]] == [["fine synthetic net"]]


def test_tools_are_those_that_are_needed() -> None:
    film, net = (" ".join(listed("tide-lace", base)["tools"]) for base in ("film", "net"))
    assert "water" in film and "hot tool" not in film and "hot tool" in net
    assert "templates" not in film and "allowances" not in film
    assert "templates" in " ".join(listed("tide-mill-flap", "film")["tools"])


def test_each_base_has_its_caution() -> None:
    assert FILM_WET in cautions(made("tide-lace", "film").plan) and NET_WARM not in cautions(
        made("tide-lace", "film").plan
    )
    assert NET_WARM in cautions(made("tide-mill-flap", "net").plan)
    plain = build(load(EXAMPLES / "tide-mill-flap" / "project.toml").project, prove=False)
    assert not {FILM_WET, NET_WARM} & set(cautions(plain.plan))


def test_words_of_cloth_are_left_out_where_there_is_none() -> None:
    lace, flap = ({w["word"] for w in words_used(made(n, "film").plan)} for n in ("tide-lace", "tide-mill-flap"))
    assert {"Base", "Net", "Rim"} <= lace & flap
    assert "Seam allowance" in flap - lace
