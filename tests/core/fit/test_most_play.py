"""'Does not fit' allows the pump all the shift its bore may give, at every bore the catalog may hold."""

from __future__ import annotations

from xref_app.core.fields.fields import field_for
from xref_app.core.fit.bore import most_play_mm
from xref_app.core.fit.face_turns import _most_play_mm


def test_no_bore_of_the_catalog_has_more_play_than_is_allowed_for() -> None:
    """Source: IT9 of ISO 286-1 is 0.062 mm over 30 to 50 mm and 0.074 mm over 50 to 80 mm, twice for bore and shaft."""
    bore = field_for("bore_diameter_mm")
    assert bore.minimum is not None
    assert bore.maximum is not None
    sizes = range(int(bore.minimum), int(bore.maximum) + 1)
    assert _most_play_mm() >= max(most_play_mm(size) for size in sizes)
    assert round(_most_play_mm(), 3) == 0.148
