"""The answers of "Is it the pump?" as the evidence that the diagnosis works from."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import TypeVar

from xref_app.core.diagnose.evidence import Bucket, Evidence
from xref_app.core.diagnose.words import (
    FlowBack,
    GaugePlace,
    Leak,
    Noise,
    Nozzle,
    Oil,
    Part,
    Relief,
    Screen,
    SuctionAir,
    Symptom,
    Try,
)
from xref_app.core.quantity.range import Range
from xref_app.services.pump_questions import CURED, NO_CHANGE, YES, symptom_id, trial_id

Values = Mapping[str, Range | str]
_Word = TypeVar("_Word", bound=StrEnum)
_SECONDS_IN_MINUTE = 60


def evidence_of(values: Values, given_up: frozenset[Try]) -> Evidence:
    """Return the evidence.

    Args:
        values: What is known by question: a range in the canonical unit of its kind, or one of its words.
        given_up: The steps of which nothing can be said.
    """
    bypass_s = _number(values, "bypass_minutes")
    return Evidence(
        symptoms=frozenset(one for one in Symptom if _is_so(values, symptom_id(one))),
        taken_while_bad=_is_so(values, "taken_while_bad"),
        gauge_bar=_number(values, "gauge_bar"),
        gauge_place=_word(values, "gauge_place", GaugePlace),
        shut_bar=_number(values, "shut_bar"),
        bucket=_bucket(values, "bucket"),
        open_bucket=_bucket(values, "open"),
        supply_bucket=_bucket(values, "supply"),
        supply_c=_number(values, "supply_c"),
        nozzle_number=_number(values, "nozzle_number"),
        nozzle=_word(values, "nozzle", Nozzle),
        rated_lpm=_number(values, "rated_lpm"),
        rated_bar=_number(values, "rated_bar"),
        rated_rpm=_number(values, "rated_rpm"),
        shaft_rpm=_number(values, "shaft_rpm"),
        screen=_word(values, "screen", Screen),
        suction_air=_word(values, "suction_air", SuctionAir),
        flow_back=_word(values, "flow_back", FlowBack),
        relief=_word(values, "relief", Relief),
        leak=_word(values, "leak", Leak),
        oil=_word(values, "oil", Oil),
        noise=_word(values, "noise", Noise),
        low_pressure_nozzle=_is_so(values, "low_pressure_nozzle"),
        bypass_minutes=None if bypass_s is None else bypass_s / _SECONDS_IN_MINUTE,
        stood_in_frost=_is_so(values, "stood_in_frost"),
        cured_by=_tried(values, CURED),
        no_change_by=_tried(values, NO_CHANGE),
        cannot_say=given_up,
    )


def _number(values: Values, question_id: str) -> Range | None:
    value = values.get(question_id)
    return value if isinstance(value, Range) else None


def _word(values: Values, question_id: str, words: type[_Word]) -> _Word | None:
    value = values.get(question_id)
    return words(value) if isinstance(value, str) else None


def _is_so(values: Values, question_id: str) -> bool | None:
    value = values.get(question_id)
    return None if value is None else value == YES


def _tried(values: Values, outcome: str) -> frozenset[Part]:
    return frozenset(part for part in Part if values.get(trial_id(part)) == outcome)


def _bucket(values: Values, name: str) -> Bucket | None:
    volume, seconds = _number(values, f"{name}_l"), _number(values, f"{name}_s")
    return None if volume is None or seconds is None else Bucket(volume, seconds)
