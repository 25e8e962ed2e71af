"""Very many numbers in few flat arrays: texts, codes, entries, and which numbers hold three characters where.

Rows are ordered by how many letters and digits they have, then by text: all of one length lie in one block, and every
posting list names the shortest numbers first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from xref_app.search.alphabet import END, WORN_CODES, ascii_table, codes_of, worn_table
from xref_app.search.filed import NumberRow
from xref_app.search.folding import SEPARATOR, glyphs

# House rule: longer than any number on a plate; longer ones are compared one by one.
LONGEST_FILED: Final = 96
_BYTES_A_CHARACTER: Final = 4  # at most, in UTF-8
# A store with fewer rows has no lists: it is looked through whole.
FEWEST_LISTED: Final = 1_500
GRAMS: Final = WORN_CODES**3
# House rule: from this place on (from 0), one list holds the grams of all further places.
LAST_PLACE: Final = 8
LISTS: Final = (LAST_PLACE + 1) * GRAMS
ROW_BITS: Final = 27
ROW_MASK: Final = np.uint32((1 << ROW_BITS) - 1)
COMPARED_BYTES: Final = 16
# Separators are noted before these places only; a longer number is read again where they matter.
NOTED_PLACES: Final = 32
_NOTED: Final = (1 << NOTED_PLACES) - 1

Bytes = NDArray[np.uint8]
Rows = NDArray[np.uint32]
_WORN: Final = np.frombuffer(worn_table(), np.uint8)


@dataclass(frozen=True, slots=True)
class Compact:
    """Numbers in flat arrays, which never change and may lie in a file.

    Attributes:
        texts: UTF-8 of all texts, row after row; row r has the bytes ``text_ends[r]`` to ``text_ends[r + 1]``.
        codes: codes of the letters and digits; a block per length, see ``codes_at``.
        first_of_length: 98 rows; those with n letters and digits begin at ``[n]``.
        owners: per row, the place of its entry in ``ids`` (ids are sorted).
        presence: per row, bit c set if worn code c occurs.
        separators: per row, bit p set if a separator stands before its letter or digit p (or behind the last).
        list_ends: those with gram g at place p are ``postings[list_ends[n] : list_ends[n + 1]]``, n = p * GRAMS + g.
        postings: rows (ascending in each list) and, from the bit ``ROW_BITS`` on, the worn code that follows the gram.
            Both arrays are empty in a store of few rows.
        ids, id_ends, kind_of, kinds: the entries: UTF-8 names, and their kinds by place in ``kinds``.
    """

    texts: Bytes
    text_ends: Rows
    codes: Bytes
    first_of_length: NDArray[np.int64]
    owners: Rows
    presence: Rows
    separators: Rows
    list_ends: Rows
    postings: Rows
    ids: Bytes
    id_ends: Rows
    kind_of: Bytes
    kinds: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.owners)

    @property
    def entries(self) -> int:
        """Return how many entries have numbers here."""
        return len(self.kind_of)

    def text(self, row: int) -> str:
        """Return the number as written.

        Raises:
            ValueError: no such text was filed; the arrays are damaged.
        """
        start, stop = int(self.text_ends[row]), int(self.text_ends[row + 1])
        if not 0 <= stop - start <= LONGEST_FILED * _BYTES_A_CHARACTER:
            raise ValueError(stop - start)
        return self.texts[start:stop].tobytes().decode()

    def entry_id(self, owner: int) -> str:
        """Return the name of an entry."""
        return self.ids[self.id_ends[owner] : self.id_ends[owner + 1]].tobytes().decode()

    def row(self, row: int) -> NumberRow:
        """Return the row as it was filed."""
        owner = int(self.owners[row])
        return NumberRow(self.text(row), self.entry_id(owner), self.kinds[self.kind_of[owner]])

    def owner_of(self, entry_id: str) -> int | None:
        """Return the place of an entry; None if it has no numbers here."""
        low, high = 0, self.entries
        while low < high:
            middle = (low + high) // 2
            if self.entry_id(middle) < entry_id:
                low = middle + 1
            else:
                high = middle
        return low if low < self.entries and self.entry_id(low) == entry_id else None

    def begins(self, rows: NDArray[np.integer]) -> NDArray[np.bytes_]:
        """Return the first bytes of the text of each row."""
        starts, ends = self.text_ends[rows].astype(np.int64), self.text_ends[rows + 1]
        places = starts[:, None] + np.arange(COMPARED_BYTES)
        found = self.texts.take(places, mode="clip")
        found[places >= ends[:, None]] = 0
        begun: NDArray[np.bytes_] = found.view(f"S{COMPARED_BYTES}").ravel()
        return begun

    def lengths_of(self, rows: NDArray[np.integer]) -> NDArray[np.int64]:
        """Return how many letters and digits each row has."""
        return np.searchsorted(self.first_of_length, rows, side="right") - 1

    def codes_at(self, rows: NDArray[np.integer], lengths: NDArray[np.int64], width: int) -> Bytes:
        """Return the codes of ``rows`` (ascending), shape (width, rows), ``END`` behind each."""
        found = np.zeros((width, len(rows)), np.uint8)
        starts = _block_starts(self.first_of_length)
        bounds = [0, *(np.flatnonzero(np.diff(lengths)) + 1).tolist(), len(rows)]
        for begin, stop in pairwise(bounds if len(rows) else ()):
            length = int(lengths[begin])
            block = self.codes[starts[length] : starts[length + 1]].reshape(-1, length) if length else None
            if block is not None:
                found[:length, begin:stop] = block.take(rows[begin:stop] - self.first_of_length[length], axis=0).T
        return found


def compact(rows: Sequence[NumberRow]) -> Compact:
    """Return ``rows`` in flat arrays; none may be longer than ``LONGEST_FILED``."""
    kinds = tuple(sorted({row.kind for row in rows}))
    kind_at = {kind: place for place, kind in enumerate(kinds)}
    kind_of_entry = {row.entry_id: kind_at[row.kind] for row in rows}
    ids = sorted(kind_of_entry)
    place_of = {entry_id: place for place, entry_id in enumerate(ids)}
    owners = np.fromiter((place_of[row.entry_id] for row in rows), np.uint32, len(rows))
    texts, text_ends = _joined([row.text.encode() for row in rows])
    codes, code_ends = _coded(rows, texts, text_ends)
    lengths = np.diff(code_ends)
    order = _order(texts, text_ends, lengths, owners)
    codes, lengths = _picked(codes, code_ends, order), lengths[order]
    first = np.searchsorted(lengths, np.arange(LONGEST_FILED + 2))
    id_bytes, id_ends = _joined([entry_id.encode() for entry_id in ids])
    worn, starts = _WORN[codes], _ends(lengths)[:-1]
    list_ends, postings = _posted(worn, lengths, starts) if len(rows) > FEWEST_LISTED else _NO_LISTS
    return Compact(
        texts=_picked(texts, text_ends, order),
        text_ends=_ends(np.diff(text_ends)[order]).astype(np.uint32),
        codes=codes,
        first_of_length=first,
        owners=owners[order],
        presence=_presence(worn, lengths, starts),
        separators=_separators(rows, texts, text_ends)[order],
        list_ends=list_ends,
        postings=postings,
        ids=id_bytes,
        id_ends=id_ends.astype(np.uint32),
        kind_of=np.fromiter((kind_of_entry[entry_id] for entry_id in ids), np.uint8, len(ids)),
        kinds=kinds,
    )


def all_rows(store: Compact) -> Iterator[NumberRow]:
    """Yield every row as it was filed."""
    texts, ids = bytes(store.texts), bytes(store.ids)
    ends, id_ends = store.text_ends.tolist(), store.id_ends.tolist()
    names = [ids[start:stop].decode() for start, stop in pairwise(id_ends)]
    kinds = [store.kinds[place] for place in store.kind_of.tolist()]
    for owner, (start, stop) in zip(store.owners.tolist(), pairwise(ends), strict=True):
        yield NumberRow(texts[start:stop].decode(), names[owner], kinds[owner])


def _ends(lengths: NDArray[np.integer]) -> NDArray[np.int64]:
    ends = np.zeros(len(lengths) + 1, np.int64)
    np.cumsum(lengths, out=ends[1:])
    return ends


def _block_starts(first_of_length: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return where the codes of the rows of each length begin."""
    return _ends(np.diff(first_of_length) * np.arange(len(first_of_length) - 1))


