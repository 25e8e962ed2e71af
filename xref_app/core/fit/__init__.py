"""Does it fit: one module per family of checks, all of them run by the judge."""
