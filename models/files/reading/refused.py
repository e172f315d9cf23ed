"""How a reader of one value says no; the reader of the file adds the place."""


class Refused(Exception):  # noqa: N818 - it never leaves this folder and is no error
    """A value that cannot be taken: what is wanted instead, and how to mend it.

    ``found`` is the part of the value that is meant, "" where it is the whole.
    """

    def __init__(self, wanted: str, hint: str = "", found: str = "") -> None:
        super().__init__(wanted)
        self.wanted, self.hint, self.found = wanted, hint, found
