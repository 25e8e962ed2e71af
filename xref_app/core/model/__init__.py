"""The machine side, the pump and the shelf as frozen values: what the judge is given, and nothing else."""
