"""For who translates: lists the texts of rooms that the catalogue does not cover yet, or says a text.

python tests/translation/untranslated.py items needle      texts of these rooms that are left in English
python tests/translation/untranslated.py --say "Lay it."   its German, and how many letters of it stay English
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from hoopwright.translation.sentences import left_in_english, translated
from tests.translation.extraction import left_of, texts_of


def main(words: list[str]) -> None:
    """Do what the words ask for."""
    if words[:1] == ["--say"]:
        for text in words[1:]:
            print(f"{translated(text, 'de')}   [{left_in_english(text, 'de')} letters left]")
        return
    for room in words:
        texts = list(texts_of(room))
        left = [t for t in texts if left_of(t, "de")]
        print(*left, f"{room}: {len(left)} of {len(texts)} texts are not covered", sep="\n")


if __name__ == "__main__":
    main(sys.argv[1:])
