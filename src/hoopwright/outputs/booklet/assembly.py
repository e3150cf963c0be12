"""What is done when the last hooping is out of the hoop, what may hurt, and which words need explaining."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from hoopwright.build import Build
from hoopwright.core.types import Mm
from hoopwright.items.parts.accents import FILM, NET
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Close, HandWork, Hoop, Lay, Role, Side, Turn
from hoopwright.outputs.booklet.materials import hand_work
from hoopwright.outputs.booklet.pictures import picture
from hoopwright.outputs.booklet.sizes import opening_words
from hoopwright.outputs.booklet.wording import long_time, sentence, verb_of
from hoopwright.project.lengths import show_length

ALWAYS: Final = (
    "Keep fingers, hair, sleeves and scissors away while the hoop moves. Wait until the machine stands still before you "
    "lay, flip or trim.",
    "Hold cloth with tape, never with pins where the needle goes.",
    "Close a rotary cutter after every cut. Do not leave a hot iron alone, and try it on a scrap first: some cloths melt.",
    "If you use spray adhesive, air the room, keep flames away, and spray far from the machine.",
)
UNDER: Final = "Take the hoop off the machine to lay cloth under it, and look underneath before you sew on: nothing may be folded over."
METAL: Final = "Keep the needle off zip teeth, stops and frames: a needle that strikes them breaks, and its pieces fly."
GLUE: Final = "Glue: air the room, keep it off your skin and away from flames, and let it set before the work is used."
FILM_WET: Final = "Soluble film is for water, not for heat: never iron it or warm it away. Keep it dry until then."
NET_WARM: Final = (
    "Warming net or film gives off fumes and can burn: open the windows, work on glass or ceramic, keep water near, try it "
    "on a scrap first, and never leave a hot tool."
)
LAST: Final = (
    "Small parts and cords do not belong with small children or frail people. Nothing here is proof against fire.",
    "What the makers of your machine and materials write, and the rules where you live, come first.",
)


TURNED: Final[tuple[Mm, Mm]] = (74.0, 80.0)
"""Width and height of a picture of the turned work at most."""


def assembly(build: Build, pictures: Mapping[str, bytes]) -> dict[str, object] | None:
    """Return the sentences of the assembly in order, and about how long it takes; None when there is none."""
    work = build.plan.making.assembly
    if not work:
        return None
    units = build.plan.project.units
    steps = [{"verb": verb_of(h), "text": sentence(h.sentence) + opening_words(h, units)} for h in work]
    out = "the last hooping" if len(build.plan.hoopings) > 1 else "the work"
    about = f"By hand, when {out} is out of the hoop: about {long_time(build.estimate.assembly)}."
    return {"steps": steps, "about": about, "turned": _turned(build, pictures)}


def _turned(build: Build, pictures: Mapping[str, bytes]) -> list[dict[str, object]]:
    """Return the pictures of the turned work with their captions."""
    key = build.plan.hoopings[-1].key if build.plan.hoopings else ""
    sides = (
        ("front", "Turned, seen from the side with the patchwork"),
        ("back", "Turned, seen from the other side"),
    )
    found = [(picture(pictures, (f"{key}-turned-{side}.svg",), f"{said}.", TURNED), said) for side, said in sides]
    return [{"picture": shown, "said": said} for shown, said in found if shown is not None]


def cautions(plan: Plan) -> tuple[str, ...]:
    """Return the cautions that apply, the general ones first and last."""
    work = hand_work(plan)
    kinds = {plan.project.cloths[p.cloth].kind for p in plan.making.pieces}
    layers = {n for h in work if isinstance(h, Hoop) for n in h.layers}
    told = " ".join(h.sentence for h in work).lower()
    found = [
        UNDER if any(isinstance(h, Lay) and h.side is Side.UNDER for h in work) else "",
        METAL if "zip" in kinds or "metal" in told else "",
        GLUE if "glue" in told else "",
        FILM_WET if FILM in layers else "",
        NET_WARM if NET in layers else "",
    ]
    return (*ALWAYS, *(f for f in found if f), *LAST)


Asks = Callable[[Plan, tuple[HandWork, ...], set[Role]], bool]


def _has_cloth(plan: Plan, _work: tuple[HandWork, ...], _roles: set[Role]) -> bool:
    return bool(plan.panels or plan.making.pieces)


WORDS: Final[tuple[tuple[str, str, Asks | None], ...]] = (
    ("Foundation", "what is hooped, and what everything is sewn to.", None),
    ("Hooping", "one loading of the hoop.", None),
    ("Halt", "the machine waits for your hands.", None),
    (
        "Base",
        "what accents are sewn on, until water or warmth takes it away.",
        lambda _p, _w, roles: Role.ACCENT in roles,
    ),
    ("Net", "threads to and fro that hold everything else of an accent.", lambda _p, _w, roles: Role.ACCENT in roles),
    ("Rim", "the column of satin that closes round an accent.", lambda _p, _w, roles: Role.ACCENT in roles),
    ("Right side", "the face of a cloth that shows in the end; the other is the wrong side.", _has_cloth),
    ("Seam line", "where a patch or piece is sewn on.", _has_cloth),
    ("Seam allowance", "the cloth beyond it, here {allowance}.", _has_cloth),
    ("Raw edge", "a cut edge.", _has_cloth),
    ("Placement line", "sewn to show where a piece goes.", lambda _p, _w, roles: Role.PLACEMENT in roles),
    ("Tack-down", "a line that holds a laid piece.", _has_cloth),
    ("Holding line", "a line round the whole panel that holds all its patches.", lambda p, _w, _r: bool(p.panels)),
    (
        "Basting",
        "long stitches that hold until the closing seam takes over.",
        lambda _p, _w, roles: Role.BASTE in roles,
    ),
    ("Ground", "lines that quilt a cloth all over.", lambda _p, _w, roles: Role.GROUND in roles),
    ("Closing seam", "the seam that joins everything at the end.", lambda _p, _w, roles: Role.CLOSING in roles),
    (
        "Opening",
        "a stretch that stays unsewn; through it the work is turned right side out.",
        lambda _p, w, _r: any(isinstance(h, Turn | Close) for h in w),
    ),
    ("Grain", "the direction of the warp, along the selvedge.", _has_cloth),
    ("Rough cut", "a rectangle that covers the patch with some to spare.", lambda p, _w, _r: bool(p.panels)),
)
"""Word, meaning, and when it is needed (None: always)."""


def words_used(plan: Plan) -> list[dict[str, str]]:
    """Return the words of the trade that this booklet uses, with their meanings."""
    work = hand_work(plan)
    roles = {s.stitch.role for h in plan.hoopings for s in h.steps}
    allowance = show_length(plan.project.piecing.allowance, plan.project.units)
    return [
        {"word": word, "meaning": meaning.format(allowance=allowance)}
        for word, meaning, asks in WORDS
        if asks is None or asks(plan, work, roles)
    ]
