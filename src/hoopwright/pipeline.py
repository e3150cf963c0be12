"""The one way through: project -> plan -> findings and estimate -> build -> files."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Final, TypeVar, get_args

from hoopwright.build import Build
from hoopwright.catalog.hoops import Field, fields
from hoopwright.catalog.kinds import FileKind, kinds
from hoopwright.checks.cloth import comes_out
from hoopwright.checks.holes import MOST
from hoopwright.checks.rules import check
from hoopwright.checks.sites import on_cloth
from hoopwright.core.errors import BlockedError, GeometryError, HoopwrightError, OutputError, ProjectError
from hoopwright.core.findings import Finding, Severity, blocking, worst
from hoopwright.estimate.estimate import estimate
from hoopwright.estimate.findings import estimate_findings
from hoopwright.items.panel import PANEL
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import HoopingOperations, Recipe, Wanted, Workshop
from hoopwright.items.registry import recipe_named, recipes
from hoopwright.items.settings import read_settings
from hoopwright.items.starter import KINDS, Start, item_starter_text
from hoopwright.items.swatches.sheets import swatch_sheets
from hoopwright.items.swatches.wish import FAMILIES, Family, Paper, SwatchWish, Weight
from hoopwright.needle.block_order import reordered
from hoopwright.needle.decorations import NONE, Decorations, plan_decorations
from hoopwright.needle.ornaments import Ornament, plan_ornaments
from hoopwright.needle.sewing import ornament_steps, steps_of
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.booklet.sizes import sewn_extents
from hoopwright.outputs.bundle import bundle
from hoopwright.outputs.folder import Lying, put_file, put_folder, what_lies
from hoopwright.outputs.machine.facts import StitchFacts, facts
from hoopwright.outputs.naming import hooping_title
from hoopwright.outputs.pictures.face import face as whole_face
from hoopwright.outputs.pictures.finished import finished_png
from hoopwright.outputs.screen import draft
from hoopwright.outputs.screen import needles as screen_needles
from hoopwright.outputs.screen import recipe_form as screen_form
from hoopwright.outputs.screen import run_sheet as screen_run
from hoopwright.outputs.screen import swatches as screen_swatches
from hoopwright.outputs.screen.halts import HaltSheet
from hoopwright.outputs.screen.halts import halt_sheets as screen_halts
from hoopwright.outputs.swatches.writing import swatch_files
from hoopwright.outputs.writing import Tell, all_files, machine_stage, map_pictures
from hoopwright.piecing.carrying import carried
from hoopwright.piecing.colours import choose_cloths, lightness_of
from hoopwright.piecing.cures import cures
from hoopwright.piecing.frame import frame_of
from hoopwright.piecing.layouts.keeping import keeping
from hoopwright.piecing.order import Budget, sewing_order
from hoopwright.piecing.patch_map import patch_map
from hoopwright.piecing.patches import patches_of
from hoopwright.piecing.shapes import PatchMap, PiecedPanel, SewingOrder
from hoopwright.plane.drawing import read_drawing
from hoopwright.project.fields import field_of
from hoopwright.project.lengths import Units, read_length
from hoopwright.project.load import parse, with_lines
from hoopwright.project.save import set_value
from hoopwright.project.schema import (
    ClothModel,
    GeneratedPatchwork,
    LinesPatchwork,
    Model,
    PanelModel,
    Patchwork,
    Project,
)
from hoopwright.project.starter import Shape, starter_text
from hoopwright.stitchfiles.read import read_stitches

T = TypeVar("T")


class _Clock:
    """Times the stages; the only place that looks at a clock, and no result depends on it."""

    def __init__(self) -> None:
        self.rows: list[tuple[str, float]] = []

    def stage(self, name: str, work: Callable[[], T]) -> T:
        """Run one stage and remember how long it took."""
        start = time.perf_counter()
        result = work()
        self.rows.append((name, time.perf_counter() - start))
        return result


def build(project: Project, drawings: Mapping[str, bytes] | None = None, *, prove: bool = True) -> Build:
    """Plan the project, check it and estimate it; nothing is written.

    ``drawings`` holds the contents of the files the project names. A panel that cannot be pieced gives a Build without hoopings
    whose findings say why. ``prove`` carries every operation out on the sheet stack; while a drawing is being dragged it
    may be left for the moment the hand rests.
    """
    clock = _Clock()
    made = plan(project, drawings or {}, clock)
    findings = clock.stage("checks", lambda: (*made.findings, *check(made)))
    if prove:
        findings = (*findings, *clock.stage("cloth", lambda: comes_out(made)))
    needs = clock.stage("estimate", lambda: estimate(made))
    return Build(made, (*findings, *estimate_findings(made, needs)), needs, tuple(clock.rows))


def plan(project: Project, drawings: Mapping[str, bytes] | None = None, clock: _Clock | None = None) -> Plan:
    """Carry the project through items, piecing and needle."""
    clock = clock or _Clock()
    field = field_of(project.hoop)
    recipe, settings, findings = _recipe(project)
    if recipe is None or settings is None or blocking(findings):
        return Plan(project, field, (), (), findings)
    panels: list[PiecedPanel] = []
    ornaments: dict[str, tuple[Ornament, ...]] = {}
    decorations: dict[str, Decorations] = {}
    for wanted in recipe.wanted(settings, project):
        panel, rows, more, found = _pieced(project, wanted, drawings or {}, clock)
        findings = (*findings, *found)
        if panel is not None:
            panels.append(panel)
            ornaments[panel.key], decorations[panel.key] = rows, more
        if panel is None or not panel.order.sewable:
            return Plan(project, field, tuple(panels), (), findings)
    shop = Workshop(project, settings, {p.key: p for p in panels}, ornaments, decorations, drawings or {})
    making = clock.stage("operations", lambda: recipe.make(shop))
    hoopings = clock.stage("needle", lambda: tuple(_sew(project, g) for g in making.hoopings))
    return Plan(project, field, tuple(panels), hoopings, (*findings, *making.findings), making)


UNSEWN: Final = SewingOrder((), 0, True, (), (), False, ())
"""The order of a drawing that must be mended first; what could be said of its order would mislead."""

IN_HAND: Final = Budget(counting=150_000, search=150_000)
"""What is looked at for the order while a hand moves a line: enough for some 60 patches, and soon done for more."""

UNDRAWN: Final = replace(UNSEWN, bounded=True)
"""The order of a drawing that makes no pieces at all."""


def _recipe(project: Project) -> tuple[Recipe | None, Model | None, tuple[Finding, ...]]:
    recipe, findings = recipe_named(project.item)
    if recipe is None:
        return None, None, findings
    settings, findings = read_settings(recipe, project.make)
    if settings is None:
        return recipe, None, findings
    return recipe, settings, recipe.refuse(settings, project)


def _pieced(
    project: Project, wanted: Wanted, files: Mapping[str, bytes], clock: _Clock
) -> tuple[PiecedPanel | None, tuple[Ornament, ...], Decorations, tuple[Finding, ...]]:
    """Piece one panel of the item and plan what is sewn on it."""
    model = project.panel
    if wanted.outline is not None:
        model = model.model_copy(update={"outline": wanted.outline})
    map_, findings = clock.stage("patch map", lambda: patch_map(model, files, project.units))
    if map_ is None:
        return None, (), NONE, findings
    panel = replace(_piece(project, model, wanted.key, map_, clock), frame=frame_of(model, files))
    if blocking(findings):
        return replace(panel, order=UNSEWN), (), NONE, findings
    if not panel.order.sewable:
        return panel, (), NONE, (*findings, *panel.findings)
    rows, found = clock.stage("seam stitches", lambda: plan_ornaments(map_, model, map_.outline, project.units))
    more, said = clock.stage("decorations", lambda: plan_decorations(map_, model, rows, project, files))
    return panel, rows, more, (*findings, *panel.findings, *found, *said)


def _sew(project: Project, group: HoopingOperations) -> Hooping:
    steps, after = steps_of(group.operations, project.stitching, project.machine)
    return Hooping(group.key, group.title, group.panel, group.section, reordered(steps), after)


def _for_patches(project: Project) -> dict[str, ClothModel]:
    """Return the cloths that patches may be cut from: those of kind "cloth", and others the maker gave to a patch."""
    given = set(project.panel.cloths.values())
    return {key: cloth for key, cloth in project.cloths.items() if cloth.kind == "cloth" or key in given}


def _ordered(
    project: Project, model: PanelModel, key: str, map_: PatchMap, clock: _Clock, budget: Budget | None = None
) -> PiecedPanel:
    """Choose the cloths and find the order; the patches themselves are not made."""
    cloths, found = clock.stage("cloths", lambda: choose_cloths(map_, model.cloths, _for_patches(project)))
    light = {letter: lightness_of(project.cloths[key].colour) for letter, key in cloths}
    order = clock.stage(
        "order",
        lambda: sewing_order(
            map_,
            own=model.order,
            first=model.first,
            wishes=model.wishes,
            lightness=light,
            allowance=project.piecing.allowance,
            budget=budget,
        ),
    )
    return PiecedPanel(key, map_.outline, map_, order, (), cloths, (*found, *order.findings))


def _piece(project: Project, model: PanelModel, key: str, map_: PatchMap, clock: _Clock) -> PiecedPanel:
    panel = _ordered(project, model, key, map_, clock)
    if not panel.order.sewable:
        return panel
    patches, more = clock.stage(
        "patches",
        lambda: patches_of(map_, panel.order, dict(panel.cloths), project.cloths, project.piecing, project.units),
    )
    return replace(panel, patches=patches, findings=(*panel.findings, *more))


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
    weight: Weight = "bold",
    only: Family | None = None,
    tell: Tell = lambda _: None,
) -> Build:
    """Write sheets to sew with every seam stitch and every ground, and their card, to ``folder``, whole or not at all.

    ``field`` is the hoop's, ``kinds`` those of the stitch files (none: the usual ones), ``weight`` that of the seam stitches, ``only`` leaves
    out the other family. Raises HoopwrightError for a field that no hoop has or an unknown kind, BlockedError for one too small for a swatch, OutputError when the folder cannot be
    written.
    """
    tell("stitches")
    sheets = swatch_sheets(SwatchWish(field, kinds, units, paper, weight, FAMILIES if only is None else (only,)))
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


def draft_view(made: Build) -> dict[str, Any]:
    """Return what a screen needs to draw the panels of a build while they are drafted; see hoopwright.outputs.screen."""
    return draft.draft_view(made)


def hand_view(project: Project, drawings: Mapping[str, bytes]) -> dict[str, Any]:
    """Return the panels while a hand moves a line in them: pieces, order and seam stitches, as a part of a draft view.

    "findings" are there only when the drawing cannot be sewn; what else is to say waits until the hand rests.
    """
    return draft.hand_view(_in_hand(project, drawings))


def cure_rows(project: Project, drawings: Mapping[str, bytes]) -> list[dict[str, Any]]:
    """Return small changes that make the first stuck panel of a project sewable, the nearest to the drawing first.

    Each has its panel's key, its sentence, its kind, the patches and lengths it names, and all lines after it, in the hoop.
    """
    for panel in _in_hand(project, drawings).panels:
        if len(panel.order.sections) != 1 and panel.order not in (UNSEWN, UNDRAWN):
            return [draft.cure_row(panel.key, c) for c in cures(panel.map, project.units)]
    return []


def _bare(model: PanelModel, key: str, drawings: Mapping[str, bytes]) -> Iterator[PiecedPanel]:
    """Yield a panel of which only the outline can be shown."""
    map_, _ = patch_map(model.model_copy(update={"patchwork": None}), drawings)
    if map_ is not None:
        yield PiecedPanel(key, map_.outline, map_, UNDRAWN, (), (), (), frame_of(model, drawings))


Lines = tuple[tuple[tuple[float, float], tuple[float, float]], ...]


def line_changes(
    project: Project, drawings: Mapping[str, bytes], lines: Lines | None = None, only: Sequence[str] | None = None
) -> dict[str, Any]:
    """Return the values of [panel] that turn its first panel into lines drawn by hand: ``lines`` in the hoop, or its own seams.

    Pieces keep the cloths they are seen in; with ``only``, those pieces alone. Cloths, seam stitches, grounds and order go with the pieces and seams they belong to; None takes a value out. Raises
    GeometryError when there is no drawing.
    """
    panel = _drawn_panel(project, drawings)
    drawn = lines if lines is not None else tuple((s.start, s.end) for s in panel.map.seams)
    placed = tuple(tuple(_written(panel.frame.file_place(p)) for p in line) for line in drawn)
    return work_changes(project, drawings, LinesPatchwork.model_validate({"way": "lines", "lines": placed}), only)


def _written(place: tuple[float, float]) -> tuple[float, float]:
    return round(place[0], 2) + 0.0, round(place[1], 2) + 0.0


def work_changes(
    project: Project, drawings: Mapping[str, bytes], work: Patchwork, only: Sequence[str] | None = None
) -> dict[str, Any]:
    """Return the values of [panel] for another patchwork, in which pieces and seams keep what they have, as ``line_changes``."""
    panel = _drawn_panel(project, drawings)
    model = panel_model(project, panel.key).model_copy(update={"patchwork": work})
    new, _ = patch_map(model, drawings, project.units)
    cloths = {letter: cloth for letter, cloth in panel.cloths if only is None or letter in only}
    given = {} if new is None else carried(project.panel, cloths, panel.map, new)
    return {"patchwork": work.model_dump(mode="json", exclude_unset=True), **given}


def kept_changes(
    project: Project, drawings: Mapping[str, bytes], letters: Sequence[str], wish: GeneratedPatchwork
) -> tuple[dict[str, Any], int] | None:
    """Return the values of [panel] in which some pieces of its first panel stay and a rule draws the others anew.

    Also how many seeds were tried; None when none of them gave a drawing that can be sewn. Raises GeometryError when the others
    are not one region.
    """
    panel = _drawn_panel(project, drawings)
    found = keeping(panel.map, letters, wish)
    return None if found is None else (line_changes(project, drawings, found.lines, letters), found.tried)


def look_into_drawing(data: bytes, name: str) -> int:
    """Return how many lines an SVG drawing holds. Raises GeometryError for one that cannot be used."""
    found = len(read_drawing(data, name).paths)
    if not found:
        raise GeometryError(f"The drawing {name} holds no lines", "Turn its shapes into paths and save it again")
    return found


def _drawn_panel(project: Project, drawings: Mapping[str, bytes]) -> PiecedPanel:
    panels = _in_hand(project, drawings).panels
    if not panels:
        raise GeometryError("There is no drawing yet", "Mend what is said about the outline first")
    return panels[0]


def panel_model(project: Project, key: str) -> PanelModel:
    """Return the panel of a project with the outline that the item gives the panel ``key``."""
    recipe, settings, _ = _recipe(project)
    wanted = () if recipe is None or settings is None else recipe.wanted(settings, project)
    outline = next((w.outline for w in wanted if w.key == key and w.outline is not None), None)
    return project.panel if outline is None else project.panel.model_copy(update={"outline": outline})


def _in_hand(project: Project, drawings: Mapping[str, bytes]) -> Plan:
    """Plan as far as a hand sees it: no cloth to cut, no grounds, no work between the blocks."""
    field, clock = field_of(project.hoop), _Clock()
    recipe, settings, findings = _recipe(project)
    if recipe is None or settings is None or blocking(findings):
        return Plan(project, field, (), (), findings)
    panels: list[PiecedPanel] = []
    hoopings: list[Hooping] = []
    for wanted in recipe.wanted(settings, project):
        model = (
            project.panel if wanted.outline is None else project.panel.model_copy(update={"outline": wanted.outline})
        )
        map_, found = patch_map(model, drawings, project.units)
        findings = (*findings, *found)
        if map_ is None:
            panels.extend(_bare(model, wanted.key, drawings))
            continue
        panel = replace(_ordered(project, model, wanted.key, map_, clock, IN_HAND), frame=frame_of(model, drawings))
        panels.append(replace(panel, order=UNSEWN) if blocking(found) else panel)
        findings = (*findings, *(() if blocking(found) else panel.findings))
        if panels[-1].order.sewable:
            rows, _ = plan_ornaments(map_, model, map_.outline, project.units)
            hoopings.append(Hooping(panel.key, "", panel.key, 1, ornament_steps(rows, project)))
    return Plan(project, field, tuple(panels), tuple(hoopings), findings)


def finding_row(finding: Finding) -> dict[str, Any]:
    """Return a finding as plain data."""
    return draft.finding_row(finding)


def run_sheet(made: Build, key: str) -> dict[str, Any]:
    """Return the moments of a hooping as a screen plays them. Raises KeyError for one that the build does not have."""
    cloth = any(h.key == key for h in on_cloth(made.plan))
    return screen_run.run_sheet(made, key, MOST if cloth else None)


def needles(made: Build, key: str) -> bytes:
    """Return the needle positions of a hooping; see hoopwright.outputs.screen.needles. Raises KeyError as ``run_sheet``."""
    return screen_needles.needles(made, key)


def needle_holes(made: Build, key: str) -> bytes:
    """Return how close the needle holes of a hooping lie; see hoopwright.outputs.screen. Raises KeyError as ``run_sheet``."""
    return screen_run.holes(made, key)


def thickness(made: Build, key: str, moment: int) -> list[dict[str, Any]]:
    """Return how thick the cloth lies after a moment of a hooping. Raises KeyError as ``run_sheet``, IndexError for an unknown moment."""
    return screen_run.thickness(made, key, moment)


def halt_sheets(made: Build) -> tuple[HaltSheet, ...]:
    """Return every hooping as it is followed at the machine; see hoopwright.outputs.screen.halts."""
    return screen_halts(made)


def swatch_catalogue() -> dict[str, list[dict[str, Any]]]:
    """Return every seam stitch and ground as plain data; see hoopwright.outputs.screen.swatches."""
    return screen_swatches.catalogue()


def seam_stitch_swatch(name: str, thread: str, cloth: str, *, weight: Weight = "bold", mirror: bool = False) -> bytes:
    """Return a seam stitch in the colours of a thread and a cloth ("#rrggbb") as SVG. Raises HoopwrightError for an unknown name."""
    return screen_swatches.swatch_svg(screen_swatches.StitchSwatch(name, weight, mirror), thread, cloth)


def ground_swatch(name: str, thread: str, cloth: str, *, seed: int = 1) -> bytes:
    """Return a ground in the colours of a thread and a cloth ("#rrggbb") as SVG. Raises HoopwrightError for an unknown name."""
    return screen_swatches.swatch_svg(screen_swatches.GroundSwatch(name, seed), thread, cloth)


def finished_pictures(made: Build, longest: int) -> tuple[tuple[str, bytes], ...]:
    """Return (panel key, PNG) of every finished panel of a build, its longer side of ``longest`` pixels."""
    return tuple((p.key, finished_png(made.plan, p.key, longest=longest)) for p in made.plan.panels if p.patches)


PATCHES: Final = (6, 4, 3, 2)
"""Numbers of patches tried for a first project, the most wanted first."""


def items() -> tuple[Recipe, ...]:
    """Return the recipes of everything that can be made."""
    return recipes()


def recipe_form(recipe: Recipe) -> list[dict[str, Any]]:
    """Return the settings of a recipe as a screen asks for them; see hoopwright.outputs.screen.recipe_form."""
    return screen_form.recipe_form(recipe)


def face(made: Build, longest: int) -> tuple[str, bytes] | None:
    """Return (media type, picture) of what a build makes as a whole; see hoopwright.outputs.pictures.face."""
    return whole_face(made.plan, longest)


def finished_sizes(made: Build) -> tuple[tuple[float, float], ...]:
    """Return width and height, mm, of the sewn works of a build laid flat; of its panels where nothing is sewn round them."""
    panels = (p.outline.bounds for p in made.plan.panels)
    sizes = sewn_extents(made.plan) or tuple((b[2] - b[0], b[3] - b[1]) for b in panels)
    return tuple(dict.fromkeys((round(wide, 1), round(high, 1)) for wide, high in sizes))


def new_project(item: str, title: str, units: Units = "mm", make: Mapping[str, Any] | None = None) -> str:
    """Return the text of a first project for an item, with a field and a patchwork that suit its sizes.

    ``make`` gives settings other values than the usual ones; see ``recipe_form``. Raises HoopwrightError for an item that does
    not exist or a title that cannot be one, ProjectError for settings that cannot be made.
    """
    recipe, findings = recipe_named(item)
    if recipe is None:
        raise HoopwrightError(findings[0].message, findings[0].cure)
    given = dict(make or {})
    if recipe is PANEL:
        return _first_panel(title, units, given)
    starts = [Start(f'"{f.name}"', tuple(KINDS), n) for f in fields() for n in PATCHES]

    def begun(start: Start) -> str:
        text = item_starter_text(recipe, title, units, start)
        for name, value in given.items():
            text = set_value(text, f"make.{name}", value)
        return text

    tried = [(s, plan(parse(begun(s), None).project)) for s in _fitting(recipe, begun, starts, strict=bool(given))]
    start, made = min(tried, key=lambda pair: (_gravity(pair[1]), tried.index(pair)))
    cloths = {p.cloth for p in made.making.pieces}
    used = tuple(kind for kind, (key, *_) in KINDS.items() if key in cloths)
    return begun(replace(start, kinds=used))


def _first_panel(title: str, units: Units, given: dict[str, Any]) -> str:
    shape, wide, high = given.pop("shape", "flap"), given.pop("width", None), given.pop("height", None)
    if given or shape not in get_args(Shape):
        raise HoopwrightError("A first panel takes a shape, a width and a height", "Leave the rest out")
    try:
        sides = [None if side is None else read_length(side) for side in (wide, high)]
    except ValueError as error:
        raise HoopwrightError(str(error), 'Write a length such as 108, "108 mm" or "4 1/4 in"') from error
    return starter_text(title, units, shape, *sides)


def _fitting(recipe: Recipe, begun: Callable[[Start], str], starts: list[Start], *, strict: bool) -> list[Start]:
    """Return the starts with the smallest field that the recipe does not refuse, or with the largest.

    Raises ProjectError when ``strict`` and even the largest is refused.
    """
    said: tuple[Finding, ...] = ()
    for start in starts:
        project = parse(begun(start), None).project
        settings, found = read_settings(recipe, project.make)
        said = found if settings is None else (*found, *recipe.refuse(settings, project))
        if not blocking(said):
            return [s for s in starts if s.field == start.field]
        if settings is None:
            break
    if strict:
        raise ProjectError("These sizes cannot be made", blocking(said), "Change what is listed")
    return [s for s in starts if s.field == starts[-1].field]


def _gravity(made: Plan) -> int:
    """Return how bad the worst finding of a plan is, 0 for none or notes."""
    gravity = worst(made.findings)
    return {None: 0, Severity.NOTES: 0, Severity.WARNS: 1, Severity.BLOCKS: 2}[gravity] + (0 if made.hoopings else 3)