def _joined(parts: list[bytes]) -> tuple[Bytes, NDArray[np.int64]]:
    lengths = np.fromiter(map(len, parts), np.int64, len(parts))
    return np.frombuffer(b"".join(parts), np.uint8), _ends(lengths)


def _coded(rows: Sequence[NumberRow], texts: Bytes, text_ends: NDArray[np.int64]) -> tuple[Bytes, NDArray[np.int64]]:
    """Return the codes of all texts and where each ends: in one go when all is ASCII."""
    if texts.size and texts.max() >= 128:
        return _joined([codes_of(row.text) for row in rows])
    coded = np.frombuffer(ascii_table(), np.uint8)[texts]
    kept = np.zeros(len(texts) + 1, np.int64)
    np.cumsum(coded != 0, out=kept[1:])
    return coded[coded != 0], kept[text_ends]


def _order(texts: Bytes, text_ends: NDArray[np.int64], lengths: NDArray[np.int64], owners: Rows) -> NDArray[np.int64]:
    """Return the order of the rows: length, then the first 16 bytes of the text, then the entry."""
    padded = np.concatenate([texts, np.zeros(16, np.uint8)])
    halves = []
    for start in (0, 8):
        places = text_ends[:-1, None] + np.arange(start, start + 8)
        part = padded.take(places, mode="clip")
        part[places >= text_ends[1:, None]] = 0
        halves.append(part.view(">u8").ravel().astype(np.uint64))
    return np.lexsort((owners, halves[1], halves[0], lengths))


