"""READINGS.json in: what was read of one thing, checked against readings.schema.json, every length with its doubt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from jsonschema import Draft202012Validator

from xref_app.core.fields.schema_files import Json, as_list, as_object, schema_file
from xref_app.core.identify.thread_readings import pitch_by_tpi_gauge
from xref_app.core.quantity.crests import pitch_from_crests_mm
from xref_app.core.quantity.range import Range
from xref_app.core.standards.exact import INCH_IN_MM
from xref_app.exchange.json_file import JsonFileError, load_object
from xref_app.exchange.reading_kind import Kind
from xref_app.exchange.reading_lengths import LengthForm, ReadLength, read_length
from xref_app.exchange.schema_faults import refuse_what_is_not

_BETWEEN_HOLES = ("sides_mm", "pairs_mm")


@dataclass(frozen=True, slots=True)
class Readings:
    """The readings of one file, sound by the schema; what is null there is left out.

    ``lengths`` are those that stand for themselves, ``sides`` and ``pairs`` those between holes; ``words`` is
    everything that is no length.
    """

    kind: Kind
    lengths: Mapping[str, ReadLength]
    sides: tuple[ReadLength, ...]
    pairs: Mapping[str, ReadLength]
    words: Mapping[str, object]

    def length_or_none(self, name: str) -> Range | None:
        """Return the length of that name, mm, or None where it was not read."""
        found = self.lengths.get(name)
        return None if found is None else found.range

    def word(self, name: str) -> str:
        """Return the word of that name, "" where none was given."""
        return str(self.words.get(name, ""))

    def number_or_none(self, name: str) -> float | None:
        """Return the number of that name that is no length, or None where none was given."""
        found = self.words.get(name)
        return None if found is None else float(str(found))

    def yes_or_none(self, name: str) -> bool | None:
        """Return the yes or no of that name, or None where none was given."""
        found = self.words.get(name)
        return found if isinstance(found, bool) else None

    @property
    def notes(self) -> tuple[str, ...]:
        """Return what is to be told about the readings, each with its place."""
        named = [*self.lengths.items(), *((f"pairs_mm.{name}", one) for name, one in self.pairs.items())]
        named += [(f"sides_mm.{place}", one) for place, one in enumerate(self.sides)]
        return tuple(f"{name}: {note}" for name, one in named for note in one.notes)


def load_readings(path: Path, kind: Kind) -> Readings:
    """Return the readings in the file at ``path``.

    Raises:
        XrefError: the file is missing, is no JSON, does not hold readings of that kind, or a length in it is none.
    """
    return read_readings(load_object(path), kind)


def read_readings(data: Mapping[str, object], kind: Kind) -> Readings:
    """Return the readings in ``data``.

    Raises:
        XrefError: ``data`` does not hold readings of that kind, or a length in it is none.
    """
    refuse_what_is_not(_validator(kind), data, root=f"{kind} readings")
    given = {name: value for name, value in data.items() if value is not None}
    sides, pairs = given.get("sides_mm", []), given.get("pairs_mm", {})
    return Readings(
        kind,
        lengths=dict(_lengths(kind, given)),
        sides=tuple(
            read_length(f"sides_mm.{place}", one, _form(kind, "sides_mm")) for place, one in enumerate(as_list(sides))
        ),
        pairs={
            name: read_length(f"pairs_mm.{name}", one, _form(kind, "pairs_mm"))
            for name, one in as_object(pairs).items()
        },
        words={name: value for name, value in given.items() if "plausible_mm" not in as_object(_described(kind)[name])},
    )


def _lengths(kind: Kind, given: Mapping[str, object]) -> Iterator[tuple[str, ReadLength]]:
    """Yield every length that stands for itself by its name; threads per inch and counted crests as ``pitch_mm``."""
    if "tpi" in given and "pitch_mm" in given:
        raise JsonFileError("thread readings", "pitch_mm and tpi both say the pitch", "give one of them")
    for name, value in given.items():
        if name == "tpi":
            yield "pitch_mm", ReadLength(_pitch_of_tpi(value))
        elif isinstance(value, Mapping) and "crests" in value:
            yield name, _pitch_of_crests(value)
        elif name not in _BETWEEN_HOLES and "plausible_mm" in as_object(_described(kind)[name]):
            yield name, read_length(name, value, _form(kind, name))


def _pitch_of_tpi(value: object) -> Range:
    if isinstance(value, Mapping):
        per_inch = Range.around(float(value["value"]), float(value["doubt"]))
        if per_inch.low <= 0:
            raise JsonFileError("tpi", f"it can be {per_inch.low:g}", "no thread has none per inch; read it again")
        return Range.exactly(float(INCH_IN_MM)) / per_inch
    return pitch_by_tpi_gauge(float(str(value)))


def _pitch_of_crests(value: Mapping[str, object]) -> ReadLength:
    over = read_length("pitch_mm.over_mm", value["over_mm"], LengthForm.of(_crests_described()))
    counted = int(str(value["crests"]))
    pitch = pitch_from_crests_mm(crests_counted_with_both_ends=counted, first_to_last_crest_mm=over.range)
    return ReadLength(pitch, over.notes)


def _form(kind: Kind, name: str) -> LengthForm:
    return LengthForm.of(as_object(_described(kind)[name]))


def _crests_described() -> Json:
    crests = as_object(as_object(schema_file("readings")["$defs"])["crests"])
    return as_object(as_object(crests["properties"])["over_mm"])


@cache
def _described(kind: Kind) -> Json:
    """Return what the schema says of each reading of that kind, by its name."""
    return as_object(as_object(as_object(schema_file("readings")["$defs"])[kind])["properties"])


@cache
def _validator(kind: Kind) -> Draft202012Validator:
    schema = schema_file("readings")
    kind_only = {**schema, "$ref": f"#/$defs/{kind}"}
    del kind_only["anyOf"]
    return Draft202012Validator(kind_only)
