"""An order in the maker's words: letters, seams, and why each patch can be sewn where it is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.core.words import counted, listed
from hoopwright.piecing.order_search import Step
from hoopwright.piecing.seam_net import Chord, SeamNet
from hoopwright.piecing.shapes import Member, PatchMap, Seam


@dataclass(frozen=True, slots=True, eq=False)
class Foundation:
    """What is pieced on one foundation: map, net, and for each piece its letters and its section number if it is one.

    ``seam_numbers`` are the numbers of the seam lines by row of the net.
    """

    patch_map: PatchMap
    net: SeamNet
    letters: tuple[tuple[str, ...], ...]
    sections: tuple[int | None, ...]
    seam_numbers: tuple[int, ...]

    def name(self, piece: int) -> str:
        """Return the name of a piece: "C", or "section S1 (C, D)"."""
        number = self.sections[piece]
        if number is None:
            return self.letters[piece][0]
        return f"section S{number} ({', '.join(self.letters[piece])})"

    def plain(self) -> int:
        """Return the set of the pieces that are single patches."""
        return sum(1 << p for p, number in enumerate(self.sections) if number is None)


def foundation_of(patch_map: PatchMap, net: SeamNet, sections: Sequence[int | None] | None = None) -> Foundation:
    """Name the pieces of a net."""
    letters = tuple(tuple(patch_map.letters[f] for f in faces) for faces in net.faces_of)
    named = tuple(sections) if sections is not None else (None,) * net.count
    by_chain = {s.chain: s.number for s in patch_map.seams}
    return Foundation(patch_map, net, letters, named, tuple(by_chain[row.chain] for row in net.rows))


def seam_of(base: Foundation, chord: Chord) -> Seam:
    """Return a chord as a seam with the new patch on its left."""
    row = base.net.rows[chord.row]
    places = base.patch_map.plane.vertices
    start, end = places[row.vertices[chord.first]], places[row.vertices[chord.last + 1]]
    number = base.seam_numbers[chord.row]
    return Seam(number, start, end) if chord.on_left else Seam(number, end, start)


def member_of(base: Foundation, step: Step) -> Member:
    """Return a step as a member, with the sentence that says why it can be sewn here."""
    letters, section = base.letters[step.piece], base.sections[step.piece]
    if step.chord is None:
        return Member(letters, section, None, f"{capital(base.name(step.piece))} is laid first, flat, without a seam.")
    seam = seam_of(base, step.chord)
    return Member(letters, section, seam, _why(base, step, seam))


def _why(base: Foundation, step: Step, seam: Seam) -> str:
    others = neighbours(base, step.piece, step.pieces)
    length = math.dist(seam.start, seam.end)
    many = " all" if len(others) > 2 else " both" if len(others) == 2 else ""
    what = f"{capital(base.name(step.piece))} meets {listed(base.name(p) for p in others)}"
    return f"{what}{many and ','}{many} along one straight seam of {length:.1f} mm (seam {seam.number}), and nothing else that lies there."


def neighbours(base: Foundation, piece: int, pieces: int) -> list[int]:
    """Return the pieces of a set that share a seam edge with ``piece``."""
    across = {base.net.other(e, piece) for e in base.net.edges_of[piece]}
    return sorted(p for p in across if pieces >> p & 1)


def capital(words: str) -> str:
    """Return the words with a capital first letter."""
    return words[:1].upper() + words[1:]


def several(number: int, thing: str) -> str:
    """Return "1 patch" or "3 patches"."""
    return counted(number, thing, f"{thing}es" if thing.endswith(("ch", "s")) else None)
