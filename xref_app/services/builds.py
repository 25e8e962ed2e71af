"""Which build of a machine is on the bench: those still possible, and the one fact that tells them apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref_app.core.model.catalog import MachineRow
from xref_app.core.sentence import Sentence, marked
from xref_app.services.answers import MachineChoice
from xref_app.services.build_looks import Group, Look, built_words, fewest_looks, told_apart
from xref_app.services.catalog import Catalog

SEVERAL_BUILDS = marked("job", "This model was built in {count} ways")
SEVERAL_LEFT = marked("job", "This model was built in {count} ways that go with what you typed")
ONE_LOOK = marked("job", "{builds}: {look}.")
TWO_LOOKS = marked("job", "{builds}: {look}; if that leaves several, {second}.")
NOTHING_TELLS = marked(
    "job",
    "{builds}, and nothing on file tells them apart: read the number on the pump, or measure with F7.",
)
NOT_ALL_TOLD = marked("job", "{said} Not all are told apart: read the number on the pump, or measure with F7.")
ONE_IS_DAMAGED = marked(
    "job",
    "Another build of this model may be stored, but cannot be read: put back the last copy. "
    "Pick this one only if it is yours.",
)
ON_ONE_MACHINE = marked("job", "This pump was fitted to one machine we know; pick it if it is yours.")
ON_SEVERAL_MACHINES = marked("job", "This pump was fitted to {count} machines; pick yours if it is among them.")


@dataclass(frozen=True, slots=True)
class Builds:
    """The builds still possible, none preselected.

    ``settled`` are the builds that one pump and one engine leave, told from none: more than one only where nothing
    about pump and engine hangs on which it is. It is empty while somebody must choose, or may.
    """

    choices: tuple[MachineChoice, ...] = ()
    settled: tuple[str, ...] = ()
    question: Sentence | None = None


def builds_of(catalog: Catalog, pump_id: str | None, machine_id: str | None, *, among: Sequence[str] = ()) -> Builds:
    """Return the builds of the model of ``machine_id`` that may have carried ``pump_id``; without it all that did.

    Builds that carried the same pump on the same engine are one choice. A build of which nobody knows the pump stays
    in the running.

    Args:
        catalog: Where the builds are.
        pump_id: The pump coming off; None where nobody knows.
        machine_id: Any build of the model; None where nobody knows.
        among: The builds of the model that are left by what was typed with it; without it all of them.
    """
    row = catalog.machines.get(machine_id or "")
    if row is not None:
        builds = catalog.builds_of(row.model)
        left = [one for one in builds if one.entry_id in among]
        groups = _grouped(_of_pump(left or builds, pump_id))
        if len(groups) == 1 and not catalog.may_lack_builds(row.model):
            return Builds(settled=tuple(one.entry_id for one in groups[0]))
    elif pump_id:
        groups = _grouped(catalog.machines_with(pump_id))
    else:
        return Builds()
    looks = fewest_looks(catalog, groups)
    choices = tuple(_choice(catalog, groups, place, looks) for place in range(len(groups)))
    if row is None:
        return Builds(choices, (), _offer(len(groups)))
    if len(groups) == 1:
        return Builds(choices, (), Sentence(ONE_IS_DAMAGED))
    ways = Sentence(SEVERAL_LEFT if among else SEVERAL_BUILDS, {"count": len(groups)})
    return Builds(choices, (), _question(ways, len(groups), looks))


def _of_pump(rows: Sequence[MachineRow], pump_id: str | None) -> Sequence[MachineRow]:
    """Return the builds the pump may have come off; all of them where none is known to have carried it."""
    if not any(pump_id and row.pump_id == pump_id for row in rows):
        return rows
    return [row for row in rows if row.pump_id in ("", pump_id)]


def _grouped(rows: Sequence[MachineRow]) -> tuple[Group, ...]:
    """Return the builds of one model that carried one pump on one engine together; of an unknown pump each is alone."""
    groups: dict[tuple[str, ...], list[MachineRow]] = {}
    for row in rows:
        alone = () if row.pump_id else (row.entry_id,)
        groups.setdefault((row.model, row.pump_id, row.driver_id, *alone), []).append(row)
    return tuple(tuple(group) for group in groups.values())


def _choice(catalog: Catalog, groups: Sequence[Group], place: int, looks: Sequence[Look]) -> MachineChoice:
    first, *others = groups[place]
    needed, is_told_apart = _needed(looks, place, len(groups))
    return MachineChoice(
        entry_id=first.entry_id,
        model=first.model,
        maker=catalog.entries[first.entry_id].maker if first.entry_id in catalog.entries else "",
        driver=_named(catalog, first.driver_id),
        pump_id=first.pump_id,
        built=" or ".join(dict.fromkeys(built for row in (first, *others) if (built := built_words(row)))),
        tell_apart=", ".join(look.labels[place] for look in needed if look.labels[place]),
        pump=catalog.number_of(first.pump_id) if first.pump_id else "",
        sisters=tuple(row.entry_id for row in others),
        is_told_apart=is_told_apart,
    )


def _needed(looks: Sequence[Look], place: int, count: int) -> tuple[Sequence[Look], bool]:
    """Return as many of ``looks`` as it takes to tell one choice from all others, and whether that does it."""
    others = {(min(at, place), max(at, place)) for at in range(count) if at != place}
    for taken in range(len(looks) + 1):
        if others <= told_apart(looks[:taken]):
            return looks[:taken], True
    return looks, False


def _question(builds: Sentence, count: int, looks: Sequence[Look]) -> Sentence:
    if not looks:
        return Sentence(NOTHING_TELLS, {"builds": builds})
    said = Sentence(ONE_LOOK, {"builds": builds, "look": looks[0].what})
    if len(looks) > 1:
        said = Sentence(TWO_LOOKS, {"builds": builds, "look": looks[0].what, "second": looks[1].what})
    is_whole = len(told_apart(looks)) == count * (count - 1) // 2
    return said if is_whole else Sentence(NOT_ALL_TOLD, {"said": said})


def _offer(count: int) -> Sentence | None:
    if count == 0:
        return None
    return Sentence(ON_SEVERAL_MACHINES if count > 1 else ON_ONE_MACHINE, {"count": count})


def _named(catalog: Catalog, entry_id: str) -> str:
    entry = catalog.entries.get(entry_id)
    return "" if entry is None else f"{entry.maker} {entry.name}".strip()
