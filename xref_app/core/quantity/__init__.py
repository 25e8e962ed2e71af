"""Numbers with their doubt and their unit: what people write, read exactly, and never guessed."""
