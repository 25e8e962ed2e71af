"""Text that nobody types off a plate, by what is hostile in it; for the tests and the bench."""

from __future__ import annotations

from typing import Final

MEGABYTE: Final = 1_000_000
_PAGE: Final = "Pump K00042-42, shaft 1 in.\r\n\tSee page 7 [draft]? *** "
_BIDIRECTIONAL: Final = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c"
_INVISIBLE: Final = "\u200b\u200c\u200d\u2060\ufeff\u00ad\u034f\u180e\u115f\u3164\ufe0f\U000e0041"
_CONTROLS: Final = "".join(map(chr, [*range(32), *range(127, 160), 0x2028, 0x2029]))

HOSTILE_TEXTS: Final = {
    "a pasted page of 1 MB": _PAGE * (MEGABYTE // len(_PAGE)),
    "1 MB of one number": "K00042-42" * (MEGABYTE // 9),
    "1 MB of one letter": "K" * MEGABYTE,
    "1 MB of look-alikes": "0O" * (MEGABYTE // 2),
    "1 MB of dashes": "-" * MEGABYTE,
    "1 MB of dashes, then a number": "-" * MEGABYTE + "K00042",
    "1 MB of lines": "K\n" * (MEGABYTE // 2),
    "1 MB of zero bytes": "\x00" * MEGABYTE,
    "1 MB of combining marks": "\u0301" * MEGABYTE,
    "a letter under 1 MB of marks": "K" + "\u0301\u0323" * (MEGABYTE // 2),
    "1 MB of zero-width blanks": "\u200b" * MEGABYTE,
    "1 MB of zero-width blanks, then a number": "\u200b" * MEGABYTE + "K00042",
    "1 MB of bidirectional marks": "\u202e" * MEGABYTE,
    "1 MB of letters that fold to eighteen": "\ufdfa" * MEGABYTE,
    "64 letters that fold to eighteen": "\ufdfa" * 64,
    "every letter under ten marks": "".join(char + "\u0301\u0323\u20dd\u0489\u0338" * 2 for char in "K0004242"),
    "control characters": _CONTROLS,
    "control characters in a number": "K0" + _CONTROLS + "0042",
    "control characters and an open bracket": "K\x1b31m\r\nK\x00[38",
    "bidirectional marks": _BIDIRECTIONAL,
    "bidirectional marks and an open bracket": "K\u202e24000[\u2066",
    "invisible characters": _INVISIBLE,
    "half a surrogate pair": "K0\ud8000\udfff42",
    "letters of many scripts": "КΚＫ𝐊𝕂ⓀK０٠०𝟎⁰₀①ﬁßİıǆ",
    "right-to-left scripts": "מ42ש ض٤٢ط",
    "pictures": "🔧👩\u200d🔧🇪🇺K42",
    "a thousand ?": "?" * 1000,
    "a thousand *": "*" * 1000,
    "a thousand [": "[" * 1000,
    "a thousand ]": "]" * 1000,
    "a thousand []": "[]" * 1000,
    "a thousand * and ? by turns": "*?" * 1000,
    "? and * around every letter": "?*K" * 333,
    "a thousand sets": "[38]" * 1000,
    "sets of every look-alike": "[0OQD1IL2Z5S6G8B]" * 4,
    "sets of every figure": "[0123456789]" * 5,
    "two sets of every figure": "[0123456789]" * 2,
    "sets of every figure, ? between": "[0123456789]?" * 3,
    "a set of every figure": "[0123456789]",
    "one figure and a run": "5*",
    "ones between runs": "1*1*1*1*1",
    "one set of a thousand": "[" + "38" * 1000 + "]",
    "sets in sets": "[" * 500 + "38" + "]" * 500,
    "a set across character 64": "K" * 62 + "[38]",
    "full-width marks": "K？＊［38］",
    "a full-width open bracket": "K0［38",
    "runs between figures": "*".join("0123456789" * 6)[:64],
    "figures between unreadable ones": "?0" * 32,
    "blanks of many kinds": " \u00a0\u2003\u3000\u1680\u202f\t\v\f",
}
