"""Published standards as tables with a source on every row, and the look-ups and formulas that rest on them."""
