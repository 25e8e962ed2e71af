"""Small systems of linear equations, for want of a library in the core."""

from __future__ import annotations

from collections.abc import Sequence

# Below any pivot of a well-placed set of holes: derivatives of distances by positions are of the order of one.
_LEAST_PIVOT = 1e-9

Matrix = list[list[float]]


def inverse_or_none(matrix: Sequence[Sequence[float]]) -> Matrix | None:
    """Return the inverse of a square matrix, or None where it has none that can be trusted.

    Source: Gauss-Jordan elimination with the largest pivot of each column.
    """
    size = len(matrix)
    largest = max((abs(one) for row in matrix for one in row), default=0.0)
    rows = [[*row, *(float(column == index) for column in range(size))] for index, row in enumerate(matrix)]
    for column in range(size):
        pivot = max(range(column, size), key=lambda row: abs(rows[row][column]))
        if abs(rows[pivot][column]) <= _LEAST_PIVOT * largest:
            return None
        rows[column], rows[pivot] = rows[pivot], rows[column]
        _clear(rows, column)
    return [row[size:] for row in rows]


def _clear(rows: Matrix, column: int) -> None:
    """Make ``column`` of all rows that of the identity."""
    head = rows[column][column]
    rows[column] = [one / head for one in rows[column]]
    for index, row in enumerate(rows):
        factor = row[column]
        if index != column and factor:
            rows[index] = [one - factor * lead for one, lead in zip(row, rows[column], strict=True)]
