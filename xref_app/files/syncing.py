"""Forcing files and their names onto the disk."""

from __future__ import annotations

import os
from pathlib import Path


def sync_file(path: Path) -> None:
    """Force a closed file and its name in its folder onto the disk. Never for a store that is open: see below.

    On POSIX, closing any handle of a file drops the locks that SQLite holds on it in this process.
    """
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Force the names in ``folder`` onto the disk (a system that cannot, such as Windows, does so by itself)."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
