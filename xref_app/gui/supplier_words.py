"""How a supplier's list is told: how it was read, what its columns are, how its rows stand and why."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QCoreApplication

from xref_app.core.sentence import Sentence, marked
from xref_app.gui.messages import say
from xref_app.services.supplier_columns import Column, ColumnMap, SheetKind, targets_of
from xref_app.services.supplier_decimals import Decimals
from xref_app.services.supplier_heading_said import NO_ROWS, rows_text
from xref_app.services.supplier_import import Taken
from xref_app.services.supplier_looked import ListedColumn, ListedRow, Looked, Standing
from xref_app.services.supplier_preview import CLAIMED, SHEET, Preview
from xref_app.services.supplier_rows import RowReading
from xref_app.services.supplier_words import NUMBER

KINDS = {
    SheetKind.PUMPS: marked("supplier_list", "pumps"),
    SheetKind.ENGINES: marked("supplier_list", "petrol engines"),
    SheetKind.MOTORS: marked("supplier_list", "electric motors"),
}
HOWS = {
    CLAIMED: marked("supplier_list", "claimed by a seller"),
    SHEET: marked("supplier_list", "the maker's own list"),
}
# One silhouette each: how rows stand is told apart without colour.
SIGNS = {
    Standing.LOOK: "?",
    Standing.REFUSED: "✕",
    Standing.ACCEPTED: "+",
    Standing.GOOD: "✓",
    Standing.KNOWN: "=",
}
STANDINGS = {
    Standing.LOOK: marked("supplier_list", "needs a look"),
    Standing.REFUSED: marked("supplier_list", "refused"),
    Standing.ACCEPTED: marked("supplier_list", "accepted as it is"),
    Standing.GOOD: marked("supplier_list", "good"),
    Standing.KNOWN: marked("supplier_list", "entered already"),
}
COUNTS = {
    Standing.GOOD: marked("supplier_list", "{count} good"),
    Standing.ACCEPTED: marked("supplier_list", "{count} accepted"),
    Standing.LOOK: marked("supplier_list", "{count} need a look"),
    Standing.REFUSED: marked("supplier_list", "{count} refused"),
    Standing.KNOWN: marked("supplier_list", "{count} entered already"),
}
ONE_LOOK = marked("supplier_list", "1 needs a look")
SEPARATORS = {
    ";": marked("supplier_list", "semicolon"),
    ",": marked("supplier_list", "comma"),
    "\t": marked("supplier_list", "tab"),
    "|": marked("supplier_list", "upright stroke"),
}
IS_ENTRY = marked("supplier_list", "is entry {entry}")
LEFT_OUT = marked("supplier_list", "left out")
IN_UNIT = marked("supplier_list", "{title} ({unit})")
UNIT_IN_CELL = marked("supplier_list", "{title} (unit in each cell)")
INCH = marked("supplier_list", "inch")
COLUMN = marked("supplier_list", "Column {number}")
HEADED = marked("supplier_list", "Column {number}: {heading}")
POINT = marked("supplier_list", "decimal point")
COMMA = marked("supplier_list", "decimal comma")
OPEN_CELLS = marked("supplier_list", "{count} cells open")
ONE_OPEN_CELL = marked("supplier_list", "1 cell open")
NO_UNIT = marked("supplier_list", "no unit said")

TEXT_FILE = marked("supplier_list", "Text, parted by {separator}, {encoding}.")
WORKBOOK = marked("supplier_list", "Workbook, sheet “{name}”, {number} of {count}.")
ONE_TITLE = marked("supplier_list", "1 title row left out.")
TITLES = marked("supplier_list", "{count} title rows left out.")
HEADINGS_IN = marked("supplier_list", "Headings in row {first}.")
HEADINGS_IN_ROWS = marked("supplier_list", "Headings in rows {first} to {last}.")
NO_HEADINGS = marked("supplier_list", "No headings.")
PASSED_OVER = marked("supplier_list", "Titles, headings and doubles passed over below: {count}.")
DECIMALS = marked("supplier_list", "Numbers with a {mark}.")
DECIMALS_SAID = marked("supplier_list", "Numbers with a {mark}, as was said.")
NO_ROWS_TEXT = marked("supplier_list", "none")
MARKS = {
    Decimals.UNTOLD: marked("supplier_list", "as it seems"),
    Decimals.COMMA: marked("supplier_list", "comma"),
    Decimals.POINT: marked("supplier_list", "point"),
}
WHOLE_LIST = marked("supplier_list", "List of {kind} of {supplier}, {how}.")
WHOLE_LIST_OF_NOBODY = marked("supplier_list", "List of {kind}, {how}. Whose list is it?")

TAKE_ROWS = marked("supplier_list", "Take {count} good rows")
TAKE_ONE = marked("supplier_list", "Take 1 good row")
TAKE_BOTH = marked("supplier_list", "Take {good} good and {accepted} accepted")
TAKE_NONE = marked("supplier_list", "Take good rows")
NOT_READ = marked("supplier_list", "No file is read yet.")
HOW_TO_READ = marked(
    "supplier_list",
    "Choose a supplier's list with Ctrl+Shift+R, or drop it on the window: csv, tsv, txt or xlsx. It is read as it is, "
    "with its titles, commas and inch marks; what can mean two things is asked.",
)
STILL_LOOKING = marked("supplier_list", "Looking at the rows… Esc stops.")
WHOSE = marked("supplier_list", "Say first whose list it is: type the supplier.")
NO_NUMBER = marked("supplier_list", "Say first which column is the number: without it nobody could find a row.")
ALL_KNOWN = marked("supplier_list", "Nothing new is in it: all that is good was entered already.")
NONE_GOOD = marked("supplier_list", "No row is good yet: see what each needs, or which column is what.")
WRITES_NOTHING = marked("supplier_list", "Nothing is written before you take it.")

TAKEN = marked("supplier_list", "Taken: {rows} rows of {supplier}; new entries: {new}. Ctrl+Z takes it all back.")
TAKEN_NOTHING = marked("supplier_list", "Nothing was taken: all that is good in it was entered already.")
ASK = marked("supplier_list", "Take {rows} rows of {supplier}, {file}? Ctrl+Z takes all of them back.")


def told(template: str, **values: object) -> str:
    """Return ``template`` translated, with its values."""
    return str(QCoreApplication.translate("supplier_list", template)).format(**values)


def separator_text(separator: str) -> str:
    """Return what parts the cells of a text file, in a word."""
    return told(SEPARATORS[separator]) if separator in SEPARATORS else f"“{separator}”"


def decimals_text(decimals: Decimals) -> str:
    """Return what stands before decimals, in words."""
    return told(COMMA if decimals is Decimals.COMMA else POINT)


def read_as_text(preview: Preview) -> str:
    """Return how the file was read: what parts its cells, where its headings stand, what was left out."""
    file, columns = preview.file, preview.said.columns
    if file.separator or file.encoding:
        said = [told(TEXT_FILE, separator=separator_text(file.separator), encoding=file.encoding)]
    else:
        name, count = preview.sheet.name, len(file.sheets)
        said = [told(WORKBOOK, name=name, number=preview.said.sheet + 1, count=count)]
    titles = len(preview.title_rows)
    if titles:
        said.append(told(ONE_TITLE) if titles == 1 else told(TITLES, count=titles))
    said.append(_headings_text(columns))
    marks = {one for one in preview.decimals.values() if one is not Decimals.UNTOLD}
    if columns.decimals:
        said.append(told(DECIMALS_SAID, mark=decimals_text(columns.decimals)))
    elif len(marks) == 1:
        said.append(told(DECIMALS, mark=decimals_text(next(iter(marks)))))
    if preview.passed_over:
        said.append(told(PASSED_OVER, count=len(preview.passed_over)))
    return " ".join(said)


def _headings_text(columns: ColumnMap) -> str:
    first, last = columns.headings_from + 1, columns.rows_from
    if first > last:
        return told(NO_HEADINGS)
    return told(HEADINGS_IN, first=first) if first == last else told(HEADINGS_IN_ROWS, first=first, last=last)


def heading_rows_text(columns: ColumnMap) -> str:
    """Return in which rows the headings stand, as it is typed."""
    text = rows_text(columns)
    return told(NO_ROWS_TEXT) if text == NO_ROWS else text


def heading_rows_typed(text: str) -> str:
    """Return what was typed of the rows of headings, as the services read it."""
    return NO_ROWS if text.strip().casefold() == told(NO_ROWS_TEXT).casefold() else text


def whole_list_text(preview: Preview) -> str:
    """Return whose list it is, what it lists, and how its values are known."""
    said = preview.said
    kind, how = told(KINDS[said.columns.kind]), told(HOWS[said.how])
    if not said.supplier.strip():
        return told(WHOLE_LIST_OF_NOBODY, kind=kind, how=how)
    return told(WHOLE_LIST, kind=kind, how=how, supplier=said.supplier)


def counts_text(looked: Looked) -> str:
    """Return how many rows stand in each way, in one line."""
    counts = looked.counts
    shown = [one for one in COUNTS if counts[one] or one in {Standing.GOOD, Standing.LOOK, Standing.REFUSED}]
    return ", ".join(
        told(ONE_LOOK) if one is Standing.LOOK and counts[one] == 1 else told(COUNTS[one], count=f"{counts[one]:,}")
        for one in shown
    )


# -- columns


def target_text(column: Column, kind: SheetKind) -> str:
    """Return what a column is taken as, with the unit of its bare numbers."""
    if not column.target:
        return told(LEFT_OUT)
    title = targets_of(kind)[column.target]
    return in_unit_text(title, column.unit) if column.unit else title


def in_unit_text(title: str, unit: str) -> str:
    """Return what a column tells, with the unit of its bare numbers."""
    return told(IN_UNIT, title=title, unit={"in": told(INCH), "lpm": "L/min"}.get(unit, unit))


def heading_text(column: Column) -> str:
    """Return what stands above a column, with its number."""
    if not column.heading:
        return told(COLUMN, number=column.place + 1)
    return told(HEADED, number=column.place + 1, heading=column.heading)


def column_notes(listed: ListedColumn) -> str:
    """Return what has to be known of a column besides: its decimals, a unit that is lacking, cells that are open."""
    notes = []
    if listed.column.target and listed.decimals is not Decimals.UNTOLD:
        notes.append(decimals_text(listed.decimals))
    if listed.has_no_unit:
        notes.append(told(NO_UNIT))
    if listed.open_cells:
        count = listed.open_cells
        notes.append(told(ONE_OPEN_CELL) if count == 1 else told(OPEN_CELLS, count=f"{count:,}"))
    return ", ".join(notes)


def samples_text(listed: ListedColumn) -> str:
    """Return some cells of a column as they stand in the file."""
    return "  ".join(f"“{text}”" for _row, text in listed.samples)


# -- rows


def reason_text(reason: Sentence | str) -> str:
    """Return what is the matter, in words."""
    return say(reason) if isinstance(reason, Sentence) else reason


def reasons_texts(row: RowReading) -> list[str]:
    """Return everything that is the matter with a row and with its cells."""
    return [reason_text(one) for one in (*row.reasons, *(cell.reason for cell in row.cells)) if str(one)]


def sizes_text(row: RowReading) -> str:
    """Return the sizes of a row as they were read, in one line."""
    return "; ".join(f"{one.field.title} {one.shown}" for one in row.readings)


def names_text(row: RowReading) -> str:
    """Return maker and name of a row, and what it replaces."""
    return ", ".join(one for one in (row.texts.get("maker", ""), row.texts.get("name", "")) if one)


def second_line(listed: ListedRow) -> str:
    """Return what stands below a row's number: what is the matter, else what it tells."""
    row = listed.row
    is_entry = told(IS_ENTRY, entry=row.entry_id) if row.entry_id else ""
    return " ".join(reasons_texts(row)) or sizes_text(row) or is_entry


