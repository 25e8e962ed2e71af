"""Words for people, kept apart from the values that fill them so that the window can translate the words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


def marked(context: str, template: str) -> str:  # noqa: ARG001 - the context is read by the text collector only
    """Return ``template`` unchanged; the text collector finds the call and files the words under ``context``."""
    return template


@dataclass(frozen=True, slots=True)
class Sentence:
    """An English template and the values that fill it."""

    template: str
    values: Mapping[str, object] = field(default_factory=dict)

    def __str__(self) -> str:
        return self.template.format(**self.values)
