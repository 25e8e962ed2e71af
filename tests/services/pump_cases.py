"""Invented machines as a person types them into "Is it the pump?": by question, what stands in it."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.services.pump_answers import PumpAnswers

PLATE = {"rated_lpm": "2.5 gpm", "rated_bar": "2700 psi", "rated_rpm": "3400"}

# Low at the wand, all of it there with the nozzle off, the pressure at the pump high: something is blocked on the way.
CLOGGED_WAND: Mapping[str, str] = {
    "does_low_pressure": "yes",
    "leak": "nowhere",
    "low_pressure_nozzle": "no",
    **PLATE,
    "supply_c": "15 C",
    "noise": "even hum",
    "screen": "clean",
    "nozzle": "sprays right, hole round and clear",
    "nozzle_number": "3",
    "supply_l": "20 L",
    "supply_s": "75",
    "shaft_rpm": "3400",
    "bucket_l": "10 L",
    "bucket_s": "110",
}
WAND_SWAPPED = {"tried_wand_and_hose": "it ran right then"}

# Half of the flow is lost although everything before and behind the pump is in order.
WORN_PUMP: Mapping[str, str] = {
    **CLOGGED_WAND,
    "open_l": "10 L",
    "open_s": "109",
    "relief": "shut",
    "flow_back": "nothing flows back",
    "suction_air": "no bubbles",
    "gauge_bar": "70 bar",
    "gauge_place": "at the pump's outlet",
    "shut_bar": "180 bar",
    "tried_wand_and_hose": "it ran as before",
}


def typed(texts: Mapping[str, str]) -> PumpAnswers:
    """Return the answers with each of ``texts`` in its question."""
    answers = PumpAnswers()
    for question_id, text in texts.items():
        answers = answers.with_text(question_id, text)
    return answers
