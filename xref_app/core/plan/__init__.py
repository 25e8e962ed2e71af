"""One plan for all gaps: what is put between machine and pump, and the verdict that rests on it."""
