"""What the job already tells of the pump coming off and its nozzle, with how it is known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from xref_app.core.fields.fields import field_for
from xref_app.core.model.known import Dimension, Known
from xref_app.core.quantity.range import Range, hull
from xref_app.core.quantity.show import show_range
from xref_app.core.sentence import marked
from xref_app.services.answers import Job
from xref_app.services.catalog import Catalog
from xref_app.services.facts import known_by
from xref_app.services.machine_side import job_values

GUESSED = marked("diagnose", "of a number that was guessed: read the plate")
TYPICAL = marked("diagnose", "only typical: read it off")
TWO_VERSIONS = marked("diagnose", "two versions, reckoned with both")

_OF_THE_PUMP: Final = {
    "rated_lpm": "rating_flow_lpm",
    "rated_bar": "rating_pressure_bar",
    "rated_rpm": "rating_speed_rpm",
}
_OF_THE_MACHINE: Final = {"nozzle_number": "nozzle_number"}


@dataclass(frozen=True, slots=True)
class Told:
    """One value that the catalog knows, in the unit of its question; ``known_by`` reads like "plate, Ana, 3 Nov".

    Where it does not decide it is shown and not reckoned with: only typical, or of a pump whose number was guessed.
    """

    value: Range
    shown: str
    known_by: str
    decides: bool = True


Tellings = Mapping[str, Told]
NOTHING_TOLD: Tellings = MappingProxyType({})


def told_of(catalog: Catalog, job: Job) -> Tellings:
    """Return what the job knows, by question: ratings and speed of the pump coming off, nozzle of the machine.

    Several versions of one value count as all of them at once.
    """
    row = catalog.machines.get(job.machine_id or "")
    pump_id = job.pump_id or (row.pump_id if row is not None else "")
    pump = catalog.known(pump_id) if pump_id else {}
    machine = job_values(catalog, job.pump_id, job.machine_id, sisters=job.sisters)
    found = {
        **{ask: (field, pump.get(field, ()), (pump_id,)) for ask, field in _OF_THE_PUMP.items()},
        **{ask: (field, machine.machine.get(field, ()), machine.sources) for ask, field in _OF_THE_MACHINE.items()},
    }
    return MappingProxyType(
        {
            ask: _told(field, known, known_by(catalog, sources, field), is_guessed=job.guessed_number)
            for ask, (field, known, sources) in found.items()
            if known
        }
    )


def _told(field: str, known: Sequence[Known], who: str, *, is_guessed: bool) -> Told:
    sizes = [one for one in known if isinstance(one, Dimension)]
    value = hull(one.range for one in sizes)
    is_typical = any(not one.how.decides for one in sizes)
    words = [who]
    if is_guessed:
        words.append(GUESSED)
    if is_typical:
        words.append(TYPICAL)
    if len(sizes) > 1:
        words.append(TWO_VERSIONS)
    shown = show_range(value, field_for(field).unit)
    return Told(value, shown, "; ".join(word for word in words if word), decides=not (is_guessed or is_typical))
