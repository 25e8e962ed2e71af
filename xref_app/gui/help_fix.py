"""Help for the fix-or-replace sheet, by objectName; the marked words are translated when shown."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.core.sentence import marked

# More lines than any column has: a pump needs some twenty parts at most.
_MOST_LINES = 40
_WAYS = ("keep", "put_on", "used", "new")

_FIGURE = marked(
    "help",
    "Type a price or a time: 149, 149.50, 140-160; 70 min, 1 h 10, 60-90; none where nothing is to pay. A range makes "
    "the total a range. Left empty it is not known yet, which is not zero. Below the name stands whose figure it is "
    "and of which day; one older than the shop's limit is set aside until you type it anew or say that it still holds. "
    "Enter goes to the next empty field, F6 to the next column.",
)
_HOLDS = marked(
    "help", "Says that the old prices of this column still hold today. Until then its total is shown and not compared."
)
_SOUND = marked(
    "help",
    "Says that it was looked at and found sound. Until then this way is never called the cheapest for certain: it may "
    "not work out at all.",
)
_OTHER = marked("help", "Shows another used pump of the records, the best first; the last one is not in the records.")
_SHOP: Mapping[str, str] = {
    "fix_shop_rate_line": marked("help", "What the shop takes for an hour of work, before tax. It is remembered."),
    "fix_shop_tax_line": marked(
        "help", "Tax added to parts and work, in per cent; not to what is taken off for an old pump or machine."
    ),
    "fix_shop_share_line": marked(
        "help",
        "Above this share of a new machine's price customers walk away; two thirds by default, common practice with no "
        "published source. The dotted line of the chart.",
    ),
    "fix_shop_age_line": marked("help", "A price older than so many days is set aside until somebody confirms it."),
    "fix_shop_sign_line": marked("help", "The shop's own sign of money; there is only one money here."),
    "fix_shop_engine_age_line": marked(
        "help", "The age of the engine in any words. It is said, not turned into money."
    ),
    "fix_shop_engine_hours_line": marked("help", "The engine's hours in any words. They are said, not counted."),
    "fix_shop_compression_button": marked(
        "help", "What a gauge said of the engine's compression: not known, good, low. Check it before money is spent."
    ),
    "fix_leave_button": marked("help", "Goes back to the work sheet; what is typed is kept for this job."),
}

FIX_HELP: Mapping[str, str] = {
    **{f"fix_{way}_{place}_line": _FIGURE for way in _WAYS for place in range(_MOST_LINES)},
    **{f"fix_{way}_holds_button": _HOLDS for way in _WAYS},
    **{f"fix_{way}_sound_button": _SOUND for way in _WAYS},
    **{f"fix_{way}_other_button": _OTHER for way in _WAYS},
    **_SHOP,
}
