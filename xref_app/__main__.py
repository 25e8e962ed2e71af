"""Start: the window without a command, else the command line."""

from __future__ import annotations

import sys

_WINDOW_OPTIONS = {"--sample"}


def main() -> int:
    """Run xref-app with the arguments of this process; return its exit code."""
    arguments = sys.argv[1:]
    if set(arguments) <= _WINDOW_OPTIONS:
        from xref_app.app import run_window  # noqa: PLC0415 - only the window loads Qt

        return run_window(sample="--sample" in arguments)
    from xref_app.cli import run  # noqa: PLC0415 - the window needs no command line

    return run(arguments)


if __name__ == "__main__":
    sys.exit(main())