def _picked(parts: Bytes, ends: NDArray[np.int64], order: NDArray[np.int64]) -> Bytes:
    """Return the parts put in ``order``, joined."""
    lengths = np.diff(ends)[order]
    shift = np.repeat(ends[:-1][order] - _ends(lengths)[:-1], lengths)
    return parts[np.arange(len(shift)) + shift]


def _presence(worn: Bytes, lengths: NDArray[np.int64], starts: NDArray[np.int64]) -> Rows:
    """Return for each row which worn codes it holds."""
    presence = np.zeros(len(lengths), np.uint32)
    begun = np.flatnonzero(lengths)
    if len(begun):
        presence[begun] = np.bitwise_or.reduceat(np.uint32(1) << worn.astype(np.uint32), starts[begun])
    return presence


def _separators(rows: Sequence[NumberRow], texts: Bytes, text_ends: NDArray[np.int64]) -> Rows:
    """Return for each row before which places a separator stands."""
    if texts.size and texts.max() >= 128:
        return np.fromiter((separator_bits(row.text) & _NOTED for row in rows), np.uint32, len(rows))
    is_coded = np.frombuffer(ascii_table(), np.uint8)[texts] != END
    places = np.flatnonzero(~is_coded)
    found = np.zeros(len(rows), np.uint32)
    if len(places):
        owner = np.searchsorted(text_ends, places, side="right") - 1
        count = np.cumsum(is_coded, dtype=np.int64)
        before = np.concatenate([[0], count])[text_ends[owner]]
        place = count[places] - before
        kept = place < NOTED_PLACES
        np.bitwise_or.at(found, owner[kept], np.uint32(1) << place[kept].astype(np.uint32))
    return found


def separator_bits(text: str) -> int:
    """Return before which letters and digits of ``text`` a separator stands (or behind the last), a bit each."""
    bits = count = 0
    for glyph in glyphs(text):
        if glyph.plain != SEPARATOR:
            count += 1
        else:
            bits |= 1 << count
    return bits


def _posted(worn: Bytes, lengths: NDArray[np.int64], starts: NDArray[np.int64]) -> tuple[Rows, Rows]:
    """Return the ends of the posting lists and the postings.

    The grams of a number: each character with the two that follow, ``END`` behind the last.
    """
    padded = np.concatenate([worn, np.zeros(3, np.uint8)])
    postings, counts = [], []
    for place in range(LAST_PLACE + 1):
        is_last = place == LAST_PLACE
        rows = np.flatnonzero(lengths > place).astype(np.uint32)
        at, left = starts[rows] + place, lengths[rows] - place
        if is_last:
            more = _ends(left)
            rows, shift = np.repeat(rows, left), np.arange(more[-1]) - np.repeat(more[:-1], left)
            at, left = np.repeat(at, left) + shift, np.repeat(left, left) - shift
        grams = padded[at].astype(np.uint16) * np.uint16(WORN_CODES**2)
        grams += np.where(left > 1, padded[at + 1], 0).astype(np.uint16) * np.uint16(WORN_CODES)
        grams += np.where(left > 2, padded[at + 2], 0)
        rows |= np.where(left > 3, padded[at + 3], 0).astype(np.uint32) << np.uint32(ROW_BITS)
        postings.append(rows[np.argsort(grams, kind="stable")])
        counts.append(np.bincount(grams, minlength=GRAMS))
    return _ends(np.concatenate(counts)).astype(np.uint32), np.concatenate(postings)


_NO_LISTS: Final = (np.zeros(0, np.uint32), np.zeros(0, np.uint32))
