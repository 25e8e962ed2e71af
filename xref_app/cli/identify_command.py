"""The command about readings taken on the bench: identify."""

from __future__ import annotations

from argparse import Namespace

from xref_app.exchange.identified_json import holes_json, identified_json
from xref_app.exchange.reading_kind import Kind
from xref_app.services.identify_readings import identify_file


def identify(options: Namespace) -> object:
    """Return what the readings of a file can be."""
    told = identify_file(options.readings, Kind(options.kind))
    notes = told.notes if told.holes is None else (*told.notes, *map(str, told.holes.notes))
    answer = identified_json(told.identified, notes=notes)
    if told.holes is not None:
        answer |= holes_json(told.holes.diameter_mm, told.holes.holes_xy_mm)
    return answer
