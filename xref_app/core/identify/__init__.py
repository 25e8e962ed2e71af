"""Readings of a caliper and a gauge turned into what the thing most likely is, and what it cannot be told apart from."""
