"""Is it the pump? Looks, trials and measurements turned into causes, an answer and the next thing to try."""
