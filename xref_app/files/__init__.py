"""Files of our own beside the store: written whole or not at all, checked before they are believed."""
