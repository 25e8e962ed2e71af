"""What the sample catalog is called, so that everything shown or printed of it says that it is made up."""

from __future__ import annotations

SAMPLE_NAME = "SAMPLE catalog: everything in it is made up"


def is_sample(catalog_name: str) -> bool:
    """Say whether a catalog of this name is the sample."""
    return catalog_name == SAMPLE_NAME
