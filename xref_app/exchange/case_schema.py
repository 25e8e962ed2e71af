"""A case held against case.schema.json, the first fault in plain words."""

from __future__ import annotations

import json
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache

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
    if fault.validator == "additionalProperties":
        return _unknown_name(where, fault)
    if fault.validator == "required":
        missing = next(name for name in fault.validator_value if name not in fault.instance)
        return CaseError(where, f"“{missing}” is missing", "add it")
    if fault.validator == "anyOf":
        return CaseError(where, f"{_shown(fault.instance)} stands there", _expected(fault))
    if fault.validator == "enum":
        choices = ", ".join(str(choice) for choice in fault.validator_value)
        return CaseError(where, f"{_shown(fault.instance)} stands there", f"write one of: {choices}")
    return CaseError(where, f"{_shown(fault.instance)} stands there", f"the schema wants {fault.validator} {fault.validator_value}")


def _unknown_name(where: str, fault: ValidationError) -> CaseError:
    known = tuple(fault.schema.get("properties", {}))
    unknown = next(name for name in fault.instance if name not in known)
    nearest = get_close_matches(unknown, known, n=1, cutoff=0.5)
    advice = f"did you mean “{nearest[0]}”" if nearest else f"take one of: {', '.join(known)}"
    return CaseError(where, f"“{unknown}” is no field there", advice)


def _expected(fault: ValidationError) -> str:
    title = str(fault.schema.get("title", "something else is wanted"))
    choices = [choice for inner in fault.context or () if inner.validator == "enum" for choice in inner.validator_value]
    if choices:
        return f"write one of: {', '.join(str(choice) for choice in choices)}"
    return f"wanted: {title[0].lower()}{title[1:]}"


def _shown(instance: object) -> str:
    text = json.dumps(instance, ensure_ascii=False)
    return text if len(text) <= 60 else f"{text[:57]}..."
