"""Finding entries by the numbers people read off plates."""
