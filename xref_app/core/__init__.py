"""What the program knows about pumps and engines, in plain Python: no database, no Qt, no network."""
