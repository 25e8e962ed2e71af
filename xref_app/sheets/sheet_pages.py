"""A sheet as pages: blocks set and broken over pages, each drawing on a page of its own, the gauge at 1:1, the feet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from xref_app.core.sentence import Sentence, marked
from xref_app.sheets.block_strips import BlockStrips
from xref_app.sheets.blocks import Foot, Sheet, Wording
from xref_app.sheets.gauge_pages import gauge_pages
from xref_app.sheets.laid_out import Anchor, LaidOut, Words
from xref_app.sheets.moved import moved
from xref_app.sheets.page import Paper, page_for
from xref_app.sheets.page_frame import PageFrame, frame_of
from xref_app.sheets.scaled import scaled
from xref_app.sheets.shapes import Drawing, Line, Segment
from xref_app.sheets.sheet_page import Measure, SheetPage, Strip
from xref_app.sheets.text_column import SMALL_MM, box_outline

PAGE_OF = marked("sheet", "Page {page} of {pages}")
SAMPLE = marked("sheet", "SAMPLE")
MADE_UP = marked("sheet", "made-up data, not for work")
REDUCED = marked("sheet", "Drawn at 1:{times}, too large for this paper: look, but do not trace or measure here.")
# Scales of a drawing too large for the paper (ISO 5455), and the margin that ``page_for`` keeps by itself, mm.
_TIMES, _PAGE_FOR_MARGIN_MM = (2, 5, 10), 10.0
_SAMPLE_MM = 4.6


def sheet_pages(sheet: Sheet, paper: Paper, measure: Measure, wording: Wording) -> tuple[SheetPage, ...]:
    """Return every page of ``sheet`` on ``paper``, n ≥ 1, with head and foot."""
    frame = frame_of(paper)
    pages = list(_block_pages(sheet, frame, measure)) if sheet.blocks else []
    pages += [_drawing_page(one, frame, measure, wording) for one in sheet.drawings if not one.is_empty]
    if sheet.gauge is not None:
        pages += gauge_pages(sheet.gauge, frame, measure, wording.say)
    return _with_feet(pages or [frame.page], sheet.foot, frame, measure, wording)


def _block_pages(sheet: Sheet, frame: PageFrame, measure: Measure) -> Iterator[SheetPage]:
    """Yield pages filled from the top; nothing that holds together is parted, gaps never begin a page."""
    page, left_mm, is_fresh = frame.page, frame.room_mm, True
    for group in _groups(list(BlockStrips(frame.width_mm, measure).of(sheet.blocks))):
        needed = sum(one.height_mm for one in group)
        if not is_fresh and (group[0].starts_page or (needed > left_mm and not group[0].is_gap)):
            yield page
            page, left_mm, is_fresh = frame.page, frame.room_mm, True
            if group[0].head is not None:
                page, left_mm = _hung(group[0].head, page, left_mm, frame)
        if is_fresh and group[0].is_gap:
            continue
        for strip in group:
            page, left_mm = _hung(strip, page, left_mm, frame)
            is_fresh = is_fresh and strip.height_mm == 0.0
    yield page


def _hung(strip: Strip, page: SheetPage, left_mm: float, frame: PageFrame) -> tuple[SheetPage, float]:
    top_mm = frame.bottom_mm + left_mm
    return strip.on(page, frame.left_mm, top_mm), left_mm - strip.height_mm


def _groups(strips: Sequence[Strip]) -> Iterator[list[Strip]]:
    """Yield strips that hold together."""
    group: list[Strip] = []
    for strip in strips:
        group.append(strip)
        if not strip.keeps_next:
            yield group
            group = []
    if group:
        yield group


def _drawing_page(drawing: Drawing, frame: PageFrame, measure: Measure, wording: Wording) -> SheetPage:
    """Return one drawing at 1:1 with bars to check the size, or smaller, which is then said, and without them."""
    size_mm = (frame.width_mm + 2 * _PAGE_FOR_MARGIN_MM, frame.room_mm + 2 * _PAGE_FOR_MARGIN_MM)
    aside, up = frame.left_mm - _PAGE_FOR_MARGIN_MM, frame.bottom_mm - _PAGE_FOR_MARGIN_MM
    whole = page_for(drawing, measure, size_mm=size_mm, say=wording.say)
    for times in _TIMES:
        if whole is None:
            smaller = scaled(drawing, 1 / times)
            noted = replace(smaller, notes=(Sentence(REDUCED, {"times": times}), *smaller.notes))
            whole = page_for(noted, measure, size_mm=size_mm, say=wording.say, has_bars=False)
    return frame.page if whole is None else frame.page.with_content(moved(whole.content, aside, up))


def _with_feet(
    pages: Sequence[SheetPage], foot: Foot, frame: PageFrame, measure: Measure, wording: Wording
) -> tuple[SheetPage, ...]:
    feet = (_foot(foot, (place, len(pages)), frame, measure, wording) for place in range(1, len(pages) + 1))
    return tuple(page.with_content(one) for page, one in zip(pages, feet, strict=True))


def _foot(foot: Foot, place: tuple[int, int], frame: PageFrame, measure: Measure, wording: Wording) -> LaidOut:
    """Return what stands above and below on every page."""
    say = wording.say
    page_of = say(Sentence(PAGE_OF, {"page": place[0], "pages": place[1]}))
    made_up = f"{say(Sentence(SAMPLE))}: {say(Sentence(MADE_UP))}" if foot.is_sample else ""
    right_mm = frame.left_mm + frame.width_mm
    room_mm = frame.width_mm - (measure(made_up, _SAMPLE_MM, is_bold=True) + 5.0 if made_up else 0.0)
    below_mm = frame.width_mm - measure(page_of, SMALL_MM) - 3.0
    below = _cut(" · ".join(one for one in (foot.day, foot.catalog) if one), below_mm, measure)
    words = [
        _at(_cut(foot.name, room_mm, measure), frame.left_mm, frame.head_y_mm, measure),
        _at(below, frame.left_mm, frame.foot_y_mm, measure),
        _at(page_of, right_mm, frame.foot_y_mm, measure, Anchor.END),
    ]
    edges = [Segment(frame.left_mm, frame.foot_y_mm + 3.0, right_mm, frame.foot_y_mm + 3.0, Line.SIZE)]
    if not made_up:
        return LaidOut(tuple(edges), (), tuple(words))
    width = measure(made_up, _SAMPLE_MM, is_bold=True)
    middle = right_mm - width / 2 - 1.5
    sample = Words(middle, frame.head_y_mm, width, _SAMPLE_MM, made_up, Line.SIZE, Anchor.START, is_bold=True)
    box = box_outline(middle - width / 2 - 1.5, frame.head_y_mm + 3.1, width + 3.0, 6.2, Line.MISS)
    return LaidOut((*edges, box), (), (*words, sample))


def _cut(text: str, room_mm: float, measure: Measure) -> str:
    """Return as much of ``text`` as goes on one line; three dots tell that there is more."""
    if measure(text, SMALL_MM) <= room_mm:
        return text
    return next(
        (
            f"{text[:end].rstrip()}…"
            for end in range(len(text), 0, -1)
            if measure(f"{text[:end]}…", SMALL_MM) <= room_mm
        ),
        "",
    )


def _at(text: str, x_mm: float, y_mm: float, measure: Measure, anchor: Anchor = Anchor.START) -> Words:
    width = measure(text, SMALL_MM)
    middle = x_mm + (width / 2 if anchor is Anchor.START else -width / 2)
    return Words(middle, y_mm, width, SMALL_MM, text, Line.SIZE, anchor)
