"""What was typed and not saved is kept after every field, and one damaged draft does not hinder the others."""

from __future__ import annotations

import json
import random
import re
from pathlib import Path

import pytest
from sqlalchemy import Engine

from xref_app.store.connect import writing
from xref_app.store.copies import make_copy
from xref_app.store.drafts import Draft, drop_draft, keep_draft, read_drafts, read_kept_drafts
from xref_app.store.engine import open_engine
from xref_app.store.errors import StoreError, UnstorableValueError
from xref_app.store.health import check_store
from xref_app.store.history import read_history


def draft(draft_id: str = "d1", content: str = '{"maker": "Söhne"}', at: str = "2026-11-25T10:00:00+00:00") -> Draft:
    return Draft(draft_id, "pump", content, at)


def test_a_draft_is_kept_replaced_and_dropped(path: Path, engine: Engine) -> None:
    keep_draft(engine, draft())
    keep_draft(engine, draft(content="{}"))
    engine.dispose()
    again = open_engine(path)
    assert read_drafts(again) == (draft(content="{}"),)
    drop_draft(again, "d1")
    drop_draft(again, "never there")
    assert read_drafts(again) == ()
    again.dispose()


def test_the_newest_is_first_also_when_the_clock_was_set_back(engine: Engine) -> None:
    keep_draft(engine, draft("d1", at="2099-01-01T00:00:00+00:00"))
    keep_draft(engine, draft("d2", at="1980-01-01T00:00:00+00:00"))
    keep_draft(engine, draft("d3"))
    keep_draft(engine, draft("d2", at="1980-01-01T00:00:01+00:00"))
    assert [one.draft_id for one in read_drafts(engine)] == ["d2", "d3", "d1"]


def test_the_catalog_and_its_history_know_nothing_of_it(filled: Engine) -> None:
    before = read_history(filled)
    keep_draft(filled, draft())
    assert read_history(filled) == before
    assert check_store(filled).is_whole


@pytest.mark.parametrize("column", ["draft_id", "kind", "content", "changed_at", "turn", "row_hash"])
def test_a_damaged_draft_is_set_aside(engine: Engine, column: str) -> None:
    for one in ("d1", "d2", "d3"):
        keep_draft(engine, draft(one))
    with writing(engine) as connection:
        connection.exec_driver_sql(f"UPDATE drafts SET {column} = '7' WHERE draft_id = 'd2'")
    kept = read_kept_drafts(engine)
    assert [one.draft_id for one in kept.sound] == ["d3", "d1"]
    assert kept.damaged == ("7" if column == "draft_id" else "d2",)
    drop_draft(engine, kept.damaged[0])
    assert read_kept_drafts(engine).damaged == ()
    keep_draft(engine, draft("d2"))  # the same id can be used again
    assert len(read_drafts(engine)) == 3


def test_a_draft_that_is_no_text_any_more_hides_no_other(engine: Engine) -> None:
    for one in ("d1", "d2"):
        keep_draft(engine, draft(one))
    with writing(engine) as connection:
        connection.exec_driver_sql("UPDATE drafts SET content = CAST(x'ff41' AS TEXT) WHERE draft_id = 'd1'")
    assert [one.draft_id for one in read_drafts(engine)] == ["d2"]


@pytest.mark.parametrize("text", ["a\0b", "half \ud83d"])
def test_what_cannot_come_back_unchanged_is_refused_and_the_old_draft_stands(engine: Engine, text: str) -> None:
    keep_draft(engine, draft())
    with pytest.raises(UnstorableValueError):
        keep_draft(engine, draft(content=text))
    assert read_drafts(engine) == (draft(),)


def test_any_text_comes_back_unchanged(engine: Engine) -> None:
    rng = random.Random(5)
    for place in range(200):
        typed = "".join(chr(rng.choice((rng.randrange(1, 127), rng.randrange(160, 0xD7FF)))) for _ in range(40))
        one = draft(f"d{place}", json.dumps({"typed": typed}, ensure_ascii=bool(place % 2)))
        keep_draft(engine, one)
        assert read_drafts(engine)[0] == one


def test_one_changed_byte_alters_no_draft(tmp_path: Path, engine: Engine) -> None:
    """200 files with one bit turned: a draft comes back as it was, or not at all."""
    true = {draft(f"d{place}", json.dumps({"typed": "x" * 300, "n": place})) for place in range(30)}
    for one in true:
        keep_draft(engine, one)
    make_copy(engine, tmp_path / "copy.sqlite")
    whole = (tmp_path / "copy.sqlite").read_bytes()
    starts = [one.start() for one in re.finditer(rb'{"typed"', whole)]
    rng, hit = random.Random(4), tmp_path / "hit.sqlite"
    set_aside = 0
    for _ in range(200):
        place = rng.choice(starts) + rng.randrange(-40, 400)
        hit.write_bytes(whole[:place] + bytes([whole[place] ^ (1 << rng.randrange(8))]) + whole[place + 1 :])
        try:
            opened = open_engine(hit, create=False)
        except StoreError:
            continue
        try:
            read = read_drafts(opened)
        except StoreError:
            read = ()
        opened.dispose()
        assert set(read) <= true
        set_aside += len(read) < len(true)
    assert set_aside > 100
