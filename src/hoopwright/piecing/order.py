"""The sewing order of a patch map: found, or the maker's own, with reasons; or sections; or why it cannot be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm
from hoopwright.core.words import listed
from hoopwright.piecing.counting import COUNT_LOOKS, count_orders
from hoopwright.piecing.order_own import first_fault, nearest_order, refusal, wrong_letters
from hoopwright.piecing.order_search import SEARCH_LOOKS, BestOrder, Step, best_order, possible_firsts, steps_of
from hoopwright.piecing.order_stuck import stuck_findings
from hoopwright.piecing.order_words import Foundation, foundation_of, member_of
from hoopwright.piecing.peeling import peel
from hoopwright.piecing.seam_net import ABSENT, SeamNet, members, net_of
from hoopwright.piecing.section_words import bounded_finding, sections_finding
from hoopwright.piecing.sections import SECTION_STEPS, Group, SectionSearch, Sides, groups_of, stuck_groups
from hoopwright.piecing.shapes import PatchMap, Section, SewingOrder
from hoopwright.piecing.wish_words import Sewn, wish_results
from hoopwright.piecing.wishes import Pricing, pricing_of
from hoopwright.project.schema import WishesModel

SEAM_ALLOWANCE: Mm = 6.35
"""A quarter of an inch, the trade's usual seam allowance."""

FIRSTS_TRIED = 40
"""So many patches at a time are tried as the first one on a foundation to which sections are joined."""


@dataclass(frozen=True, slots=True)
class Budget:
    """What may be looked at: seam edges in counting and in the search for the best order, pieces in the one for sections."""

    counting: int = COUNT_LOOKS
    search: int = SEARCH_LOOKS
    sections: int = SECTION_STEPS


@dataclass(frozen=True, slots=True, eq=False)
class _Task:
    """What was asked."""

    patch_map: PatchMap
    wishes: WishesModel
    lightness: Mapping[str, float]
    allowance: Mm
    budget: Budget
    own: tuple[str, ...] | None
    first: str | None

    def pricing(self, net: SeamNet) -> Pricing:
        return pricing_of(self.patch_map, net, self.wishes, self.lightness, self.allowance)


def sewing_order(
    patch_map: PatchMap,
    *,
    own: tuple[str, ...] | None = None,
    first: str | None = None,
    wishes: WishesModel | None = None,
    lightness: Mapping[str, float] | None = None,
    allowance: Mm = SEAM_ALLOWANCE,
    budget: Budget | None = None,
) -> SewingOrder:
    """Return how a panel is pieced.

    ``own`` is the maker's own order by letters; ``first`` the patch she would like to begin with (``own`` goes before
    it). ``lightness`` is L* of the cloth by letter and may miss letters. ``allowance`` in mm is used to keep allowances
    off finished patches and off each other.

    One section is returned when the panel can be sewn on one foundation, several when groups must be pieced apart and
    joined, none (with blocking findings) when straight full seams cannot make it. An order of the maker's that cannot
    be sewn gives a blocking finding, and the sections then hold the nearest order that can.
    """
    task = _Task(patch_map, wishes or WishesModel(), lightness or {}, allowance, budget or Budget(), own, first)
    net = net_of(patch_map.plane)
    base = foundation_of(patch_map, net)
    core = peel(net).core
    return _on_one(task, base) if not core & (core - 1) else _in_sections(task, base)


def _on_one(task: _Task, base: Foundation) -> SewingOrder:
    """Return the order of a panel that can be sewn on one foundation."""
    pricing = task.pricing(base.net)
    steps, findings = _own_steps(task, base) if task.own is not None else (None, ())
    if steps is None:
        firsts, doubts = _firsts(task, base)
        best = best_order(pricing, firsts, task.budget.search)
        assert best is not None
        steps, findings = best.steps, (*findings, *doubts, *_unproven(best))
    count = count_orders(base.net, task.budget.counting)
    section = Section(1, tuple(member_of(base, s) for s in steps))
    wishes = wish_results([Sewn(base, pricing, steps)], bool(task.lightness))
    return SewingOrder((section,), count.number, count.exact, wishes, (), False, findings)


def _own_steps(task: _Task, base: Foundation) -> tuple[tuple[Step, ...] | None, tuple[Finding, ...]]:
    """Return the steps of the maker's own order, or of the nearest one that can be sewn, with what is to say."""
    findings = wrong_letters(task.patch_map.letters, task.own or ())
    if findings:
        return None, findings
    own = [task.patch_map.face(letter) for letter in task.own or ()]
    fault = first_fault(base, own)
    if fault is not None:
        instead = nearest_order(base, own)
        return steps_of(base.net, instead), (refusal(base, own, fault, instead),)
    return steps_of(base.net, own), _other_first(task)


def _other_first(task: _Task) -> tuple[Finding, ...]:
    """Return HW228 when the maker's own order begins with another patch than the one she wished first."""
    if not task.own or task.first in (None, task.own[0]):
        return ()
    message = f"You wish to begin with patch {task.first}, but your own order begins with {task.own[0]}; the order is followed"
    return (Finding("HW228", Severity.NOTES, message, "Take one of the two out of the project", Where("panel.first")),)


