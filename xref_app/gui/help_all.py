"""Every paragraph of help, by the objectName of the place it is about; marked where it is written."""

from __future__ import annotations

from collections.abc import Mapping

from xref_app.gui.help_bench import BENCH_HELP
from xref_app.gui.help_catalog import CATALOG_HELP
from xref_app.gui.help_copies import COPIES_HELP
from xref_app.gui.help_fix import FIX_HELP
from xref_app.gui.help_is_it import IS_IT_HELP
from xref_app.gui.help_jobs import JOBS_HELP
from xref_app.gui.help_pairs import PAIRS_HELP
from xref_app.gui.help_paper import PAPER_HELP
from xref_app.gui.help_records import RECORDS_HELP
from xref_app.gui.help_shelf import SHELF_HELP
from xref_app.gui.help_supplier import SUPPLIER_HELP
from xref_app.gui.help_texts import HELP

ALL_HELP: Mapping[str, str] = {
    **HELP,
    **BENCH_HELP,
    **COPIES_HELP,
    **CATALOG_HELP,
    **FIX_HELP,
    **IS_IT_HELP,
    **JOBS_HELP,
    **PAIRS_HELP,
    **PAPER_HELP,
    **RECORDS_HELP,
    **SHELF_HELP,
    **SUPPLIER_HELP,
}
