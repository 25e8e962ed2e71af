"""A case held against case.schema.json, the first fault in plain words."""

from __future__ import annotations

import json
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from xref_app.core.resources import folder
from xref_app.exchange.case_errors import CaseError


def check_against_schema(data: Mapping[str, object]) -> None:
    """Return if ``data`` is a case.

    Raises:
        CaseError: it is not; the first fault, by its place in the case, is named.
    """
    faults = sorted(_validator().iter_errors(data), key=lambda fault: [str(step) for step in fault.absolute_path])
    if faults:
        raise _worded(faults[0])


@cache
def _validator() -> Draft202012Validator:
    schema = json.loads((folder("data_schema") / "case.schema.json").read_text(encoding="utf-8"))
    return Draft202012Validator(schema)


def _worded(fault: ValidationError) -> CaseError:
    where = ".".join(str(step) for step in fault.absolute_path) or "case"
    wanted: Any = fault.validator_value  # JSON: whatever the keyword of the schema holds
    if fault.validator == "additionalProperties":
        return _unknown_name(where, fault)
    if fault.validator == "required":
        missing = next(name for name in wanted if name not in _names(fault))
        return CaseError(where, f"“{missing}” is missing", "add it")
    if fault.validator == "anyOf":
        return CaseError(where, f"{_shown(fault.instance)} stands there", _expected(fault))
    if fault.validator == "enum":
        choices = ", ".join(str(choice) for choice in wanted)
        return CaseError(where, f"{_shown(fault.instance)} stands there", f"write one of: {choices}")
    return CaseError(where, f"{_shown(fault.instance)} stands there", f"the schema wants {fault.validator} {wanted}")


def _unknown_name(where: str, fault: ValidationError) -> CaseError:
    known = tuple(_schema(fault).get("properties", {}))
    unknown = next(name for name in _names(fault) if name not in known)
    nearest = get_close_matches(unknown, known, n=1, cutoff=0.5)
    advice = f"did you mean “{nearest[0]}”" if nearest else f"take one of: {', '.join(known)}"
    return CaseError(where, f"“{unknown}” is no field there", advice)


def _schema(fault: ValidationError) -> Mapping[str, Any]:  # JSON: whatever the schema holds
    return fault.schema if isinstance(fault.schema, Mapping) else {}


def _names(fault: ValidationError) -> tuple[str, ...]:
    return tuple(fault.instance) if isinstance(fault.instance, Mapping) else ()


def _choices(fault: ValidationError) -> list[object]:
    wanted: Any = fault.validator_value  # JSON: the list of an enum
    return list(wanted)


def _expected(fault: ValidationError) -> str:
    title = str(_schema(fault).get("title", "something else is wanted"))
    choices = [choice for inner in fault.context or () if inner.validator == "enum" for choice in _choices(inner)]
    if choices:
        return f"write one of: {', '.join(str(choice) for choice in choices)}"
    return f"wanted: {title[0].lower()}{title[1:]}"


def _shown(instance: object) -> str:
    text = json.dumps(instance, ensure_ascii=False)
    return text if len(text) <= 60 else f"{text[:57]}..."
