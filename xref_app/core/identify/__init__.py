"""Readings of a caliper and a gauge turned into what it most likely is, and what else it can be."""
