"""German for what is found: every text of the rooms that piece, sew, prove and check is covered, alone or in the sentences it is a part of.

The German was written by hand; that it is good German is not for a test to say.
"""

from __future__ import annotations

import pytest

from hoopwright.translation.sentences import left_in_english, translated
from tests.translation.extraction import left_of, texts_of

ROOMS = ("piecing", "needle", "cloth", "checks")

COMPOSED = (
    # checks
    "“leaf 2” falls into 3 pieces when its base is gone: no thread leads from one to the other",
    "“leaf” is held there by a single thread when its base is gone: it tears off with that thread",
    "“leaf” is held there and at 1 more place by a single thread when its base is gone: it tears off with that thread",
    "“leaf” is held there and at 4 more places by a single thread when its base is gone: it tears off with that thread",
    "“star” has a line there and at 1 more place that ends in the air when its base is gone: no thread holds its end",
    "“star” has a line there and at 2 more places that ends in the air when its base is gone: no thread holds its end",
    "“shell” has a column there that is held at one of its ends only: the other comes loose",
    "“shell” has a column there and at 1 more place that is held at one of its ends only: the other comes loose",
    "“shell” has a column there and at 2 more places that is held at one of its ends only: the other comes loose",
    "“feather” has no rim that closes round everything: what lies outside it frays and pulls out",
    "Thread lies about 4 layers thick, over 38 square millimetres: 11 mm of it on each square millimetre make a hard lump on which needle and thread break",
    "0.1 mm are taken off the width of the columns in “Closing seam”, because stitches pull a column together",
    "0.7 mm are added to the width of the columns in “Closing seam”, because stitches pull a column together",
    "The stitches reach 1.5 mm past the field of 100 × 100 mm less its margin",
    # cloth
    "“Feather stitch on seam 3” is sewn over 5 layers of cloth, 2.1 mm, where seams cross: over more than 2 mm its stitches come out crooked",
    "“Feather stitch on seam 3” is sewn over 1 layer of cloth, 2.1 mm, where seams cross: over more than 2 mm its stitches come out crooked",
    "No seam is sewn for patch 7 (C), so nothing holds it",
    "No tack-down line is sewn for patch 1 (C), so nothing holds it",
    "Sew its seam before the next patch is laid.",
    "Sew its tack-down line before the next patch is laid.",
    "The seam of patch 3 (F) is sewn when its cloth is not there",
    "The seam of patch 3 (F) is sewn when its cloth is not there; patch 5 (E) lies there instead",
    "The seam of section S1 (patches A, B) misses its cloth over 93.2 mm",
    "The tack-down line of patch 1 (D) misses its cloth over 93.2 mm",
    "The seam of patch 5 (E) also catches patch 6 (B), which should still be free, over 44.1 mm",
    "The tack-down of patch 5 (E) also catches patch 6 (B), which should still be free, over 44.1 mm",
    "Lay it right side DOWN.",
    "Patch 4 (D) is covered by patch 3 (F) and patch 2 (G) where it should show, over 94.2 mm²",
    "Patch 4 (D) is covered by other cloth where it should show, over 94.2 mm²",
    "The foundation shows inside of the finished work, over 1450 mm², where cloth should cover it",
    "The stiffener shows on the upper side of the finished work, over 1450 mm², where cloth should cover it",
    "The foundation shows on the underside of the finished work, over 904 mm², where cloth should cover it",
    "The pocket shows its wrong side inside of the finished work",
    "The pocket shows its wrong side on the upper side of the finished work",
    "The pocket shows its wrong side on the underside of the finished work",
    "Lay it the other way up.",
    "Lay it the other way up (it is laid right side up now).",
    "Lay it the other way up (it is laid right side down now).",
    "A cut edge of the lining lies open inside of the finished work, over 109 mm",
    "A cut edge of the lining lies open on the upper side of the finished work, over 109 mm",
    "A cut edge of the lining lies open on the underside of the finished work, over 109 mm",
    "The strap does not show on the upper side of the finished work, where it should",
    "The pocket does not show on the underside of the finished work, where it should",
    "The pieced flap does not fit: its own seam line lies 1 mm beside the closing seam",
    "The pieced key tab ends only 0 mm past the closing seam, too little for it to hold",
    "The sewn work before its openings are closed is not what the recipe promises: parts, rims and Euler number are 1, 2, 0 and should be 1, 1, 1",
    "The sewn work when its openings are closed is not what the recipe promises: parts, rims and Euler number are 1, 1, 1 and should be 1, 0, 2",
    "The sewn work before its openings are closed is not what the recipe promises: parts and Euler number are 1, 1 and should be 1, 2",
    "The sewn work when its openings are closed is not what the recipe promises: parts and Euler number are 1, -2 and should be 1, -3",
    "The work cannot be turned: the lining does not lie over the pocket at the opening",
    "The work cannot be turned: the work is still in the hoop",
    # needle
    "A leaf of 12 mm cannot be made: in less, its columns run into each other and its net has no room to hold them",
    "A shell of 200 mm cannot be made: in more, its net sags when the base is gone",
    "A blossom with 40 petals cannot be made",
    "A feather with 40 pairs of barbs cannot be made",
    "A leaf of 30 mm has no room for 9 pairs of veins",
    "A star of 30 mm has no room for 9 points",
    "A shell of 60 × 130 mm does not fit the hoop, which has room for 92 × 92 mm",
    "The leaf 1 and the star lie on each other",
    "The letters “Q” are sewn in single lines.",
    "The letters “Q” are sewn in satin.",
    "“♣” (U+2663) and “♥” (U+2665) cannot be sewn: the single-line letters have no such letter",
    "“♥” (U+2665) cannot be sewn: the font has no such letter",
    "Write it with other letters, or name a font file that has it",
    "The letters lie on the seam stitch of seam 2 and the row along the outline",
    "The letters lie on the seam stitches of seams 2 and 4",
    'Did you mean "feather"? "none" leaves the seam plain; docs/seam-stitches.md shows them all',
    'Did you mean "feather", "double-feather" or "triple-feather"? "none" leaves the seam plain; docs/seam-stitches.md shows them all',
    "Blanket stitch cannot stand on both sides of its line; it is sewn in its own way",
    "Blanket stitch cannot stand on both sides in turn of its line; it is sewn in its own way",
    "Cross stitch cannot stand on the left of its line; it is sewn in its own way",
    "Cross stitch cannot stand on the right of its line; it is sewn in its own way",
    "No ground is sewn on the panel: seam stitches and what is placed there leave no room",
    "No ground is sewn on patch C: seam stitches and what is placed there leave no room",
    'Did you mean "waves"? "none" leaves the cloth plain',
    'Use one of "meander", "echo" or others. "none" leaves the cloth plain',
    "Mill wheels quilts the cloth: wheels side by side, each with a rim, a hub and eight paddles swept back.",
    "a.pes may be made at most a tenth smaller or larger, not 1.3 times: its stitches are only moved, so that fewer of them lie on each square millimetre, here by 41 %",
    "a.pes may be made at most a tenth smaller or larger, not 0.8 times: its stitches are only moved, so that more of them lie on each square millimetre, here by 41 %",
    "Write a scale from 0.9 to 1.1, for the cloth would show through; or have the design made in the size you need",
    "Write a scale from 0.9 to 1.1, for they would cut the cloth; or have the design made in the size you need",
    "3 threads are named for a.pes, which has 2 blocks",
    "3 threads are named for a.pes, which has 1 block",
    "No threads are named for a.pes, so its blocks are sewn in A: those nearest to its own colours",
    "No threads are named for a.pes, so its blocks are sewn in A: it tells no colours of its own",
    "No threads are named for a.pes, so its blocks from number 2 on are sewn in A: those nearest to its own colours",
    "No threads are named for a.pes, so its blocks from number 2 on are sewn in A: it tells no colours of its own",
    "1 needle position of a.dst that nothing is sewn to or from was left out",
    "7 needle positions of a.dst that nothing is sewn to or from were left out",
    "Block 1 of 3 of your stitch file a.pes is sewn in A.",
    "Your stitch file a.pes is sewn in A.",
    # piecing
    "With 1 cloth some neighbouring patches had to be proposed the same one",
    "With 3 cloths some neighbouring patches had to be proposed the same one",
    "Patch A is to be of cloth 'A', which is not listed",
    "The drawing a.svg has 1 element of kind A, which was left out",
    "The drawing a.svg has 2 elements of kind A, which were left out",
    "Your sewing order names patch X, which the panel does not have; it leaves out patches B and E; it names patch A more than once",
    "Your sewing order names patches X and Y, which the panel does not have; it leaves out patch B",
    "Your sewing order leaves out patch B; it names patches A and C more than once",
    "In your order patch C cannot be sewn as number 2: it shares no seam with the patches sewn before it",
    "In your order patch A cannot be sewn as number 3: it meets B and C along 2 straight lines (seams 1 and 2), but one flip needs one straight line",
    "In your order patch A cannot be sewn as number 3: it meets B along 2 straight lines (seam 1), but one flip needs one straight line",
    "In your order patch E cannot be sewn as number 4: its seam 2 with B and D is interrupted at x 20.0, y 20.0 mm, where patch C is not there yet",
    "In your order patch E cannot be sewn as number 4: its seam 2 with B is interrupted at x 20.0, y 20.0 mm, where the outline of the panel runs through it",
    "Patches A, B and C cannot be sewn with straight full seams: the seams of A, B and C meet in a Y at x 30.0, y 30.0 mm and none of them runs straight through",
    "Patches A, B, C and D cannot be sewn with straight full seams: the seams of A, B, C and D meet in a star of 4 seams at x 30.0, y 30.0 mm and none of them runs straight through",
    "Patches A, B, C and D cannot be sewn with straight full seams: these 4 patches hold each other in a ring, and no seam runs straight from edge to edge through them",
    "E meets B along one straight seam of 20.0 mm (seam 3), and nothing else that lies there.",
    "D meets C and F, both along one straight seam of 40.0 mm (seam 4), and nothing else that lies there.",
    "Section S1 (B, E) meets A, C and F, all along one straight seam of 60.0 mm (seam 1), and nothing else that lies there.",
    "The corner radius of 41 mm is too large: half the shorter side is 40.00 mm",
    "The corner radius of 45 mm is too large: half the width, and not above the height is 40.00 mm",
    "The corner radius of 55 mm is too large: what the tip has room for is 50.00 mm",
    "Name one of them as path: A, B",
    "The drawing a.svg has no closed path 'A'",
    "Laid up to 6 mm and 5 degrees off, patch C cut by its template leaves too little cloth at a seam or the outline in 74.6% of 1000 simulated layings, by at most 6.37 mm; accepted are 1.0%",
    "Laid up to 6 mm and 5 degrees off, section S1 cut roughly leaves too little cloth at a seam or the outline in 31.3% of 1000 simulated layings, by at most 6.17 mm; accepted are 1.0%",
    "Lay it with more care, or choose a wider allowance, or lay a roughly cut piece instead, which has more to spare.",
    "Cut 2 was drawn on by 1.0 mm at its start to end on the edge",
    "Cut 2 was drawn on by 1.5 mm at its end to end on the edge",
    "Cut 3 was shortened by 1.5 mm at its start to end on the edge",
    "Cut 3 was shortened by 1.5 mm at its end to end on the edge",
    "Cut 1 leaves a sliver on its left, too narrow to sew",
    "Cut 1 leaves a sliver on its right, too narrow to sew",
    "In the drawing an end was brought onto the line it nearly met (moved by 0.1 mm)",
    "In the drawing a line drawn twice was taken once",
    "A cut ends in the middle of a patch; the next cut lies 4 mm ahead of it",
    "This panel cannot be sewn on one foundation; it is made in 2 sections, the last of which is the panel itself. Join S1 (patches B and E) to the panel along seam 1, like one patch.",
    "This panel cannot be sewn on one foundation; it is made in 2 sections, the last of which is the panel itself. Join S1 (patch B) to S2 along no seam, like one patch.",
    "C at the centre is laid first. No patch is sewn outer before inner.",
    "B is laid first; C is nearest to the centre. 1 of 10 pairs is sewn outer before inner: B before C.",
    "The largest patch, A (800 mm²), is number 4 of 5. 4 of 7 pairs are sewn smaller before larger: C before D, C before A, F before D and F before A.",
    "From one seam to the next the direction changes once out of 4: after C.",
    "From one seam to the next the direction changes 6 times out of 7: after J, G, A and 3 more.",
    "Allowances of two seams lie on each other on 40 mm² of the panel between seams 1 and 3.",
    "Allowances of two seams lie on each other on 81 mm² of the panel, most (40 mm²) where seams 1 and 6 are near each other.",
    "A darker allowance may show through 1 lighter patch: D on seam 3.",
    "A darker allowance may show through 2 lighter patches: D on seam 3 and E on seam 4.",
)
"""Sentences that are put together from parts, as the engine says them: each part in each sentence that it can stand in."""

