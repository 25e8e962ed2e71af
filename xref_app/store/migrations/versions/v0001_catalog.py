"""Format 0001: the catalog's tables and the history that nobody can rewrite.

A step is never edited once released: it spells its columns out and reads nothing from tables.py.
"""

from __future__ import annotations

from typing import Final

from alembic import op
from sqlalchemy import (
    Boolean,
    Column,
    Double,
    ForeignKeyConstraint,
    Integer,
    PrimaryKeyConstraint,
    Text,
    UniqueConstraint,
)

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_SQLITE_GUARDS: Final = """
CREATE TRIGGER history_keeps_{act} BEFORE {act} ON history
BEGIN SELECT RAISE(ABORT, 'history is only ever added to'); END
"""

_SERVER_GUARD: Final = (
    """
CREATE FUNCTION history_is_kept() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'history is only ever added to'; END $$
""",
    "CREATE TRIGGER history_is_kept BEFORE UPDATE OR DELETE ON history FOR EACH ROW EXECUTE FUNCTION history_is_kept()",
)


def upgrade() -> None:
    _create_entries()
    _create_parts()
    _create_numbers()
    _create_observations()
    _create_drivers()
    _create_machines()
    _create_ports()
    _create_shelf()
    _create_salvaged_units()
    _create_replaced_by()
    _create_outcomes()
    _create_history()
    _guard_history()


def _text(name: str, *, nullable: bool = False) -> Column[str]:
    return Column(name, Text(), nullable=nullable, autoincrement=False)


def _number(name: str) -> Column[float]:
    return Column(name, Double(), nullable=True, autoincrement=False)


def _yes_no(name: str) -> Column[bool]:
    return Column(name, Boolean(), nullable=True, autoincrement=False)


def _whole(name: str) -> Column[int]:
    return Column(name, Integer(), nullable=False, autoincrement=False)


def _key(table: str, *columns: str) -> PrimaryKeyConstraint:
    return PrimaryKeyConstraint(*columns, name=op.f(f"pk_{table}"))


def _refers(table: str, column: str, other: str, other_column: str) -> ForeignKeyConstraint:
    return ForeignKeyConstraint([column], [f"{other}.{other_column}"], name=op.f(f"fk_{table}_{column}_{other}"))


