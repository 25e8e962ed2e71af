"""From where to where the known sizes of a field reach, very many of them at once."""

from __future__ import annotations

from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from xref_app.core.fields.fields import Field
from xref_app.core.model.known import Dimension, Known
from xref_app.core.quantity.range import Range
from xref_app.services.size_match import has_standard_sizes, limits_met, plate_rounding
from xref_app.services.value_table import NOTHING_KNOWN, Distinct

_KEPT: Final = 256


class Spans(NamedTuple):
    """The least and the most of k known sizes, each over all its versions; in the order of their numbers from 1."""

    low: NDArray[np.float64]
    high: NDArray[np.float64]


def spans(field: Field, distinct: Distinct, *, least_doubt: float = 0.0) -> Spans:
    """Return what each known size can be, with what plates round off.

    Args:
        field: A field of numbers.
        distinct: Its k known values, besides that nothing is known.
        least_doubt: What each is taken to be doubtful by at least, in the unit of the field.
    """
    ends = _widened(field, _sizes(distinct), least_doubt)
    starts = _sizes(distinct).starts
    if not len(starts):
        return ends
    return Spans(np.minimum.reduceat(ends.low, starts), np.maximum.reduceat(ends.high, starts))


def spans_with_limits(field: Field, distinct: Distinct, *, least_doubt: float) -> Spans:
    """Return the same with the limits of every standard size that each known one may stand for."""
    if not has_standard_sizes(field):
        return spans(field, distinct, least_doubt=least_doubt)
    found, sizes = spans(field, distinct, least_doubt=least_doubt), _sizes(distinct)
    doubts = np.maximum(sizes.doubts, least_doubt)
    of_size = np.repeat(np.arange(len(sizes.starts)), np.diff(sizes.starts, append=len(sizes.values)))
    for number, value, doubt in zip(of_size.tolist(), sizes.values.tolist(), doubts.tolist(), strict=True):
        for limits in limits_met(field, Range.around(value, doubt)):
            found.low[number] = min(found.low[number], limits.low)
            found.high[number] = max(found.high[number], limits.high)
    return found


class _Sizes(NamedTuple):
    """Every version of k sizes one after the other, and where each size begins."""

    values: NDArray[np.float64]
    doubts: NDArray[np.float64]
    starts: NDArray[np.intp]


@lru_cache(maxsize=_KEPT)
def _sizes(distinct: Distinct) -> _Sizes:
    known = distinct.versions[NOTHING_KNOWN + 1 :]
    sizes = [_as_size(one) for versions in known for one in versions]
    counts = np.array([len(versions) for versions in known], np.intp)
    return _Sizes(
        values=np.array([one.value for one in sizes], np.float64),
        doubts=np.array([one.doubt for one in sizes], np.float64),
        starts=np.cumsum(counts) - counts,
    )


def _as_size(known: Known) -> Dimension:
    if not isinstance(known, Dimension):
        raise TypeError(f"{known} is no size, yet it is known of a field of numbers")
    return known


def _widened(field: Field, sizes: _Sizes, least_doubt: float) -> Spans:
    doubts = np.maximum(sizes.doubts, least_doubt)
    low, high = sizes.values - doubts, sizes.values + doubts
    rounding = plate_rounding(field) * np.maximum(np.abs(low), np.abs(high))
    return Spans(low - rounding, high + rounding)
