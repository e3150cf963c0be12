"""Which cloth goes where: neighbours must differ to the eye, and patches without a cloth get a proposed one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hoopwright.core.colour import difference, lab_of
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.piecing.colour_search import Task, best_choice
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.subdivision import OUTSIDE
from hoopwright.project.schema import ClothModel

PLAIN_DIFFERENCE: Final = 15.0
"""CIEDE2000 below which neighbouring patches run together (a gate of our own, from memory of pieced work)."""

CLEAR_DIFFERENCE: Final = 20.0
"""CIEDE2000 above which a larger difference is no longer sought, so that all cloths get used evenly (a choice: with 30,
proposals from five usual cloths were found to use two or three of them)."""


def lightness_of(colour: str) -> float:
    """Return L*, from 0 (black) to 100 (white), of a colour written "#rrggbb"."""
    return lab_of(colour)[0]


def choose_cloths(
    patch_map: PatchMap, given: Mapping[str, str], cloths: Mapping[str, ClothModel]
) -> tuple[tuple[tuple[str, str], ...], tuple[Finding, ...]]:
    """Return the cloth key of every patch letter, in the map's order of letters, and what is wrong with the colours.

    ``given`` holds the maker's own choices by letter; they are kept. The others are proposed: the least difference of
    neighbours as large as it can be up to CLEAR_DIFFERENCE, cloths used evenly. Choices for letters that are not in
    the map, or of cloths that are not listed, are reported and left out. Raises ValueError when there is no cloth at all.
    """
    if not cloths:
        raise ValueError("at least one cloth is needed")
    known = {n: c for n, c in given.items() if n in patch_map.letters and c in cloths}
    keys = tuple(cloths)
    task = _task(patch_map, known, cloths)
    choice, complete = best_choice(task, CLEAR_DIFFERENCE)
    chosen = tuple((n, keys[c]) for n, c in zip(patch_map.letters, choice, strict=True))
    found = (*_strangers(patch_map, given, cloths), *_alike(patch_map, task, choice, cloths))
    return chosen, (*found, *_too_few(task, choice, complete))


def _task(patch_map: PatchMap, known: Mapping[str, str], cloths: Mapping[str, ClothModel]) -> Task:
    near: list[set[int]] = [set() for _ in patch_map.letters]
    for edge in patch_map.plane.edges:
        if OUTSIDE not in (edge.left, edge.right):
            near[edge.left].add(edge.right)
            near[edge.right].add(edge.left)
    labs = [lab_of(c.colour) for c in cloths.values()]
    keys = tuple(cloths)
    given = tuple(keys.index(known[n]) if n in known else None for n in patch_map.letters)
    return Task(
        tuple(tuple(sorted(n)) for n in near), tuple(tuple(difference(a, b) for b in labs) for a in labs), given
    )


def _strangers(patch_map: PatchMap, given: Mapping[str, str], cloths: Mapping[str, ClothModel]) -> tuple[Finding, ...]:
    """HW250 and HW251: a cloth for a patch that is not there, a cloth that is not listed."""
    found = []
    for letter, cloth in given.items():
        where = Where(path=f"panel.cloths.{letter}", patch=letter)
        if letter not in patch_map.letters:
            cure = f"Take it out, or use one of {', '.join(patch_map.letters)}."
            found.append(
                Finding("HW250", Severity.WARNS, f"There is no patch {letter} to give a cloth to", cure, where)
            )
        elif cloth not in cloths:
            cure = f"Add it to the cloths, or choose one of {', '.join(cloths)}."
            message = f"Patch {letter} is to be of cloth {cloth!r}, which is not listed"
            found.append(Finding("HW251", Severity.BLOCKS, message, cure, where))
    return tuple(found)


def _alike(
    patch_map: PatchMap, task: Task, choice: tuple[int, ...], cloths: Mapping[str, ClothModel]
) -> tuple[Finding, ...]:
    """HW252 and HW253: neighbours of the same cloth, or of cloths that look alike."""
    models = tuple(cloths.values())
    found = []
    for i, j in task.pairs():
        one, other = patch_map.letters[i], patch_map.letters[j]
        a, b = models[choice[i]], models[choice[j]]
        apart = task.differences[choice[i]][choice[j]]
        if choice[i] == choice[j]:
            message = f"Neighbouring patches {one} and {other} are both of {a.name}, so that their seam hardly shows"
            found.append(_pair("HW252", message, one, "Give one of them another cloth."))
        elif apart < PLAIN_DIFFERENCE:
            message = (
                f"Neighbouring patches {one} ({a.name}) and {other} ({b.name}) look alike: their colours differ by {apart:.1f}, "
                f"on a scale where 1 can just be seen and {PLAIN_DIFFERENCE:g} is plain"
            )
            found.append(
                _pair("HW253", message, one, "Give one of them a lighter, darker or otherwise different cloth.")
            )
    return tuple(found)


def _pair(code: str, message: str, letter: str, cure: str) -> Finding:
    return Finding(code, Severity.WARNS, message, cure, Where(path="panel.cloths", patch=letter))


def _too_few(task: Task, choice: tuple[int, ...], complete: bool) -> tuple[Finding, ...]:
    """HW254 and HW255: the cloths do not suffice for the free patches; the search was cut short."""
    found = []
    where = Where(path="cloths")
    free = [(i, j) for i, j in task.pairs() if task.given[i] is None or task.given[j] is None]
    if any(choice[i] == choice[j] for i, j in free):
        count = task.cloths
        message = (
            f"With {count} cloth{'s' if count > 1 else ''} some neighbouring patches had to be proposed the same one"
        )
        cure = "Add a cloth, or change the cloths you have given to patches. Four cloths are always enough when none is given."
        found.append(Finding("HW254", Severity.WARNS, message, cure, where))
    if not complete:
        message = "The search for the best cloths was cut short, so a better choice may exist"
        found.append(Finding("HW255", Severity.NOTES, message, "Give cloths to some of the patches yourself.", where))
    return tuple(found)
