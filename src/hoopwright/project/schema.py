"""The project file as frozen models. Every field says its meaning; lengths are millimetres once read.

In the file a length is a number of millimetres (108), or text with a unit ("108 mm", "4.25in", "4 1/4 in").
Places are [x, y] pairs in the panel's own frame: y up, the middle of the outline's bounding box in the middle of
the hoop's field for the named shapes; polygons and drawings keep their own numbers and are then moved there.
"""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from hoopwright.project.lengths import read_length

SCHEMA_VERSION = 1

Length: TypeAlias = Annotated[float, BeforeValidator(read_length)]
Place: TypeAlias = tuple[Length, Length]
Key: TypeAlias = Annotated[str, Field(pattern=r"^[a-z][a-z0-9-]*$", max_length=40)]
Letter: TypeAlias = Annotated[str, Field(pattern=r"^[A-Z]{1,3}$")]
Colour: TypeAlias = Annotated[str, Field(pattern=r"^#[0-9a-fA-F]{6}$")]
Language: TypeAlias = Literal["en", "de"]
"""Languages that results can be had in: English, German."""
Kind: TypeAlias = Literal["dst", "exp", "pes", "jef", "vp3", "xxx", "u01", "pec"]


class Model(BaseModel):
    """Base of all: frozen, no unknown keys, no NaN or infinity."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, str_strip_whitespace=True)


class HoopModel(Model):
    """The hoop: ``field`` is a name from the list of sold fields ("130x180") or [width, height]."""

    field: str | tuple[Length, Length] = "130x180"
    margin: Annotated[Length, Field(ge=0, le=30)] = 3.0


class MachineModel(Model):
    """The machine: stitches a minute, stitch lengths, file kinds wanted, where the hoop waits at halts.

    ``halt_at``: "stay" leaves the hoop where the needle stopped; "front" brings it forward, towards the maker, as far
    as the field allows; a place [x, y] is the needle position the hoop goes to. It returns before sewing on.
    """

    speed: Annotated[int, Field(ge=100, le=2000)] = 600
    longest_stitch: Annotated[Length, Field(ge=2, le=12)] = 7.0
    shortest_stitch: Annotated[Length, Field(ge=0.2, le=2)] = 1.0
    kinds: tuple[Kind, ...] = ("dst", "exp", "pes", "jef", "vp3", "xxx")
    halt_at: Literal["stay", "front"] | Place = "stay"


class FoundationModel(Model):
    """What is hooped: the foundation and, if wanted, batting on it."""

    name: str = "tear-away stabilizer"
    batting: str | None = None


class ClothModel(Model):
    """A cloth: shown name, colour of the right side, thickness, width of the bolt, whether it has an up (nap, print).

    ``kind`` is "cloth" for what patches, outers and linings are cut from; other kinds are never proposed for a patch.
    """

    name: str
    colour: Colour
    thickness: Annotated[Length, Field(gt=0, le=5)] = 0.3
    bolt: Annotated[Length, Field(ge=50, le=4000)] = 1100.0
    has_up: bool = False
    kind: Literal["cloth", "lining", "stiffener", "ribbon", "zip"] = "cloth"


class ThreadModel(Model):
    """A thread: shown name, colour, tex (grams a kilometre)."""

    name: str
    colour: Colour
    tex: Annotated[float, Field(gt=1, le=400)] = 25.0


class RectangleOutline(Model):
    """A rectangle, with rounded corners if ``radius`` is not 0."""

    shape: Literal["rectangle"]
    width: Annotated[Length, Field(gt=0, le=1000)]
    height: Annotated[Length, Field(gt=0, le=1000)]
    radius: Annotated[Length, Field(ge=0)] = 0.0


class FlapOutline(Model):
    """A flap: straight sides and top, its two lower corners rounded."""

    shape: Literal["flap"]
    width: Annotated[Length, Field(gt=0, le=1000)]
    height: Annotated[Length, Field(gt=0, le=1000)]
    radius: Annotated[Length, Field(ge=0)]


class TongueOutline(Model):
    """A tongue: straight sides that end below in a point of height ``tip``, its end rounded with ``radius``."""

    shape: Literal["tongue"]
    width: Annotated[Length, Field(gt=0, le=1000)]
    height: Annotated[Length, Field(gt=0, le=1000)]
    tip: Annotated[Length, Field(ge=0)]
    radius: Annotated[Length, Field(ge=0)] = 0.0


class EllipseOutline(Model):
    """An ellipse or circle."""

    shape: Literal["ellipse"]
    width: Annotated[Length, Field(gt=0, le=1000)]
    height: Annotated[Length, Field(gt=0, le=1000)]


class PolygonOutline(Model):
    """A polygon by its corners, in order."""

    shape: Literal["polygon"]
    points: Annotated[tuple[Place, ...], Field(min_length=3, max_length=2000)]


class DrawnOutline(Model):
    """A closed path of an SVG file; ``path`` is its id (not needed when the file has only one closed path)."""

    shape: Literal["drawing"]
    file: str
    path: str | None = None


class ItemOutline(Model):
    """The outline that the item itself draws from its sizes; the item "panel" has none."""

    shape: Literal["item"]


Outline: TypeAlias = Annotated[
    RectangleOutline | FlapOutline | TongueOutline | EllipseOutline | PolygonOutline | DrawnOutline | ItemOutline,
    Field(discriminator="shape"),
]


class CutsPatchwork(Model):
    """Cuts one after the other; each is a straight line [[x, y], [x, y]] across one existing piece.

    The first piece is A. The n-th cut keeps the letter on its left-hand side (seen along the cut) and gives the next
    letter to the piece on its right.
    """

    way: Literal["cuts"]
    cuts: Annotated[tuple[tuple[Place, Place], ...], Field(max_length=2000)]


class LinesPatchwork(Model):
    """Straight lines in no order. Gaps and overshoots up to ``gap`` are healed and reported."""

    way: Literal["lines"]
    lines: Annotated[tuple[tuple[Place, Place], ...], Field(max_length=5000)]
    gap: Annotated[Length, Field(ge=0, le=5)] = 0.5


class DrawingPatchwork(Model):
    """The lines of an SVG drawing in no order; the outline's own path is left out."""

    way: Literal["drawing"]
    file: str
    gap: Annotated[Length, Field(ge=0, le=5)] = 0.5


