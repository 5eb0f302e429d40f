"""Write the ready transcripts of the show classes anew.

    python -m tests.rewrite_transcripts

Run it after a change to the words of a show class or to the forms, and read the diff.
"""

from __future__ import annotations

from collections.abc import Mapping

from tests.corpus import FIXTURES, load_class
from tests.forms import FORMS, render

SHOWN: Mapping[str, tuple[str, ...]] = {
    "harbour-evening": ("words", "vtt", "srt", "rollup", "blocks", "ttml"),
    "quarrels-with-the-timer": ("words", "vtt"),
    "chair-without-numbers": ("vtt", "blocks"),
    "counts-up-to-the-end": ("rollup", "srt"),
    "chain-without-setting-down": ("srt", "blocks", "ttml"),
}


def main() -> None:
    for name, forms in SHOWN.items():
        labelled = load_class(FIXTURES / name)
        for form in forms:
            (FIXTURES / name / FORMS[form].file_name).write_text(render(labelled, form), "utf-8")


if __name__ == "__main__":
    main()
