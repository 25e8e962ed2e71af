"""A case held against case.schema.json, the first fault in plain words."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache

from jsonschema import Draft202012Validator

from xref_app.core.resources import folder
from xref_app.exchange.case_errors import CaseError
from xref_app.exchange.schema_faults import refuse_what_is_not


def check_against_schema(data: Mapping[str, object]) -> None:
    """Return if ``data`` is a case.

    Raises:
        CaseError: it is not; the first fault, by its place in the case, is named.
    """
    refuse_what_is_not(_validator(), data, root="case", error=CaseError)


@cache
def _validator() -> Draft202012Validator:
    schema = json.loads((folder("data_schema") / "case.schema.json").read_text(encoding="utf-8"))
    return Draft202012Validator(schema)
