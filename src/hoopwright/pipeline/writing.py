"""From a build to files."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from hoopwright.build import Build
from hoopwright.catalog.hoops import Field, fields
from hoopwright.catalog.kinds import FileKind, kinds
from hoopwright.checks.rules import check
from hoopwright.core.errors import BlockedError, OutputError
from hoopwright.core.findings import blocking
from hoopwright.estimate.estimate import estimate
from hoopwright.estimate.findings import estimate_findings
from hoopwright.items.swatches.sheets import swatch_sheets
from hoopwright.items.swatches.wish import FAMILIES, Family, Paper, SwatchWish, Weight
from hoopwright.outputs.bundle import bundle
from hoopwright.outputs.folder import Lying, put_file, put_folder, refuse_foreign, what_lies
from hoopwright.outputs.machine.facts import StitchFacts, facts
from hoopwright.outputs.naming import hooping_title
from hoopwright.outputs.swatches.writing import swatch_files
from hoopwright.outputs.writing import Tell, all_files, machine_stage, map_pictures
from hoopwright.project.lengths import Units
from hoopwright.project.load import with_lines
from hoopwright.project.schema import Language
from hoopwright.stitchfiles.read import read_stitches


def results(
    made: Build, *, despite: bool = False, tell: Tell = lambda _: None, text: str | None = None
) -> tuple[Build, Mapping[str, bytes]]:
    """Make every file of a build in memory; return the build with all findings, and the files by name.

    ``text`` is the project file: findings then carry their line in it, also in the booklet and the record. ``tell`` is told
    each of RESULT_STAGES as it begins. Raises BlockedError when a finding blocks (unless ``despite``).
    """
    tell("stitch files")
    made, machine = machine_stage(made)
    made = made if text is None else replace(made, findings=with_lines(made.findings, text))
    if made.blocked and not despite:
        blocks = blocking(made.findings)
        raise BlockedError(
            f"Nothing was written: {len(blocks)} finding{'s' if len(blocks) > 1 else ''} would spoil the work",
            made.findings,
            "Mend what they say, or build anyway with --despite-findings.",
        )
    return made, all_files(made, machine, tell)


RESULT_STAGES: Final = ("stitch files", "pictures", "templates", "booklet", "record")
"""What ``results`` makes, in this order."""


def write(
    made: Build, folder: Path, *, despite: bool = False, tell: Tell = lambda _: None, text: str | None = None
) -> Build:
    """Write every file of a build, made as by ``results``, to ``folder``, whole or not at all; return the build with all findings.

    Raises BlockedError when a finding blocks (unless ``despite``), OutputError when the folder cannot be written.
    """
    made, files = results(made, despite=despite, tell=tell, text=text)
    put_folder(files, folder)
    return made


def put_results(files: Mapping[str, bytes], folder: Path, otherwise: str) -> None:
    """Write files made by ``results`` to ``folder``, whole or not at all; ``otherwise`` is what else the maker may do.

    Raises OutputError when the folder cannot be written.
    """
    put_folder(files, folder, otherwise)


def bundled(files: Mapping[str, bytes], name: str) -> bytes:
    """Return files made by ``results`` as one zip archive that unpacks to a folder ``name``."""
    return bundle(files, name)


def lying(folder: Path) -> Lying | None:
    """Return what lies in a folder of results; None when there is none."""
    return what_lies(folder)


def expected_stitch_files(made: Build) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the stitch files that a build would have: (title of the hooping, names), in the order of sewing."""
    wanted = tuple(dict.fromkeys(made.plan.project.machine.kinds))
    return tuple((hooping_title(made.plan, h), tuple(f"{h.key}.{k}" for k in wanted)) for h in made.plan.hoopings)


def sold_fields() -> tuple[Field, ...]:
    """Return the hoop fields that are commonly sold, from the smallest to the largest."""
    return fields()


def stitch_file_kinds() -> tuple[FileKind, ...]:
    """Return the kinds of stitch files that can be written."""
    return kinds()


def write_swatches(
    folder: Path,
    *,
    field: str = "130x180",
    kinds: tuple[str, ...] = (),
    units: Units = "mm",
    paper: Paper = "A4",
    language: Language = "en",
    weight: Weight = "bold",
    only: Family | None = None,
    tell: Tell = lambda _: None,
) -> Build:
    """Write sheets to sew with every seam stitch and every ground, and their card, to ``folder``, whole or not at all.

    ``field`` is the hoop's, ``kinds`` those of the stitch files (none: the usual ones), ``language`` that of the card, ``weight`` that of the seam stitches, ``only`` leaves
    out the other family. Raises HoopwrightError for a field that no hoop has or an unknown kind, BlockedError for one too small for a swatch, OutputError when the folder cannot be
    written.
    """
    with contextlib.suppress(OSError):  # what else is wrong with the folder is told when it is written
        refuse_foreign(folder)
    tell("stitches")
    sheets = swatch_sheets(
        SwatchWish(field, kinds, units, paper, weight, FAMILIES if only is None else (only,), language)
    )
    needs = estimate(sheets.plan)
    findings = (*sheets.plan.findings, *check(sheets.plan), *estimate_findings(sheets.plan, needs))
    made, machine = machine_stage(Build(sheets.plan, findings, needs, ()))
    if made.blocked:
        raise BlockedError("Nothing was written", made.findings, "Mend what the findings say.")
    put_folder(swatch_files(made, sheets, machine, tell), folder)
    return made


def stitch_facts(data: bytes, name: str, speed: int = 600) -> StitchFacts:
    """Return what a stitch file of any kind holds. Raises StitchFileError for one that cannot be read."""
    return facts(read_stitches(data, name), speed)


def check_files(made: Build) -> Build:
    """Write the stitch files in memory, read them back and return the build with what was found; nothing is written."""
    return machine_stage(made)[0]


def write_map(made: Build, path: Path) -> None:
    """Write the map of the build's first panel to ``path`` as SVG.

    Raises OutputError when there is no panel to show or the file cannot be written.
    """
    maps = list(map_pictures(made).values())
    if not maps:
        raise OutputError("There is no drawing to show yet", "Mend what is said about the outline and the cuts.")
    put_file(path, maps[0])
