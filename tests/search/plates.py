"""Made-up numbers as they stand on plates, and a second, independent reading of what people type for them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from hypothesis import strategies as st

from xref_app.search.filed import NumberRow
from xref_app.search.index import NumberIndex

SEPARATORS = " -/._,"
READABLE = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"

# Design section 6, typed again on purpose: the program's own table is what these tests are about.
WORN = {"0": "0OQD", "1": "1IL", "2": "2Z", "5": "5S", "6": "6G", "8": "8B"}
LOOK_ALIKES = {char: group for group in WORN.values() for char in group}

# Few characters, so that chance matches, repeats and look-alikes happen often.
_CROWDED = "AB80O1I-"

plates = st.text(READABLE + SEPARATORS, min_size=1, max_size=14).filter(
    lambda text: text == text.strip() and any(char in READABLE for char in text)
)
crowded_plates = st.text(_CROWDED, min_size=1, max_size=8).filter(lambda text: text.strip("-") != "")
catalogs = st.lists(st.one_of(plates, crowded_plates), max_size=12)
crowded_catalogs = st.lists(crowded_plates, min_size=1, max_size=12)

_typed_parts = st.sampled_from([*_CROWDED, "?", "?", "*", "[8A]", "[0B1]", "o", "D"])
typed_patterns = st.lists(_typed_parts, min_size=1, max_size=7).map("".join).filter(lambda text: text.strip("-") != "")


def index_of(numbers: Iterable[str], kind: str = "pump") -> NumberIndex:
    """Return an index in which every number belongs to an entry of its own, named after its place."""
    return NumberIndex.build(NumberRow(text, f"entry {place}", kind) for place, text in enumerate(numbers))


def fold(text: str) -> str:
    """Return ``text`` in capitals, without separators, look-alikes replaced by their digit."""
    kept = [char for char in text.upper() if char in READABLE]
    return "".join(LOOK_ALIKES.get(char, char)[0] for char in kept)


def as_regex(typed: str) -> re.Pattern[str]:
    """Return the regular expression of the whole numbers that ``typed`` could mean, separators free."""
    parts = []
    for part in re.findall(r"\[[^\]]*\]|.", typed.upper()):
        if part == "?":
            parts.append(".")
        elif part == "*":
            parts.append(".*")
        elif part not in SEPARATORS:
            parts.append("[" + "".join(LOOK_ALIKES.get(char, char) for char in part.strip("[]")) + "]")
    free = f"[{re.escape(SEPARATORS)}]*"
    return re.compile(free + free.join(parts) + free, re.DOTALL)
