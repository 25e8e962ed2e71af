"""Where the program keeps what the person has set, and what it writes down of its own mistakes."""

from __future__ import annotations

from pathlib import Path

from platformdirs import user_config_path, user_log_path


def settings_path() -> Path:
    """Return the file of the window's settings (text size, theme) in the user's configuration folder."""
    return user_config_path("xref-app", ensure_exists=True) / "window.ini"


def log_folder() -> Path:
    """Return the folder of what the program writes down of its own mistakes; it may not be there yet."""
    return user_log_path("xref_app", appauthor=False)
