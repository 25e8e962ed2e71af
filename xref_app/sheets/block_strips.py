"""Blocks as strips of a width: where each line, frame, box and mark of them goes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from xref_app.sheets.blocks import (
    Blank,
    Block,
    CautionBlock,
    DangerLine,
    Heading,
    NewPage,
    Paragraph,
    Steps,
    Table,
    Ticks,
    Title,
    VerdictBlock,
)
from xref_app.sheets.laid_out import Edge, LaidOut, Words
from xref_app.sheets.shapes import Line, Segment
from xref_app.sheets.sheet_page import Measure, PlacedMark, Strip
from xref_app.sheets.table_strips import table_strips
from xref_app.sheets.text_column import BODY_MM, LINE_SHARE, SMALL_MM, TextColumn, box_outline

# Heights of words, gaps and insets, mm (house rule: looks only).
_TITLE_MM, _HEADING_MM, _VERDICT_MM, _DANGER_MM = 6.0, 4.4, 8.0, 4.2
_AFTER_MM, _BEFORE_HEADING_MM, _BELOW_HEADING_MM, _INSET_MM, _MARK_MM, _INDENT_MM = 2.0, 3.5, 1.2, 3.0, 13.0, 14.0
_TICK_INDENT_MM, _BLANK_MM = 6.0, 62.0


@dataclass(frozen=True, slots=True)
class BlockStrips:
    """Sets blocks for one width and one font."""

    width_mm: float
    measure: Measure

    def of(self, blocks: Sequence[Block]) -> Iterator[Strip]:
        """Yield the strips of all blocks, gaps between them."""
        for block in blocks:
            yield from self._strips(block)

    def _strips(self, block: Block) -> Iterator[Strip]:
        if isinstance(block, NewPage):
            yield Strip(0.0, starts_page=True)
        elif isinstance(block, Heading):
            yield Strip(_BEFORE_HEADING_MM, is_gap=True)
            yield self._words(block.text, _HEADING_MM, is_bold=True, keeps_next=True)
            yield Strip(_BELOW_HEADING_MM, keeps_next=True)
        else:
            yield from self._with_words(block)
            keeps_next = isinstance(block, Paragraph) and block.keeps_next
            yield Strip(_AFTER_MM, is_gap=True, keeps_next=keeps_next)

    def _with_words(self, block: Block) -> Iterator[Strip]:
        match block:
            case Title():
                yield from self._title(block)
            case Paragraph():
                yield self._paragraph(block)
            case Table():
                yield from table_strips(block, self.width_mm, self.measure)
            case Steps() | Ticks():
                yield from self._listed(block)
            case VerdictBlock() | DangerLine() | Blank() | CautionBlock():
                yield self._framed(block)

    def _framed(self, block: VerdictBlock | DangerLine | Blank | CautionBlock) -> Strip:
        match block:
            case VerdictBlock():
                return self._verdict(block)
            case DangerLine():
                return self._danger(block)
            case Blank():
                return self._blank(block)
            case CautionBlock():
                return self._cautions(block)

    def _column(self, left_mm: float = 0.0, width_mm: float | None = None, *, top_mm: float = 0.0) -> TextColumn:
        width = self.width_mm - left_mm if width_mm is None else width_mm
        return TextColumn(left_mm, width, self.measure, -top_mm)

    def _words(self, text: str, height_mm: float, *, is_bold: bool = False, keeps_next: bool = False) -> Strip:
        column = self._column()
        column.put(text, height_mm, is_bold=is_bold)
        return Strip(-column.y_mm, column.content, keeps_next=keeps_next)

    def _paragraph(self, block: Paragraph) -> Strip:
        height_mm = SMALL_MM if block.is_small else BODY_MM
        return self._words(block.text, height_mm, is_bold=block.is_bold, keeps_next=block.keeps_next)

    def _title(self, block: Title) -> Iterator[Strip]:
        yield self._words(block.text, _TITLE_MM, is_bold=True, keeps_next=True)
        yield self._words(block.below, BODY_MM)

    def _verdict(self, block: VerdictBlock) -> Strip:
        """Return the framed verdict; the frame is another for each, as on screen: one line, two, strokes, thick."""
        column = self._column(_MARK_MM + 2 * _INSET_MM, self.width_mm - _MARK_MM - 3 * _INSET_MM, top_mm=_INSET_MM)
        column.put(block.word, _VERDICT_MM, is_bold=True)
        for place, one in enumerate(block.further):
            column.put(one, BODY_MM * 1.1 if place == 0 else BODY_MM, is_bold=place == 0)
        height = max(-column.y_mm, _MARK_MM + _INSET_MM) + _INSET_MM
        middle = -min(height / 2, _INSET_MM + _MARK_MM / 2)
        mark = PlacedMark(block.outcome, _INSET_MM + _MARK_MM / 2, middle, _MARK_MM)
        frame = _FRAMES[block.outcome.name]
        edges: list[Edge] = [box_outline(0.0, 0.0, self.width_mm, height, frame)]
        if block.outcome.name == "BY_PARTS":
            edges.append(box_outline(0.9, -0.9, self.width_mm - 1.8, height - 1.8, frame))
        return Strip(height, column.with_edges(*edges), (mark,))

    def _danger(self, block: DangerLine) -> Strip:
        column = self._column(_INSET_MM, self.width_mm - 2 * _INSET_MM, top_mm=_INSET_MM * 0.6)
        column.put(block.text, _DANGER_MM, is_bold=True)
        height = -column.y_mm + _INSET_MM * 0.6
        outer = box_outline(0.0, 0.0, self.width_mm, height, Line.MISS)
        inner = box_outline(0.9, -0.9, self.width_mm - 1.8, height - 1.8, Line.MISS)
        return Strip(height, column.with_edges(outer, inner))

    def _listed(self, block: Steps | Ticks) -> Iterator[Strip]:
        numbered = isinstance(block, Steps)
        items = [(one, "") for one in block.steps] if isinstance(block, Steps) else list(block.items)
        for place, (text, further) in enumerate(items, start=1):
            indent = _INDENT_MM if numbered else _TICK_INDENT_MM
            column = self._column(indent, self.width_mm - indent)
            column.put(text, BODY_MM)
            if further:
                column.put(further, SMALL_MM)
            box = box_outline(0.4, -(LINE_SHARE * BODY_MM - BODY_MM) / 2, BODY_MM, BODY_MM, Line.MACHINE)
            content = column.with_edges(box)
            if numbered:
                number = self._column(_TICK_INDENT_MM, indent)
                number.put(f"{place}.", BODY_MM, is_bold=True)
                content = LaidOut(content.edges, content.heads, (*content.words, *number.content.words))
            yield Strip(-column.y_mm, content)
            yield Strip(0.9, is_gap=True)

    def _blank(self, block: Blank) -> Strip:
        """Return the question with its line at the right: the answer is written beside what is asked."""
        column = self._column(0.0, self.width_mm - _BLANK_MM - 4.0)
        column.put(block.title, BODY_MM, is_bold=True)
        column.put(block.how_to, SMALL_MM)
        height = max(-column.y_mm, 9.0)
        unit_mm = self.measure(block.unit, BODY_MM)
        left, right = self.width_mm - _BLANK_MM, self.width_mm - unit_mm - (1.5 if block.unit else 0.0)
        line = Segment(left, -8.0, right, -8.0, Line.MACHINE)
        unit = Words(self.width_mm - unit_mm / 2, -8.0 + BODY_MM / 2, unit_mm, BODY_MM, block.unit, Line.SIZE)
        content = column.with_edges(line)
        words = (*content.words, unit) if block.unit else content.words
        rule = Segment(0.0, -height - 1.0, self.width_mm, -height - 1.0, Line.HATCH)
        return Strip(height + 1.2, LaidOut((*content.edges, rule), (), words))

    def _cautions(self, block: CautionBlock) -> Strip:
        column = self._column(_INSET_MM, self.width_mm - 2 * _INSET_MM, top_mm=_INSET_MM * 0.8)
        column.put(block.title, _DANGER_MM, is_bold=True)
        column.y_mm -= 0.8
        for one in block.items:
            bullet = self._column(_INSET_MM, _INSET_MM, top_mm=-column.y_mm)
            bullet.put("•", BODY_MM)
            item = self._column(_INSET_MM * 2, self.width_mm - 3 * _INSET_MM, top_mm=-column.y_mm)
            item.put(one, BODY_MM)
            column.words.extend((*bullet.words, *item.words))
            column.y_mm = item.y_mm - 0.5
        column.put(block.source, SMALL_MM)
        height = -column.y_mm + _INSET_MM * 0.8
        return Strip(height, column.with_edges(box_outline(0.0, 0.0, self.width_mm, height, Line.MISS)))


_FRAMES = {"PASS": Line.MACHINE, "BY_PARTS": Line.MACHINE, "UNKNOWN": Line.BETWEEN, "FAIL": Line.MISS}
