"""The one base of everything a person can put right."""


class XrefError(Exception):
    """A fault a person can put right, worded in one sentence: what was found, why not, what to do."""
