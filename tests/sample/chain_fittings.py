"""Fittings that only a chain uses: couplers, hose pieces, swivel elbows, a gauge tee and the plugs that close one.

Listed after everything else, so that the numbers of all other parts stay as they were.
"""

from __future__ import annotations

from collections.abc import Iterator

from tests.sample.fittings import BRASS_BAR, HOSE, M22, NPT, PIPE, female, fitting_row, male
from xref_app.core.model.catalog import PartRow

QUICK = ("quick coupler 1/4 profile A", "quick coupler 3/8 profile A")
CONE_PORT = "G3/8 cone 60"
GAUGE_PORT = "M18x1.5 cone 24 L"


def chain_fittings() -> Iterator[PartRow]:
    """Yield every one of them, without its number."""
    for quick, npt in zip(QUICK, NPT, strict=False):
        yield fitting_row("Coupler plug", male(quick), male(npt))
        yield fitting_row("Coupler plug", male(quick), female(npt))
        yield fitting_row("Coupler socket", female(quick), male(npt))
        yield fitting_row("Coupler socket", female(quick), female(npt))
    yield fitting_row("Coupler socket", female(QUICK[1]), male(M22, 14.0))
    yield fitting_row("Coupler plug", male(QUICK[1]), female(M22, 14.0, swivel=True))
    yield fitting_row("Hose piece", female(M22, 14.0, swivel=True), female(M22, 14.0, swivel=True), bar=250.0)
    yield fitting_row("Hose piece", female(HOSE, swivel=True), male(HOSE), bar=BRASS_BAR)
    for npt in NPT[:2]:
        yield fitting_row("Swivel elbow", female(M22, 14.0, swivel=True), male(npt))
    yield fitting_row("Gauge tee", female(GAUGE_PORT), male(M22, 14.0), female(PIPE[0]))
    for thread in (*PIPE[:3], *NPT[1:3]):
        yield fitting_row("Plug", male(thread))
    for seal_mm in (14.0, 15.0):
        yield fitting_row("Hose adapter", female(CONE_PORT, swivel=True), male(M22, seal_mm))
