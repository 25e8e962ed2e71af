"""A store is read through some rows at a time: the same is found as by reading it whole."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine

from tests.heard import Heard
from xref_app.core.progress import WorkCancelledError
from xref_app.store import stopping, verified
from xref_app.store.connect import writing
from xref_app.store.health import check_store


@pytest.mark.parametrize("at_once", [1, 3, 100])
def test_what_is_damaged_is_found_wherever_it_stands(
    filled: Engine, monkeypatch: pytest.MonkeyPatch, at_once: int
) -> None:
    """Also where a text is no UTF-8, so that the driver gives up in the middle."""
    monkeypatch.setattr(verified, "_ROWS_AT_ONCE", at_once)
    with writing(filled) as connection:
        connection.exec_driver_sql("UPDATE observations SET value = 99 WHERE observation_id IN (2, 48)")
        connection.exec_driver_sql("UPDATE observations SET source = CAST(x'ff41' AS TEXT) WHERE observation_id = 7")
        connection.exec_driver_sql("UPDATE shelf SET low_at = 5 WHERE shelf_id = 'H1'")
        connection.exec_driver_sql("UPDATE numbers SET row_hash = 'none' WHERE entry_id = 'P003'")
    report = check_store(filled)
    assert {(one.table, *one.key) for one in report.damaged} == {
        ("observations", "2"),
        ("observations", "48"),
        ("observations", "7"),
        ("shelf", "H1"),
        ("numbers", "P003", "QX-0003"),
    }
    assert (report.rows["observations"], report.rows["shelf"], report.rows["numbers"]) == (45, 1, 11)
    assert [(one.table, one.found_rows) for one in report.tally_breaks] == [("numbers", -1)]


def test_a_table_that_is_gone_is_told(filled: Engine) -> None:
    with writing(filled) as connection:
        connection.exec_driver_sql("DROP TABLE photos")
    (told,) = check_store(filled).tally_breaks
    assert (told.table, told.expected_rows, told.found_rows) == ("photos", 1, 0)


def test_a_check_tells_how_far_it_is_and_can_be_stopped_anywhere(
    filled: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(verified, "_ROWS_AT_ONCE", 5)
    monkeypatch.setattr(stopping, "_STEPS", 10)
    heard = Heard()
    assert check_store(filled, heard).is_whole
    assert heard.shares == sorted(heard.shares)
    assert len(heard.shares) > 20
    for patience in range(0, len(heard.shares), 5):
        with pytest.raises(WorkCancelledError):
            check_store(filled, Heard(patience))
    assert check_store(filled).is_whole
