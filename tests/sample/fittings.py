"""The thread fittings of the sample, about ninety: straight, reducing, elbow, tee, and from one thread to another."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from xref_app.core.model.catalog import PartRow

# Thread, gender, seal in mm, swivel.
End = tuple[str, str, float | None, bool | None]
NO_END: End = ("", "", None, None)

NPT = ("1/4-18 NPT", "3/8-18 NPT", "1/2-14 NPT", "3/4-14 NPT")
# Made to go into ports, but the largest on taps and supply hoses.
PIPE = ("G1/4 flat shoulder", "G3/8 flat shoulder", "G1/2 flat shoulder", "G3/4 flat end")
HOSE = "3/4-11.5 NH"
M22 = "M22x1.5"
# The house of the sample: brass for water in, steel for water out.
STEEL_BAR, BRASS_BAR = 350.0, 20.0


def male(thread: str, seal_mm: float | None = None) -> End:
    """Return an outside end."""
    return thread, "male", seal_mm, False


def female(thread: str, seal_mm: float | None = None, *, swivel: bool = False) -> End:
    """Return an inside end."""
    return thread, "female", seal_mm, swivel


def fittings() -> Iterator[PartRow]:
    """Yield every fitting, without its number."""
    yield from _of_one_system(NPT)
    yield from _of_one_system(PIPE)
    yield from _between_npt_and_pipe()
    yield from _for_pressure_hoses()
    yield from _for_supply_hoses()
    yield from _tees()


def _of_one_system(threads: tuple[str, ...]) -> Iterator[PartRow]:
    for thread in threads:
        yield fitting_row("Nipple", male(thread), male(thread))
        yield fitting_row("Coupling", female(thread), female(thread))
        yield fitting_row("Elbow", male(thread), female(thread))
    for small, large in pairwise(threads):
        yield fitting_row("Bushing", male(large), female(small))
        yield fitting_row("Reducing nipple", male(large), male(small))
        yield fitting_row("Reducing socket", female(large), male(small))


def _between_npt_and_pipe() -> Iterator[PartRow]:
    for npt, pipe in zip(NPT, PIPE, strict=True):
        yield fitting_row("Adapter", male(npt), female(pipe))
        yield fitting_row("Adapter", male(pipe), female(npt))
        yield fitting_row("Adapter", male(npt), male(pipe))


def _for_pressure_hoses() -> Iterator[PartRow]:
    for seal_mm in (14.0, 15.0):
        for thread in (*NPT[:2], *PIPE[:2]):
            yield fitting_row("Hose nipple", male(thread), male(M22, seal_mm))
            yield fitting_row("Hose socket", male(thread), female(M22, seal_mm, swivel=True))
        yield fitting_row("Hose joiner", male(M22, seal_mm), male(M22, seal_mm))
        yield fitting_row("Hose adapter", female(NPT[1]), male(M22, seal_mm))
        for thread in (NPT[1], PIPE[1]):
            yield fitting_row("Hose coupling", female(thread), female(M22, seal_mm, swivel=True))
    yield fitting_row("Seal changer", female(M22, 14.0, swivel=True), male(M22, 15.0))
    yield fitting_row("Seal changer", female(M22, 15.0, swivel=True), male(M22, 14.0))


def _for_supply_hoses() -> Iterator[PartRow]:
    for thread in (*NPT[1:], *PIPE[2:]):
        yield fitting_row("Hose swivel", female(HOSE, swivel=True), male(thread), bar=BRASS_BAR)
    for thread in (*NPT[2:], PIPE[3]):
        yield fitting_row("Hose end", male(HOSE), male(thread), bar=BRASS_BAR)
        yield fitting_row("Hose end", male(HOSE), female(thread), bar=BRASS_BAR)
    yield fitting_row("Hose swivel", female(PIPE[3], swivel=True), male(NPT[2]), bar=BRASS_BAR)
    yield fitting_row("Hose swivel", female(PIPE[3], swivel=True), male(PIPE[2]), bar=BRASS_BAR)
    yield fitting_row("Hose swivel", female(PIPE[3], swivel=True), male(HOSE), bar=BRASS_BAR)


def _tees() -> Iterator[PartRow]:
    for thread in (NPT[1], NPT[2], PIPE[1], PIPE[2]):
        yield fitting_row("Tee", male(thread), female(thread), female(thread))


def fitting_row(word: str, *ends: End, bar: float = STEEL_BAR) -> PartRow:
    """Return a fitting with one end (a plug), two or three, without its number."""
    first, second, third = (*ends, NO_END, NO_END)[:3]
    name = f"{word} " + " to ".join(_said(end) for end in ends)
    return PartRow(
        "",
        "fitting",
        name,
        end_1_thread=first[0],
        end_1_gender=first[1],
        end_1_seal_mm=first[2],
        end_1_swivel=first[3],
        end_2_thread=second[0],
        end_2_gender=second[1],
        end_2_seal_mm=second[2],
        end_2_swivel=second[3],
        end_3_thread=third[0],
        end_3_gender=third[1],
        end_3_seal_mm=third[2],
        end_3_swivel=third[3],
        rating_bar=bar,
        max_c=90.0 if bar == STEEL_BAR else 60.0,
        cost=round(3.2 + 1.3 * len(ends) + len(name) % 7 * 0.4, 2),
    )


def _said(end: End) -> str:
    thread, gender, seal_mm, _ = end
    return f"{thread} {gender}" if seal_mm is None else f"{thread} {gender} {seal_mm:g} mm"
