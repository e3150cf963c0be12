"""Tours against the published optima of TSPLIB (G. Reinelt, ORSA Journal on Computing 3(4), 1991).

The instances are not part of the project. They are looked for in the folder that the environment variable HOOPWRIGHT_REFERENCE
names, else in a folder "shared/reference" beside the project's own. Started by make bench.
"""

from __future__ import annotations

import os
import time
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from hoopwright.needle.tour_search import NO_MATE, short_tour, tour_length

FOLDER = Path(os.environ.get("HOOPWRIGHT_REFERENCE") or Path(__file__).parents[3] / "shared" / "reference") / "tours"
OPTIMA = {"pcb442": 50778, "pr1002": 259045, "rl1889": 316536}
"""Published optimal lengths, distances rounded to whole numbers (EUC_2D)."""
KICKS_PER_STOP = 10
MOST_OFF = 0.03
MOST_SECONDS = 10.0

pytestmark = pytest.mark.bench


def places(path: Path) -> NDArray[np.float64]:
    """Return the places of an instance, shape (n, 2)."""
    lines = path.read_text().partition("NODE_COORD_SECTION")[2].partition("EOF")[0].splitlines()
    return np.array([[float(number) for number in line.split()[1:]] for line in lines if line.strip()])


def rounded_distances(spots: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the distances as the instances count them: nint(x) = floor(x + 0.5)."""
    gaps: NDArray[np.float64] = np.floor(np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1)) + 0.5)
    return gaps


@pytest.mark.parametrize("name", OPTIMA)
def test_a_tour_is_near_the_published_optimum(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = FOLDER / f"{name}.tsp"
    if not path.exists():
        said = f"no {path.name} in {FOLDER}; set HOOPWRIGHT_REFERENCE to the folder that holds tours/"
        with capsys.disabled():
            print(f"\nSKIPPED: {said}")
        pytest.skip(said)
    costs = rounded_distances(places(path))
    begin = time.process_time()
    tour = short_tour(costs, [NO_MATE] * len(costs), KICKS_PER_STOP * len(costs))
    spent = time.process_time() - begin
    off = tour_length(costs, tour) / OPTIMA[name] - 1.0
    with capsys.disabled():
        print(f"\n{name}: {100 * off:.2f} % above the optimum in {spent:.1f} s")
    assert sorted(tour) == list(range(len(costs)))
    assert 0.0 <= off < MOST_OFF
    assert spent < MOST_SECONDS
