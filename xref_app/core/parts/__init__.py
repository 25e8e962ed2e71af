"""What bridges a gap: which parts, how many, and what they take."""
