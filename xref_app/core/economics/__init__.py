"""What it costs to fix or to replace: ranges of money in, ranges out, nothing picked that the figures leave open."""
