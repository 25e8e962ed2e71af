"""The limits of fix or replace that are ours or the trade's; a shop may set its own of the first three."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

# Above this share of a new machine's price customers walk away. Common practice, no published source.
SHARE_OF_NEW: Final = Fraction(2, 3)

# A price older than this is set aside until somebody says that it still holds. House rule.
PRICE_AGE_LIMIT_DAYS: Final = 365

# No sales tax is added unless the shop says one. House rule.
TAX_PERCENT: Final = 0

# Larger figures are slips of the keyboard: ten million of any money, one hundred hours. House rule.
MOST_MONEY: Final = 10_000_000
MOST_MINUTES: Final = 6_000

# A limit on the age of prices beyond a century limits nothing. House rule.
MOST_DAYS: Final = 36_500
