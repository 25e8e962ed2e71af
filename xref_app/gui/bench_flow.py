"""The unit on the bench, from the first reading to the saved entry: kept after every field, one step after another."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot

from xref_app.core.progress import Progress
from xref_app.gui.bench_desk import BenchDesk
from xref_app.gui.tasks import Task, Tasks
from xref_app.services.bench import BenchView, SavedUnit
from xref_app.services.undoing import UndoNames
from xref_app.services.unit_draft import Typed, UnitDraft, UnitKind


class BenchFlow(QObject):
    """Holds the draft. Writing to the disk goes on behind, in order, one at a time: the newest state goes next.

    ``shown`` carries the BenchView of the newest draft; ``saved`` a SavedUnit; ``taken_back`` the name of a saved
    change that was undone or done again.
    """

    opened = Signal(object)
    shown = Signal(object)
    saved = Signal(object)
    closed = Signal()
    taken_back = Signal(str, bool)
    names_changed = Signal(object)
    failed = Signal(str)
    crashed = Signal()

    def __init__(self, desk: BenchDesk, tasks: Tasks, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._tasks = tasks
        self._draft: UnitDraft | None = None
        self._is_guessed = False
        self._tried: UnitDraft | None = None
        self._who = ""
        self._waiting: list[Callable[[], None]] = []
        self._task: Task | None = None
        self._is_unkept = False
        self._saved_names = UndoNames("", "")

    # -- the draft

    @property
    def draft(self) -> UnitDraft | None:
        """Return the draft in work, None while there is none."""
        return self._draft

    @property
    def is_working(self) -> bool:
        """Say whether something is still on its way to the disk."""
        return self._task is not None or bool(self._waiting)

    @property
    def who(self) -> str:
        """Return who measures."""
        return self._who

    def set_who(self, who: str) -> None:
        """Say who measures."""
        if who != self._who:
            self._who = who
            self._keep()

    def begin(self, kind: UnitKind, *, entry_id: str = "", pump_id: str = "", is_guessed: bool = False) -> None:
        """Begin a draft: of a new unit, or of more readings of ``entry_id``."""
        self.reopen(self._desk.begin(kind, entry_id=entry_id, pump_id=pump_id), is_guessed=is_guessed)

    def reopen(self, draft: UnitDraft, *, is_guessed: bool = False) -> None:
        """Go on with a draft that was not saved."""
        self._draft, self._is_guessed = draft, is_guessed
        self.opened.emit(draft)
        self._keep()

    def write(self, name: str, typed: Typed | None) -> None:
        """Write one field, or blank it for None; it is on the disk a moment later."""
        self._change(None if self._draft is None else self._draft.write(name, typed))

    def leave(self) -> None:
        """Put the draft away; it stays kept."""
        self._draft = None
        self.closed.emit()

    def discard(self) -> None:
        """Forget the draft."""
        draft, self._draft = self._draft, None
        self.closed.emit()
        if draft is not None:
            self._queue(partial(self._run, lambda _progress: self._desk.drop(draft), None))

    def save(self) -> None:
        """Save the draft as an entry."""
        draft = self._draft
        if draft is not None:
            # The second time of asking for the very same draft, the person has read that it may be entered already.
            is_again, self._tried = self._tried is draft, draft
            save = partial(self._desk.save, draft, self._who, guessed_entry=self._is_guessed, although_double=is_again)
            self._queue(partial(self._run, lambda _progress: save(), self._tell_saved))

    def add_photos(self, paths: list[Path]) -> None:
        """Add photos from files."""
        for path in paths:
            self._queue(partial(self._run_photo, path))

    # -- taking back

    def undo(self) -> None:
        """Take the last step back: of the draft while it has any, else the last saved change."""
        if self._draft is not None and self._draft.next_undo:
            self._change(self._draft.undo())
        else:
            self._queue(partial(self._run, lambda _progress: self._desk.undo(self._who), self._tell_undone))

    def redo(self) -> None:
        """Do the step again that was taken back last."""
        if self._draft is not None and self._draft.next_redo:
            self._change(self._draft.redo())
        else:
            self._queue(partial(self._run, lambda _progress: self._desk.redo(self._who), self._tell_redone))

    def ask_names(self) -> None:
        """Ask what undo and redo would do; ``names_changed`` tells."""
        self._queue(partial(self._run, lambda _progress: self._desk.undo_names(), self._tell_names))

    def flush(self) -> None:
        """Write what is not on the disk yet, now and here: the window closes."""
        if self._draft is not None and self._is_unkept:
            self._desk.keep(self._draft, self._who)
            self._is_unkept = False

    # -- one thing after another

    def _change(self, draft: UnitDraft | None) -> None:
        if draft is not None and draft is not self._draft:
            self._draft = draft
            self._tell_own_names()
            self._keep()

    def _keep(self) -> None:
        if self._draft is not None:
            self._is_unkept = True
            if self._keep_now not in self._waiting:
                self._queue(self._keep_now)

    def _keep_now(self) -> None:
        draft = self._draft
        if draft is None:
            self._go_on()
            return
        self._is_unkept = False
        self._run(lambda _progress: self._desk.keep(draft, self._who), self._tell_shown)

    def _run_photo(self, path: Path) -> None:
        draft = self._draft
        if draft is None:
            self._go_on()
        else:
            self._run(lambda _progress: self._desk.add_photo(draft, path), self._take_photo)

    def _queue(self, start: Callable[[], None]) -> None:
        self._waiting.append(start)
        if self._task is None:
            self._go_on()

    def _go_on(self) -> None:
        if self._waiting:
            self._waiting.pop(0)()

    def _run(self, work: Callable[[Progress], object], answer: Callable[[object], None] | None) -> None:
        task = self._tasks.prepare(work)
        if answer is not None:
            task.finished.connect(answer)
        task.failed.connect(self.failed)
        task.crashed.connect(self._tell_crash)
        task.settled.connect(self._note_settled)
        self._task = task
        self._tasks.launch(task)

    @Slot()
    def _note_settled(self) -> None:
        if self.sender() is self._task:
            self._task = None
            self._go_on()

    @Slot(object)
    def _tell_crash(self, _trouble: object) -> None:
        self.crashed.emit()

    @Slot(object)
    def _tell_shown(self, view: object) -> None:
        if isinstance(view, BenchView) and self._draft is not None and view.draft.draft_id == self._draft.draft_id:
            self.shown.emit(view)
            self._tell_own_names()

    @Slot(object)
    def _tell_saved(self, saved: object) -> None:
        if isinstance(saved, SavedUnit):
            self._draft = None
            self.saved.emit(saved)
            self.ask_names()

    @Slot(object)
    def _take_photo(self, changed: object) -> None:
        """Write the new photo into the draft of now: fields may have been written meanwhile."""
        if isinstance(changed, UnitDraft) and self._draft is not None:
            new = [name for name in changed.written if name not in self._draft.written]
            for name in new:
                self.write(name, changed.written[name])

    @Slot(object)
    def _tell_undone(self, name: object) -> None:
        self._tell_taken_back(str(name or ""), is_undo=True)

    @Slot(object)
    def _tell_redone(self, name: object) -> None:
        self._tell_taken_back(str(name or ""), is_undo=False)

    def _tell_taken_back(self, name: str, *, is_undo: bool) -> None:
        if name:
            self.taken_back.emit(name, is_undo)
        self.ask_names()

    @Slot(object)
    def _tell_names(self, names: object) -> None:
        if isinstance(names, UndoNames):
            self._saved_names = names
            self._tell_own_names()

    def _tell_own_names(self) -> None:
        """Tell the draft's own steps first, else the saved changes."""
        undo, redo = (self._draft.next_undo, self._draft.next_redo) if self._draft else ("", "")
        self.names_changed.emit(UndoNames(undo or self._saved_names.undo, redo or self._saved_names.redo))
