"""What a JSON Schema finds wrong, the first fault in plain words."""

from __future__ import annotations

import json
from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from xref_app.exchange.json_file import JsonFileError


def refuse_what_is_not(
    validator: Draft202012Validator,
    data: Mapping[str, object],
    *,
    root: str,
    error: type[JsonFileError] = JsonFileError,
) -> None:
    """Return if ``data`` is what ``validator`` describes.

    Args:
        validator: Of one schema.
        data: What was read.
        root: What to call the place where the fault is in no part of ``data`` but in all of it.
        error: What to raise.

    Raises:
        JsonFileError: it is not; the first fault, by its place, is named.
    """
    faults = sorted(validator.iter_errors(data), key=_place)
    if faults:
        where = ".".join(str(step) for step in faults[0].absolute_path) or root
        raise error(where, *_worded(faults[0]))


def _place(fault: ValidationError) -> tuple[list[str], bool]:
    """Order by place; at one place a name too many comes first, for it is often the one that is missing, mistyped."""
    return [str(step) for step in fault.absolute_path], fault.validator != "additionalProperties"


def shown(instance: object) -> str:
    """Return a JSON value fit for one line."""
    text = json.dumps(instance, ensure_ascii=False)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _worded(fault: ValidationError) -> tuple[str, str]:
    """Return what stood there and what to do."""
    wanted: Any = fault.validator_value  # JSON: whatever the keyword of the schema holds
    title = _title(fault)
    if fault.validator == "additionalProperties":
        return _unknown_name(fault)
    if fault.validator in {"required", "dependentRequired"}:
        return f"“{_missing(fault)}” is missing", "add it"
    choices = wanted if fault.validator == "enum" else _inner_choices(fault)
    if choices:
        return f"{shown(fault.instance)} stands there", f"write one of: {', '.join(_word(one) for one in choices)}"
    if title:
        return f"{shown(fault.instance)} stands there", f"wanted: {title}"
    return f"{shown(fault.instance)} stands there", f"the schema wants {fault.validator} {shown(wanted)}"


def _inner_choices(fault: ValidationError) -> list[object]:
    """Return the words of the closed lists among several ways to write a thing."""
    lists: list[Any] = [inner.validator_value for inner in fault.context or () if inner.validator == "enum"]  # JSON
    return [choice for choices in lists for choice in choices]


def _word(choice: object) -> str:
    return choice if isinstance(choice, str) else json.dumps(choice)


def _title(fault: ValidationError) -> str:
    title = str(_schema(fault).get("title", ""))
    return title[:1].lower() + title[1:]


def _missing(fault: ValidationError) -> str:
    wanted: Any = fault.validator_value  # JSON: names, or the names that go with a name
    given = _names(fault)
    if fault.validator == "dependentRequired":
        wanted = [one for name, others in wanted.items() if name in given for one in others]
    return str(next(name for name in wanted if name not in given))


def _unknown_name(fault: ValidationError) -> tuple[str, str]:
    known = tuple(_schema(fault).get("properties", {}))
    patterns = tuple(_schema(fault).get("patternProperties", {}))
    unknown = next(name for name in _names(fault) if name not in known)
    if patterns:
        return f"“{unknown}” is no name there", f"wanted: {_title(fault)}"
    nearest = get_close_matches(unknown, known, n=1, cutoff=0.5)
    advice = f"did you mean “{nearest[0]}”" if nearest else f"take one of: {', '.join(known)}"
    return f"“{unknown}” is no field there", advice


def _schema(fault: ValidationError) -> Mapping[str, Any]:  # JSON: whatever the schema holds
    return fault.schema if isinstance(fault.schema, Mapping) else {}


def _names(fault: ValidationError) -> tuple[str, ...]:
    return tuple(fault.instance) if isinstance(fault.instance, Mapping) else ()
