"""Write a hooping as stitch files, one per kind. Same hooping, same bytes: no clock, nothing random."""

from __future__ import annotations

import io
from dataclasses import dataclass
from types import ModuleType
from typing import Final

from pystitch import DstWriter, ExpWriter, JefWriter, PecWriter, PesWriter, U01Writer, Vp3Writer, XxxWriter
from pystitch.EmbPattern import EmbPattern

from hoopwright.core.errors import StitchFileError
from hoopwright.core.findings import Finding, blocking
from hoopwright.core.types import Mm
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.machine.colours import BlockColour, block_colours
from hoopwright.outputs.machine.headers import plain_name, with_entry_numbers, with_tape_header
from hoopwright.outputs.machine.kinds import KINDS, Colours, KindFacts
from hoopwright.outputs.machine.limits import limits, waiting_place
from hoopwright.outputs.machine.pattern import pattern_of
from hoopwright.project.schema import Project

WRITERS: Final[dict[str, ModuleType]] = {
    "dst": DstWriter,
    "exp": ExpWriter,
    "jef": JefWriter,
    "pec": PecWriter,
    "pes": PesWriter,
    "u01": U01Writer,
    "vp3": Vp3Writer,
    "xxx": XxxWriter,
}

SETTINGS: Final[dict[str, object]] = {"encode": False, "version": "6", "trims": True, "date": "20000101000000"}
"""For every writer: our commands as they stand, exact colours in pes, thread cuts and a fixed date in jef."""


@dataclass(frozen=True, slots=True)
class MachineFile:
    """A stitch file: its kind ("dst"), its file name and its bytes."""

    kind: str
    name: str
    data: bytes


def machine_files(
    hooping: Hooping, project: Project, field: tuple[Mm, Mm], title: str
) -> tuple[tuple[MachineFile, ...], tuple[Finding, ...]]:
    """Return the stitch files of a hooping in the kinds the project asks for, and what there is to say about them.

    ``field`` is the hoop's (width, height) in mm, ``title`` the name shown by machines (made plain ASCII). No file is
    written when the hooping cannot be recorded truthfully; the findings then say why.
    """
    kinds = [KINDS[k] for k in dict.fromkeys(project.machine.kinds)]
    findings = limits(hooping, project, field, kinds)
    if blocking(findings):
        return (), findings
    return tuple(_file(hooping, project, field, title, facts) for facts in kinds), findings


def _file(hooping: Hooping, project: Project, field: tuple[Mm, Mm], title: str, facts: KindFacts) -> MachineFile:
    threads = [project.threads[s.stitch.thread] for s in hooping.steps]
    colours = block_colours([t.colour for t in threads], facts)
    waiting = waiting_place(project, field) if facts.waits else None
    pattern = pattern_of(hooping, facts, colours, [plain_name(t.name, 40) for t in threads], waiting)
    pattern.metadata("name", plain_name(title, 16))
    return MachineFile(facts.kind, f"{hooping.key}.{facts.kind}", _bytes(pattern, facts, colours, title))


def _bytes(pattern: EmbPattern, facts: KindFacts, colours: tuple[BlockColour, ...], title: str) -> bytes:
    stream = io.BytesIO()
    try:
        WRITERS[facts.kind].write(pattern, stream, dict(SETTINGS))
    except Exception as error:
        raise StitchFileError(f"the {facts.kind} file could not be written: {error}") from error
    data = stream.getvalue()
    if facts.kind == "dst":
        return with_tape_header(data, plain_name(title, 16))
    if facts.colours in (Colours.BOTH, Colours.PALETTE) and facts.kind != "jef":
        return with_entry_numbers(data, [c.number for c in colours])
    return data
