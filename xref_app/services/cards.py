"""Which card asks for which field of a draft."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from xref_app.core.fields.fields import Field, Kind
from xref_app.core.model.known import Known
from xref_app.services.card import Card
from xref_app.services.card_holes import HolesCard
from xref_app.services.card_plain import PlainCard
from xref_app.services.card_session import CardSession
from xref_app.services.card_thread import GENDER, SEAL, ThreadCard
from xref_app.services.shop_entry import read_draft
from xref_app.services.unit_draft import Typed, UnitDraft

_USUAL_HOLES = 4
# What is read off a plate is no measurement of ours; the card begins there for these (house rule).
_ON_PLATES = ("rating_", "power_kw", "power_speed")
_MALE_OR_FEMALE = {"male", "female"}


def session_for(field: Field, draft: UnitDraft, *, unit: str) -> CardSession:
    """Return the card of ``field``, begun with the tool that was used for it before.

    Args:
        field: What is asked.
        draft: The unit on the bench; its other sizes tell look-alikes apart.
        unit: What a bare number is read in, ``mm`` or ``in``.
    """
    written = draft.written.get(field.field_id, Typed())
    how = "plate" if field.field_id.startswith(_ON_PLATES) and field.field_id not in draft.written else written.how
    known: Mapping[str, Known] = MappingProxyType(dict(read_draft(draft, "").known))
    return CardSession(
        card_for(field, draft, unit=unit), unit=unit, instrument=written.instrument, how=how, known=known
    )


def card_for(field: Field, draft: UnitDraft, *, unit: str) -> Card:
    """Return the card that asks for ``field``."""
    if field.kind is Kind.THREAD:
        gender = _said(draft, field.field_id.replace("_thread", "_gender"))
        is_bolt = field.field_id == "face_bolt"
        return ThreadCard(field, unit, "male" if is_bolt else gender if gender in _MALE_OR_FEMALE else "")
    if field.kind is Kind.HOLES:
        return HolesCard(field, unit)
    return PlainCard(field, _holes_of(field, draft))


def also_said(field_id: str, typed: Typed) -> Mapping[str, Typed]:
    """Return the fields that the card of a thread has answered by the way: which half of the joint, and its seal.

    They are known no better than the thread itself.
    """
    if not field_id.endswith("_thread"):
        return {}
    parts, stem = dict(typed.parts), field_id.removesuffix("_thread")
    found = {
        f"{stem}_gender": parts.get(GENDER, ""),
        f"{stem}_seal_mm": parts.get(SEAL, ""),
    }
    return {name: Typed(texts=(text,), unit=typed.unit, how=typed.how) for name, text in found.items() if text}


def _said(draft: UnitDraft, field_id: str) -> str:
    typed = draft.written.get(field_id)
    return typed.texts[0].strip().casefold() if typed and typed.texts else ""


def _holes_of(field: Field, draft: UnitDraft) -> int:
    """Return how many holes the draft's face has, for the picture."""
    side = "face" if field.field_id.startswith("face") else "flange"
    typed = draft.written.get(f"{side}_holes_xy_mm")
    return len(typed.worked.split(";")) if typed and typed.worked else _USUAL_HOLES