def row_text(listed: ListedRow) -> str:
    """Return the whole row as one line."""
    row = listed.row
    number = row.number or "–"
    return f"{told(STANDINGS[listed.standing])}: {number}, {second_line(listed)}"


# -- the take


def take_text(looked: Looked | None) -> str:
    """Return what the button of the take says."""
    good, accepted = (0, 0) if looked is None else (looked.counts[Standing.GOOD], looked.counts[Standing.ACCEPTED])
    if accepted:
        return told(TAKE_BOTH, good=f"{good:,}", accepted=f"{accepted:,}")
    if good:
        return told(TAKE_ONE) if good == 1 else told(TAKE_ROWS, count=f"{good:,}")
    return told(TAKE_NONE)


def why_not_take(looked: Looked | None, *, is_working: bool) -> str:
    """Return why the take cannot be asked for yet; empty where it can."""
    if is_working:
        return told(STILL_LOOKING)
    if looked is None:
        return told(NOT_READ)
    preview = looked.preview
    if preview.said.columns.at(NUMBER) is None:
        return told(NO_NUMBER)
    if not preview.to_take:
        return told(ALL_KNOWN) if looked.counts[Standing.KNOWN] else told(NONE_GOOD)
    return "" if preview.said.supplier.strip() else told(WHOSE)


def taken_text(taken: Taken, preview: Preview) -> str:
    """Return what a take brought."""
    if not taken.name:
        return told(TAKEN_NOTHING)
    supplier = preview.source.supplier
    return told(TAKEN, rows=f"{taken.rows:,}", supplier=supplier, new=f"{taken.new_entries:,}")


def ask_text(preview: Preview) -> str:
    """Return what is asked before the take."""
    return told(ASK, rows=f"{len(preview.to_take):,}", supplier=preview.source.supplier, file=preview.file.name)


def examples_text(answers: Iterable[str], most: int = 2) -> str:
    """Return the first different ones of some answers."""
    different: Sequence[str] = tuple(dict.fromkeys(answers))
    return ", ".join(different[:most]) + (", …" if len(different) > most else "")
