"""The window: layout, models and signals only; what is true about fit was reached elsewhere."""
