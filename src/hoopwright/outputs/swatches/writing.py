"""All files of the swatch sheets, made in memory before anything touches the disk."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hoopwright.build import Build
from hoopwright.items.swatches.sheets import Swatches
from hoopwright.outputs.folder import RECORD
from hoopwright.outputs.machine.write import MachineFile
from hoopwright.outputs.record import record_json
from hoopwright.outputs.swatches.card import card_pdf
from hoopwright.outputs.swatches.pictures import sheet_pictures
from hoopwright.outputs.writing import Tell

CARD: Final = "swatch-card.pdf"


def swatch_files(
    build: Build, sheets: Swatches, machine: tuple[MachineFile, ...], tell: Tell = lambda _: None
) -> Mapping[str, bytes]:
    """Return every file by name: stitch files, pictures, card, record.

    ``build`` and ``machine`` come from ``machine_stage``, so that the record tells of its findings.
    """
    files = {f"machine/{f.name}": f.data for f in machine}
    tell("pictures")
    files |= {f"pictures/{name}": data for name, data in sheet_pictures(sheets).items()}
    tell("card")
    files[CARD] = card_pdf(build, sheets)
    files[RECORD] = record_json(build, files)
    return files