class GeneratedPatchwork(Model):
    """Patchwork made by a rule with a seed.

    ``way``: "crazy-centre" slices pieces off round a middle, "crazy-cuts" slices by random cuts, "strips" runs straight
    across at ``angle``, "fan" spreads from a corner or edge, "rounds" lays strips round a middle.
    ``patches`` is the wished number, ``least_area`` (mm2), ``least_edge`` and ``least_angle`` (degrees) are promises.
    """

    way: Literal["crazy-centre", "crazy-cuts", "strips", "fan", "rounds"]
    seed: Annotated[int, Field(ge=0, le=2**31)] = 1
    patches: Annotated[int, Field(ge=1, le=200)] = 7
    angle: Annotated[float, Field(ge=-180, le=180)] = 0.0
    least_area: Annotated[float, Field(ge=0)] = 250.0
    least_edge: Annotated[Length, Field(ge=0)] = 12.7
    least_angle: Annotated[float, Field(ge=0, le=80)] = 30.0


Patchwork: TypeAlias = Annotated[
    CutsPatchwork | LinesPatchwork | DrawingPatchwork | GeneratedPatchwork, Field(discriminator="way")
]


class WishesModel(Model):
    """How much each wish for the order weighs; 0 ignores it."""

    centre_outwards: Annotated[float, Field(ge=0, le=10)] = 1.0
    few_turns: Annotated[float, Field(ge=0, le=10)] = 1.0
    few_layers: Annotated[float, Field(ge=0, le=10)] = 1.0
    light_over_dark: Annotated[float, Field(ge=0, le=10)] = 0.5
    large_first: Annotated[float, Field(ge=0, le=10)] = 0.5


Sides: TypeAlias = Literal["both", "left", "right", "alternate"]
Weight: TypeAlias = Literal["fine", "bold", "corded"]


class RowModel(Model):
    """What every row of decorative stitches has; ``width`` missing lets the tool choose.

    ``sides`` says to which sides of the seam the arms reach (missing: as the stitch has them), ``spacing`` how far its
    repeats stand apart. ``weight``: "fine" draws the thread once, "bold" three times, "corded" covers each line with narrow satin.
    """

    thread: Key | None = None
    width: Annotated[Length, Field(ge=1, le=20)] | None = None
    repeat: Annotated[Length, Field(ge=2, le=60)] | None = None
    mirror: bool = False
    turn: bool = False
    sides: Sides | None = None
    spacing: Annotated[Length, Field(ge=0, le=40)] = 0.0
    weight: Weight = "bold"


class OverStitchModel(RowModel):
    """A second row, sewn over the first with a thread of its own; it keeps the ends and repeats of the first."""

    stitch: Key = "zigzag-coral"


