"""Where the program keeps what the person has set, and nothing else."""

from __future__ import annotations

from pathlib import Path

from platformdirs import user_config_path


def settings_path() -> Path:
    """Return the file of the window's settings (text size, theme) in the user's configuration folder."""
    return user_config_path("xref-app", ensure_exists=True) / "window.ini"
