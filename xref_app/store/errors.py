"""Everything that can go wrong with a store and that a person can put right, one class per cause."""

from __future__ import annotations

from pathlib import Path

from xref_app.core.errors import XrefError


class StoreError(XrefError):
    """A fault of the store: one sentence saying what was found, why not, and what to do."""


class StoreMissingError(StoreError):
    """There is no file where the store should be."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"There is no catalog at “{path}”; check the path, or import a catalog folder first.")
        self.path = path


class NotAStoreError(StoreError):
    """The file is something else: another kind of file, or another program's database."""

    def __init__(self, path: Path, found: str) -> None:
        super().__init__(f"“{path}” is {found}, not a catalog of this program; choose another file.")
        self.path = path
        self.found = found


class NewerStoreError(StoreError):
    """The store was written by a later version of the program."""

    def __init__(self, where: str, *, found: str, known: str) -> None:
        super().__init__(
            f"“{where}” has format {found} and this program knows formats up to {known}; "
            "nothing was changed: open it with the newer version of the program."
        )
        self.where = where
        self.found = found
        self.known = known


class DamagedStoreError(StoreError):
    """The file is a store, but SQLite cannot read all of it."""

    def __init__(self, where: str, detail: str) -> None:
        super().__init__(f"“{where}” is damaged ({detail}); leave the file as it is and put back the last copy.")
        self.where = where
        self.detail = detail


class ReadOnlyStoreError(StoreError):
    """The file or its folder cannot be written."""

    def __init__(self, where: str) -> None:
        super().__init__(f"“{where}” cannot be written here; copy it to a folder of your own, or open it to look only.")
        self.where = where


class StoreBusyError(StoreError):
    """Somebody else is writing and did not finish in time."""

    def __init__(self, where: str) -> None:
        super().__init__(f"“{where}” is being written by somebody else; nothing was changed: save again in a moment.")
        self.where = where


class ChangeRefusedError(StoreError):
    """The database's own rules refuse a change that the program let through."""

    def __init__(self, where: str, detail: str) -> None:
        super().__init__(f"“{where}” refused the change ({detail}); nothing was changed: look it up again.")
        self.where = where
        self.detail = detail


class StoreFullError(StoreError):
    """The disk is full."""

    def __init__(self, where: str) -> None:
        super().__init__(f"The disk that holds “{where}” is full; nothing was changed: free some space and save again.")
        self.where = where


class StoreUnreachableError(StoreError):
    """The database server does not answer, or the file refuses for a reason of the system."""

    def __init__(self, where: str, detail: str) -> None:
        super().__init__(f"“{where}” cannot be reached ({detail}); check the path or the connection and try again.")
        self.where = where
        self.detail = detail


class DriverMissingError(StoreError):
    """The store is on a database server and the package that talks to it is not installed."""

    def __init__(self, where: str, package: str) -> None:
        super().__init__(f"“{where}” needs the package {package}, which is not installed; install it and start again.")
        self.where = where
        self.package = package


class UnstorableValueError(StoreError):
    """A value that no column can hold and give back unchanged."""

    def __init__(self, *, table: str, column: str, value: object, why: str) -> None:
        super().__init__(f"{table}, {column}: {value!r} cannot be stored because {why}; nothing was changed.")
        self.table = table
        self.column = column
        self.value = value
        self.why = why


class LostReferenceError(StoreError):
    """A row names another row that nobody has."""

    def __init__(self, *, table: str, key: str, column: str, value: str) -> None:
        super().__init__(
            f"{table}, {key}: {column} names “{value}”, which is not in the catalog; "
            "nothing was changed: add it or correct the name."
        )
        self.table = table
        self.key = key
        self.column = column
        self.value = value


class DoubledKeyError(StoreError):
    """Two rows of one table claim the same key, or an incoming row the key of something else."""

    def __init__(self, *, table: str, key: str, why: str) -> None:
        super().__init__(f"{table}, {key}: {why}; nothing was changed: give one of them another key.")
        self.table = table
        self.key = key
        self.why = why


class RowMissingError(StoreError):
    """The row to be changed is not there."""

    def __init__(self, *, table: str, key: str) -> None:
        super().__init__(f"{table} has no row {key}; nothing was changed: look it up again.")
        self.table = table
        self.key = key


class ChangedMeanwhileError(StoreError):
    """A row is not what the person who edits it was shown; ``theirs`` is how it stands now."""

    def __init__(self, *, table: str, key: str, who: str, at: str, theirs: object) -> None:
        when = f" at {at[:16].replace('T', ' ')} UTC" if at else ""
        super().__init__(
            f"{who or 'Somebody else'} changed {table} {key}{when}; nothing was saved: look at both and save again."
        )
        self.table = table
        self.key = key
        self.who = who
        self.at = at
        self.theirs = theirs


class CannotUndoError(StoreError):
    """A row is no longer as the act left it that is to be undone or done again."""

    def __init__(self, *, action: str, name: str, row: str) -> None:
        super().__init__(
            f"{action.capitalize()} of “{name}” was refused because {row} was changed since by another way; "
            "nothing was changed: check the store."
        )
        self.action = action
        self.name = name
        self.row = row


class CopyFailedError(StoreError):
    """A copy could not be made, or does not equal what was copied."""

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(f"The copy “{path}” was not made because {why}; the store itself is untouched.")
        self.path = path
        self.why = why