class SeamStitchModel(RowModel):
    """The decorative stitch of a seam; ``stitch`` "none" leaves the seam plain.

    The row stays ``ease`` away from both ends of its seam and grows to its full width over ``taper``. ``over`` is a second row
    sewn over it.
    """

    stitch: Key = "feather"
    ease: Annotated[Length, Field(ge=0, le=60)] = 0.0
    taper: Annotated[Length, Field(ge=0, le=60)] = 0.0
    over: OverStitchModel | None = None


class EdgeStitchModel(SeamStitchModel):
    """A row of decorative stitches along the inside of a panel's outline, its nearer edge ``distance`` away from it."""

    distance: Annotated[Length, Field(ge=1, le=60)] = 3.0


class GroundModel(Model):
    """Quilting lines that fill a panel, a patch or a body; ``kind`` is a name from the table of grounds, "none" leaves it plain.

    ``spacing`` and ``angle`` missing take the ground's own. ``margin`` is how far the lines stay off the edge, ``seed`` chooses
    among the equally good drawings of a meander or vine, ``times`` says how often each line is sewn. ``file`` is the SVG file of
    the maker's own motif, for the kinds "drawing" and "drawing-rows".
    """

    kind: Key = "none"
    spacing: Annotated[Length, Field(ge=1.5, le=60)] | None = None
    margin: Annotated[Length, Field(ge=0, le=30)] = 2.0
    angle: Annotated[float, Field(ge=-180, le=180)] | None = None
    seed: Annotated[int, Field(ge=0, le=2**31)] = 1
    thread: Key | None = None
    times: Annotated[int, Field(ge=1, le=3)] = 1
    file: str | None = None


class LetteringModel(Model):
    """Letters on a panel: up to four ``lines`` in a box ``width`` wide and, if given, ``height`` high, its middle ``at``.

    ``capitals`` is the height of the capitals; missing, they are as large as fits. ``font`` is a font file of the maker's own,
    whose letters are sewn as satin; without it they are single lines.
    """

    lines: Annotated[tuple[Annotated[str, Field(min_length=1, max_length=60)], ...], Field(min_length=1, max_length=4)]
    at: Place = (0.0, 0.0)
    width: Annotated[Length, Field(gt=0, le=400)] = 60.0
    height: Annotated[Length, Field(gt=0, le=400)] | None = None
    capitals: Annotated[Length, Field(gt=0, le=200)] | None = None
    turn: Annotated[float, Field(ge=-360, le=360)] = 0.0
    align: Literal["left", "middle", "right"] = "middle"
    thread: Key | None = None
    font: str | None = None


class PlacedModel(Model):
    """A stitch file of the maker's, put on a panel with its middle ``at``, turned, mirrored, rescaled within narrow bounds.

    ``threads`` names the threads of its blocks in order; missing ones take the thread nearest to the file's colour.
    """

    file: str
    at: Place = (0.0, 0.0)
    turn: Annotated[float, Field(ge=-360, le=360)] = 0.0
    mirror: bool = False
    scale: Annotated[float, Field(gt=0, le=10)] = 1.0
    threads: tuple[Key, ...] = ()


class AccentModel(Model):
    """A free-standing motif, sewn in a hooping of its own and tacked to the panel with its middle ``at``.

    ``size`` is its longest extent; ``lobes`` the number of its petals, points, ribs or pairs of veins (missing: the motif's
    own), ``fullness`` how broad it is, ``seed`` other than 0 lets it grow a little askew. ``base`` is what it is sewn on:
    film that is washed away in water, or net that is warmed away.
    """

    motif: Key
    size: Annotated[Length, Field(gt=0, le=200)] = 40.0
    lobes: Annotated[int, Field(ge=2, le=16)] | None = None
    fullness: Annotated[float, Field(ge=0, le=1)] = 0.5
    seed: Annotated[int, Field(ge=0, le=2**31)] = 0
    at: Place = (0.0, 0.0)
    turn: Annotated[float, Field(ge=-360, le=360)] = 0.0
    thread: Key | None = None
    base: Literal["film", "net"] = "film"


class GuidesModel(Model):
    """Threads of the working lines, as keys of the project's threads; missing ones take the first thread."""

    layout: Key | None = None
    seam: Key | None = None
    hold: Key | None = None
    outline: Key | None = None