def _firsts(task: _Task, base: Foundation) -> tuple[int | None, tuple[Finding, ...]]:
    """Return the set of pieces that shall be first (None: any), with HW224 when the wish cannot be met."""
    if task.first is None:
        return None, ()
    if task.first not in task.patch_map.letters:
        return None, (_no_first(task.first, f"The panel has no patch {task.first}"),)
    piece = next((p for p in range(base.net.count) if base.letters[p] == (task.first,)), None)
    if piece is None:
        return None, (
            _no_first(task.first, f"Patch {task.first} belongs to a section that is joined to the panel later"),
        )
    core = peel(base.net, keep=1 << piece).core
    if core == 1 << piece:
        return core, ()
    others = listed(base.name(p) for p in members(core & ~(1 << piece)))
    why = f"Patch {task.first} cannot be the first: {others} could then not be sewn on with one straight seam each"
    return None, (_no_first(task.first, why),)


def _no_first(letter: str, why: str) -> Finding:
    cure = "Choose another first patch, or leave the choice open; the order shown begins elsewhere"
    return Finding("HW224", Severity.WARNS, why, cure, Where("panel.first", letter))


def _unproven(best: BestOrder) -> tuple[Finding, ...]:
    if best.proven:
        return ()
    message = "There are too many orders to compare them all: the order shown is valid and good, but there may be a better one"
    return (
        Finding("HW229", Severity.NOTES, message, "Give your own order if you see a better one", Where("panel.order")),
    )


def _in_sections(task: _Task, base: Foundation) -> SewingOrder:
    """Return how a panel is made that cannot be sewn on one foundation."""
    findings = _own_without_order(task, base)
    stuck = stuck_groups(base.net, base.net.everything)
    if stuck:
        letters = tuple(base.name(p) for group in stuck for p in members(group))
        return SewingOrder((), 0, True, (), letters, False, (*findings, *stuck_findings(base, stuck)))
    groups, bounded = _groups(task, base)
    sewn: list[Sewn] = []
    doubts: list[Finding] = []
    for group in groups:
        one, more = _sewn(task, groups, group)
        sewn.append(one)
        doubts += more
    sections = tuple(
        Section(g.number, tuple(member_of(s.base, step) for step in s.steps)) for g, s in zip(groups, sewn, strict=True)
    )
    told = (sections_finding(sections), *(bounded_finding() for _ in range(bounded)))
    wishes = wish_results(sewn, bool(task.lightness))
    return SewingOrder(sections, 0, True, wishes, (), bounded, (*findings, *told, *dict.fromkeys(doubts)))


def _own_without_order(task: _Task, base: Foundation) -> tuple[Finding, ...]:
    """Return why the maker's own order cannot be sewn when no order can."""
    if task.own is None:
        return ()
    findings = wrong_letters(task.patch_map.letters, task.own)
    if findings:
        return findings
    own = [task.patch_map.face(letter) for letter in task.own]
    fault = first_fault(base, own)
    assert fault is not None
    return (refusal(base, own, fault, None),)


def _groups(task: _Task, base: Foundation) -> tuple[tuple[Group, ...], bool]:
    """Return the foundations on which the panel is made, and whether the search for fewer was cut short."""
    pricing = task.pricing(base.net)
    first = task.patch_map.letters.index(task.first) if task.first in task.patch_map.letters else None
    search = SectionSearch(base.net, Sides(pricing.area, pricing.distance, first), task.budget.sections)
    return groups_of(search.plan(base.net.everything)), search.bounded


def _sewn(task: _Task, groups: tuple[Group, ...], group: Group) -> tuple[Sewn, tuple[Finding, ...]]:
    """Return one foundation of several with its best order."""
    base = _joined_foundation(task.patch_map, groups, group)
    pricing = task.pricing(base.net)
    wished, doubts = _firsts(task, base) if group.number == len(groups) else (None, ())
    firsts = wished or (_plain_firsts(base, pricing) if group.joined else None)
    best = best_order(pricing, firsts, task.budget.search)
    assert best is not None
    return Sewn(base, pricing, best.steps), (*doubts, *_unproven(best))


def _joined_foundation(patch_map: PatchMap, groups: tuple[Group, ...], group: Group) -> Foundation:
    """Return the net of one foundation, in which each joined section is one piece."""
    faces = [ABSENT] * len(patch_map.letters)
    plain = members(group.plain)
    for piece, face in enumerate(plain):
        faces[face] = piece
    for piece, number in enumerate(group.joined, len(plain)):
        for face in members(groups[number - 1].pieces):
            faces[face] = piece
    net = net_of(patch_map.plane, faces)
    return foundation_of(patch_map, net, (*(None for _ in plain), *group.joined))


def _plain_firsts(base: Foundation, pricing: Pricing) -> int:
    """Return single patches that can be first, looked for from the middle outwards."""
    ranked = sorted(members(base.plain()), key=lambda p: (pricing.distance[p], p))
    for start in range(0, len(ranked), FIRSTS_TRIED):
        found = possible_firsts(base.net, sum(1 << p for p in ranked[start : start + FIRSTS_TRIED]))
        if found:
            return found
    raise AssertionError("a base can always be pieced from one of its own patches")
