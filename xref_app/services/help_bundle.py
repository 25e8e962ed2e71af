"""What somebody who helps needs to see, in one zip: listed before it is written, and without the shop's affairs.

Prices, references, names and who did what stay out unless the person asks for them (``with_names``): no row of the
catalog is in it at all, of settings only those of the window's looks, of the history only what kind of act and when.
"""

from __future__ import annotations

import configparser
import getpass
import io
import json
import platform
import zipfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, requires, version
from pathlib import Path
from typing import Final

from xref_app.core.errors import XrefError
from xref_app.exchange.whole_file import write_whole
from xref_app.settings import log_folder, settings_path
from xref_app.store.engine import Store
from xref_app.store.health import check_store
from xref_app.store.history import read_history
from xref_app.store.sqlite_file import SQLITE_VERSION
from xref_app.store.stamp import read_stamp

# House rules: what can be sent by mail.
MOST_BYTES: Final = 5 * 1024 * 1024
MOST_LOG_BYTES: Final = 1024 * 1024
MOST_LOGS: Final = 3
MOST_ACTS: Final = 200
_LOOKS: Final = "window"
_LEFT_OUT: Final = "(left out)"


@dataclass(frozen=True, slots=True)
class BundlePart:
    """One file of the bundle; ``about`` says in plain words what is in it."""

    name: str
    about: str
    content: str


@dataclass(frozen=True, slots=True)
class BundlePlaces:
    """Where things lie that are not in the store; another place is for tests."""

    settings: Path
    logs: Path

    @classmethod
    def usual(cls) -> BundlePlaces:
        """Return the places of this user."""
        return cls(settings_path(), log_folder())


def bundle_parts(
    store: Callable[[], Store], places: BundlePlaces, *, with_names: bool = False
) -> tuple[BundlePart, ...]:
    """Return what the bundle would hold. ``store`` opens the store; if it cannot, the bundle says why."""
    parts = [BundlePart("versions.json", "versions of the program and of what it stands on", _as_text(_versions()))]
    parts += _settings(places.settings, with_names=with_names)
    parts += _of_store(store, with_names=with_names)
    parts += _logs(places.logs)
    return tuple(BundlePart(one.name, one.about, _without_home(one.content)) for one in parts)


def bundle_bytes(parts: tuple[BundlePart, ...]) -> bytes:
    """Return the zip of ``parts``, at most MOST_BYTES large: what is too long is cut at its beginning."""
    listed = "".join(f"{one.name}: {one.about}\n" for one in parts)
    most = (MOST_BYTES - len(listed)) // (len(parts) + 2)
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as opened:
        opened.writestr("contents.txt", listed)
        for one in parts:
            opened.writestr(one.name, one.content.encode()[-most:])
    return file.getvalue()


def write_bundle(out: Path, parts: tuple[BundlePart, ...]) -> None:
    """Write the bundle to ``out``: whole, or not at all.

    Raises:
        NotWrittenError: in one sentence.
    """
    write_whole(out, bundle_bytes(parts))


def _versions() -> dict[str, str]:
    found = {"python": platform.python_version(), "system": platform.platform(), "sqlite": SQLITE_VERSION}
    with suppress(PackageNotFoundError):
        found["xref-app"] = version("xref-app")
        for wanted in requires("xref-app") or ():
            name = wanted.partition("==")[0].strip()
            with suppress(PackageNotFoundError):
                found[name] = version(name)
    return found


def _settings(path: Path, *, with_names: bool) -> Iterator[BundlePart]:
    if not path.exists():
        return
    about = "all settings" if with_names else "how the window looks; of all other settings only that they are set"
    parser = configparser.RawConfigParser()
    try:
        parser.read_string(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, configparser.Error) as error:
        yield BundlePart("settings.txt", "why the settings cannot be read", type(error).__name__)
        return
    lines = [
        f"{group}/{key} = {value if with_names or group == _LOOKS else _LEFT_OUT}"
        for group in parser.sections()
        for key, value in parser.items(group)
    ]
    yield BundlePart("settings.txt", about, "\n".join(lines) + "\n")


def _of_store(store: Callable[[], Store], *, with_names: bool) -> Iterator[BundlePart]:
    try:
        engine = store()
        yield BundlePart("health.json", "what is wrong with the catalog, in numbers", _as_text(_health(engine)))
        about = "what was done last, by whom and why" if with_names else "what kind of act was done last, and when"
        yield BundlePart("history.json", about, _as_text(_history(engine, with_names=with_names)))
    except XrefError as error:
        words = str(error) if with_names else type(error).__name__
        yield BundlePart("health.json", "why the catalog cannot be read", _as_text({"fault": words}))


def _health(engine: Store) -> dict[str, object]:
    report = check_store(engine)
    damaged: dict[str, int] = {}
    for one in report.damaged:
        damaged[one.table] = damaged.get(one.table, 0) + 1
    return {
        "format": read_stamp(engine),
        "kind": engine.dialect.name,
        "is_whole": report.is_whole,
        "complaints": len(report.complaints),
        "first_complaint": report.complaints[0] if report.complaints else None,
        "damaged_rows": damaged,
        "lost_rows": {one.table: one.expected_rows - one.found_rows for one in report.tally_breaks},
        "history_broken_at": report.chain_break.serial if report.chain_break else None,
        "last_act": report.last_serial,
        "rows": report.rows,
    }


def _history(engine: Store, *, with_names: bool) -> list[dict[str, object]]:
    told: list[dict[str, object]] = []
    for one in read_history(engine, limit=MOST_ACTS):
        act: dict[str, object] = {"serial": one.serial, "at": one.at, "action": one.change.action}
        if with_names:
            act |= {"who": one.change.who, "why": one.change.why, "name": one.change.key[-1:]}
        told.append(act)
    return told


def _logs(folder: Path) -> Iterator[BundlePart]:
    for path in sorted(folder.glob("*.log*"))[:MOST_LOGS] if folder.is_dir() else ():
        with suppress(OSError):
            content = path.read_bytes()[-MOST_LOG_BYTES:].decode("utf-8", "replace")
            yield BundlePart(f"log/{path.name}", "what the program wrote down while it ran", content)


def _without_home(text: str) -> str:
    """Return ``text`` without where and who this person is on this machine."""
    for given, said in ((str(Path.home()), "~"), (getpass.getuser(), "user")):
        if len(given) > 3:
            text = text.replace(given, said)
    return text


def _as_text(value: object) -> str:
    return json.dumps(value, indent=1, ensure_ascii=False) + "\n"