class PanelModel(Model):
    """A pieced panel: outline, patchwork, order, cloth of each patch, seam stitches.

    ``order`` is the maker's own sewing order by patch letters; ``first`` a wish for the first patch. ``cloths`` gives
    the cloth of each patch by letter; patches left out get a proposed one. ``seams`` gives a seam its own stitch, by
    seam number; ``seam_stitch`` is for the rest; ``edge_stitch`` runs along the inside of the outline. ``turn`` turns the finished panel in the hoop.
    ``ground`` quilts the whole panel but the patches that ``grounds`` gives one of their own and what lies or is sewn on
    it: seam stitches, lettering, placed stitch files, accents.
    """

    outline: Outline = ItemOutline(shape="item")
    patchwork: Patchwork | None = None
    order: tuple[Letter, ...] | None = None
    first: Letter | None = None
    wishes: WishesModel = WishesModel()
    cloths: dict[Letter, Key] = Field(default_factory=dict)
    seam_stitch: SeamStitchModel = SeamStitchModel()
    seams: dict[Annotated[str, Field(pattern=r"^[1-9][0-9]{0,3}$")], SeamStitchModel] = Field(default_factory=dict)
    turn: Annotated[float, Field(ge=-360, le=360)] = 0.0
    ground: GroundModel = GroundModel()
    grounds: dict[Letter, GroundModel] = Field(default_factory=dict)
    lettering: Annotated[tuple[LetteringModel, ...], Field(max_length=20)] = ()
    placed: Annotated[tuple[PlacedModel, ...], Field(max_length=20)] = ()
    accents: Annotated[tuple[AccentModel, ...], Field(max_length=40)] = ()
    edge_stitch: EdgeStitchModel | None = None


class PiecingModel(Model):
    """How cloth is cut and laid.

    ``cut`` says what the cutting list asks for: exact templates, rough strips, or both. ``shift`` and ``turn`` are the
    placing error to survive, ``chance`` the accepted chance that a roughly cut patch fails to cover, ``trials`` the number of
    simulated layings with ``seed``. A rough cut stands out at least ``rough_spare`` past the template on every side but its
    raw edge. ``placement_lines`` sews before each laying where the patch will be sewn on, on top of
    what lies already. ``tack_flipped`` also tacks each flipped patch on its free edges.
    """

    allowance: Annotated[Length, Field(ge=2, le=30)] = 6.35
    cut: Literal["templates", "rough", "both"] = "both"
    shift: Annotated[Length, Field(ge=0, le=10)] = 1.0
    turn: Annotated[float, Field(ge=0, le=15)] = 1.0
    chance: Annotated[float, Field(gt=0, le=0.5)] = 0.01
    trials: Annotated[int, Field(ge=100, le=100_000)] = 1000
    seed: Annotated[int, Field(ge=0, le=2**31)] = 1
    rough_spare: Annotated[Length, Field(ge=0, le=50)] = 5.0
    placement_lines: bool = True
    tack_flipped: bool = False


class StitchingModel(Model):
    """Lengths of the working lines and how far they stand off."""

    run: Annotated[Length, Field(ge=1, le=6)] = 2.5
    seam_run: Annotated[Length, Field(ge=1, le=6)] = 2.0
    layout_run: Annotated[Length, Field(ge=1, le=6)] = 3.0
    lock: Annotated[Length, Field(ge=0.3, le=0.8)] = 0.5
    tack_outside: Annotated[Length, Field(ge=0.3, le=5)] = 1.5
    hold_outside: Annotated[Length, Field(ge=0.3, le=5)] = 1.0
    seam_past_end: Annotated[Length, Field(ge=0, le=10)] = 3.0
    numeral_height: Annotated[Length, Field(ge=2.5, le=40)] = 10.0


class Project(Model):
    """One whole project file. ``units``, ``paper`` and ``language`` say how results are shown and printed.

    ``item`` names the recipe and ``make`` holds its own settings; each recipe says which there are.
    """

    schema_version: Annotated[int, Field(alias="schema")] = SCHEMA_VERSION
    title: Annotated[str, Field(min_length=1, max_length=120)]
    item: Key = "panel"
    make: dict[str, object] = Field(default_factory=dict)
    units: Literal["mm", "in"] = "mm"
    paper: Literal["A4", "Letter"] = "A4"
    language: Language = "en"
    hoop: HoopModel = HoopModel()
    machine: MachineModel = MachineModel()
    foundation: FoundationModel = FoundationModel()
    cloths: Annotated[dict[Key, ClothModel], Field(min_length=1)]
    threads: Annotated[dict[Key, ThreadModel], Field(min_length=1)]
    guides: GuidesModel = GuidesModel()
    piecing: PiecingModel = PiecingModel()
    stitching: StitchingModel = StitchingModel()
    panel: PanelModel = PanelModel()
