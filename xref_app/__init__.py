"""Offline part-compatibility cross-reference for pressure-washer pumps."""
