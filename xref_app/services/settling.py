"""What a reading of each field would settle over very many verdicts."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from xref_app.services.measure_next import Asked


def asked_over(asked: Mapping[str, NDArray[np.bool_]], is_open: NDArray[np.bool_]) -> dict[str, Asked]:
    """Return what each field that an open pump asks for is worth.

    Args:
        asked: By field, for each of n pumps whether an open check of it asks for the field (``Verdicts.asked``).
        is_open: For each of them whether its verdict is still open.
    """
    fields_of = np.zeros(len(is_open), np.uint8)
    for asking in asked.values():
        fields_of += asking
    counted = {field: np.bincount(fields_of[asking & is_open]) for field, asking in asked.items()}
    return {
        field: Asked.of({fields: int(pumps) for fields, pumps in enumerate(counts) if pumps})
        for field, counts in counted.items()
        if counts.any()
    }