NEVER_SAID = frozenset(
    {"falls into pieces", "hangs by one thread", "a line ends in the air", "a column is held at one end only"}
    | {"no rim closes round everything", "runs on", "ends on", "half turn", "one way"}
)
"""Names of cases inside the engine."""

SAID = {
    "Laid up to 6 mm and 5 degrees off, patch C cut by its template leaves too little cloth at a seam or the outline in 74.6% of 1000 simulated layings, by at most 6.37 mm; accepted are 1.0%": (
        "Bis zu 6 mm verschoben und 5 Grad verdreht aufgelegt, lässt Teil C, nach der Schablone zugeschnitten, bei 74,6 % von "
        "1000 Proben an einer Naht oder am Umriss zu wenig Stoff (es fehlen höchstens 6,37 mm); zugelassen sind 1,0 %"
    ),
    "Your sewing order names patch X, which the panel does not have; it leaves out patches B and E; it names patch A more than once": (
        "In Ihrer Nähfolge steht Teil X, das es nicht gibt; es fehlen die Teile B und E; Teil A kommt mehrmals vor"
    ),
    "The block “Closing seam” must hold the zip, which is not laid yet when it is sewn": (
        "„Schlussnaht“ wird genäht, bevor liegt, was dieser Block halten muss: der Reißverschluss"
    ),
    "The seam of patch 6 (B) does not catch patch 5 (E) over 12.4 mm where the two meet": (
        "Wo Teil 6 (B) und Teil 5 (E) aneinanderstoßen, fasst die Naht von Teil 6 (B) den Stoff von Teil 5 (E) auf 12,4 mm Länge nicht"
    ),
    "Some allowance must be cut away: E would cover part of D and F, C would cover part of B and G would cover part of H.": (
        "Manche Nahtzugabe muss zurückgeschnitten werden: E verdeckt sonst ein Stück von D und F, C verdeckt sonst ein Stück von B "
        "und G verdeckt sonst ein Stück von H."
    ),
    "Seam 2 is left plain: patch D beside it is only 6.2 mm across, and sprays of french knots needs 7 mm": (
        "Naht 2 bleibt ohne Zierstich: Teil D daneben ist nur 6,2 mm breit, und der gewählte Stich (Zweige aus Knötchenstichen) "
        "braucht 7 mm"
    ),
}
"""Sentences whose parts stand in another order in German, and the German they must give."""


