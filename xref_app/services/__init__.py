"""One module per thing a person does; the only callers of the store."""