def _create_entries() -> None:
    op.create_table(
        "entries",
        _text("entry_id"),
        _text("kind"),
        _text("maker"),
        _text("name"),
        _text("note"),
        _text("added_by"),
        _text("added_on"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _key("entries", "entry_id"),
    )


def _create_parts() -> None:
    op.create_table(
        "parts",
        _text("part_id"),
        _text("kind"),
        _text("name"),
        _number("thickness_mm"),
        _number("outside_mm"),
        _number("inside_mm"),
        _number("width_mm"),
        _number("height_mm"),
        _number("hub_width_mm"),
        _number("hub_height_mm"),
        _number("length_mm"),
        _text("thread"),
        _text("end_1_thread"),
        _text("end_1_gender"),
        _number("end_1_seal_mm"),
        _yes_no("end_1_swivel"),
        _text("end_2_thread"),
        _text("end_2_gender"),
        _number("end_2_seal_mm"),
        _yes_no("end_2_swivel"),
        _text("end_3_thread"),
        _text("end_3_gender"),
        _number("end_3_seal_mm"),
        _yes_no("end_3_swivel"),
        _number("rating_bar"),
        _number("max_c"),
        _number("number"),
        _number("bore_a_mm"),
        _number("bore_b_mm"),
        _number("torque_nm"),
        _number("cost"),
        _text("note"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _key("parts", "part_id"),
    )


def _create_numbers() -> None:
    op.create_table(
        "numbers",
        _text("entry_id"),
        _text("number"),
        _text("role"),
        _text("how"),
        _text("source"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("numbers", "entry_id", "entries", "entry_id"),
        _key("numbers", "entry_id", "number"),
    )


def _create_observations() -> None:
    op.create_table(
        "observations",
        _whole("observation_id"),
        _text("entry_id"),
        _text("field"),
        _text("as_typed"),
        _number("value"),
        _text("text"),
        _number("doubt"),
        _text("how"),
        _text("seen_by"),
        _text("seen_on"),
        _text("source"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("observations", "entry_id", "entries", "entry_id"),
        _key("observations", "observation_id"),
    )
    op.create_index(op.f("ix_observations_entry_id"), "observations", ["entry_id"])


def _create_drivers() -> None:
    op.create_table(
        "drivers",
        _text("entry_id"),
        _text("power_kind"),
        _text("frame"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("drivers", "entry_id", "entries", "entry_id"),
        _key("drivers", "entry_id"),
    )


def _create_machines() -> None:
    op.create_table(
        "machines",
        _text("entry_id"),
        _text("model"),
        _text("driver_id"),
        _text("pump_id", nullable=True),
        _text("built_from"),
        _text("built_to"),
        _text("tell_apart"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("machines", "driver_id", "drivers", "entry_id"),
        _refers("machines", "entry_id", "entries", "entry_id"),
        _refers("machines", "pump_id", "entries", "entry_id"),
        _key("machines", "entry_id"),
    )
    op.create_index(op.f("ix_machines_driver_id"), "machines", ["driver_id"])
    op.create_index(op.f("ix_machines_pump_id"), "machines", ["pump_id"])


def _create_ports() -> None:
    op.create_table(
        "ports",
        _text("entry_id"),
        _text("port"),
        _text("thread"),
        _text("gender"),
        _number("seal_mm"),
        _yes_no("swivel"),
        _number("direction_deg"),
        _text("how"),
        _text("seen_by"),
        _text("seen_on"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("ports", "entry_id", "entries", "entry_id"),
        _key("ports", "entry_id", "port"),
    )


def _create_shelf() -> None:
    op.create_table(
        "shelf",
        _text("shelf_id"),
        _text("part_id", nullable=True),
        _text("entry_id", nullable=True),
        _text("bin"),
        _whole("count"),
        _number("price"),
        _text("counted_on"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("shelf", "entry_id", "entries", "entry_id"),
        _refers("shelf", "part_id", "parts", "part_id"),
        _key("shelf", "shelf_id"),
    )
    op.create_index(op.f("ix_shelf_entry_id"), "shelf", ["entry_id"])
    op.create_index(op.f("ix_shelf_part_id"), "shelf", ["part_id"])


def _create_salvaged_units() -> None:
    op.create_table(
        "salvaged_units",
        _text("unit_id"),
        _text("entry_id"),
        _text("taken_from"),
        _text("condition"),
        _number("hours"),
        _number("price"),
        _text("bin"),
        _text("tested_on"),
        _text("note"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("salvaged_units", "entry_id", "entries", "entry_id"),
        _key("salvaged_units", "unit_id"),
    )
    op.create_index(op.f("ix_salvaged_units_entry_id"), "salvaged_units", ["entry_id"])


def _create_replaced_by() -> None:
    op.create_table(
        "replaced_by",
        _text("entry_id"),
        _text("new_entry_id"),
        _text("since"),
        _text("how"),
        _text("source"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("replaced_by", "entry_id", "entries", "entry_id"),
        _refers("replaced_by", "new_entry_id", "entries", "entry_id"),
        _key("replaced_by", "entry_id", "new_entry_id"),
    )


def _create_outcomes() -> None:
    op.create_table(
        "outcomes",
        _text("outcome_id"),
        _text("machine_id"),
        _text("pump_id"),
        _text("result"),
        _text("note"),
        _text("seen_by"),
        _text("seen_on"),
        _text("withdrawn_on"),
        _text("row_hash"),
        _refers("outcomes", "machine_id", "machines", "entry_id"),
        _refers("outcomes", "pump_id", "entries", "entry_id"),
        _key("outcomes", "outcome_id"),
    )
    op.create_index(op.f("ix_outcomes_machine_id"), "outcomes", ["machine_id"])
    op.create_index(op.f("ix_outcomes_pump_id"), "outcomes", ["pump_id"])


def _create_history() -> None:
    op.create_table(
        "history",
        _whole("serial"),
        _text("at"),
        _text("who"),
        _text("action"),
        _text("table_name"),
        _text("row_key"),
        _text("before"),
        _text("after"),
        _text("why"),
        _text("tallies"),
        _text("previous_hash"),
        _text("own_hash"),
        _key("history", "serial"),
        UniqueConstraint("previous_hash", name=op.f("uq_history_previous_hash")),
    )


def _guard_history() -> None:
    if op.get_bind().dialect.name == "sqlite":
        for act in ("UPDATE", "DELETE"):
            op.execute(_SQLITE_GUARDS.format(act=act))
    else:
        for words in _SERVER_GUARD:
            op.execute(words)