def is_part_of(text: str, sentence: str) -> bool:
    """Whether the words of a text, what fills its holes left out, stand in a sentence in their order."""
    at, words = 0, sentence.lower()
    for piece in text.lower().replace("}", "{").split("{")[::2]:
        at = words.find(piece, at)
        if at < 0:
            return False
        at += len(piece)
    return True


@pytest.mark.parametrize("room", ROOMS)
def test_every_text_of_a_room_is_covered_alone_or_in_a_sentence(room: str) -> None:
    left = [t for t in texts_of(room) if t.text not in NEVER_SAID and left_of(t, "de")]
    assert not [str(t) for t in left if not any(is_part_of(t.text, sentence) for sentence in COMPOSED)]


@pytest.mark.parametrize("sentence", COMPOSED)
def test_a_sentence_put_together_from_parts_is_covered(sentence: str) -> None:
    assert left_in_english(sentence, "de") == 0, translated(sentence, "de")


@pytest.mark.parametrize(("english", "german"), SAID.items())
def test_parts_stand_where_german_wants_them(english: str, german: str) -> None:
    assert translated(english, "de") == german


def test_an_uncovered_text_is_found() -> None:
    assert left_in_english("The thimble lies under the bobbin", "de") > 0
    assert not any(is_part_of("The thimble lies under {1}", sentence) for sentence in COMPOSED)
