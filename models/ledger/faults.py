"""What can be wrong with a ledger, in words for the person who keeps the site."""

from models.errors import InputError, Place, Problem


def fault(
    ledger: str, field: str, found: str, wanted: str = "", hint: str = ""
) -> InputError:
    """Say what is wrong with a ledger: what was found, what is wanted, how to mend it.

    ``field`` is the row or word that is meant, "" for the ledger as a whole.
    """
    return InputError([Problem(Place(ledger), field, found, wanted, hint)])


def newer(ledger: str, version: int, known: int) -> InputError:
    """Refuse a ledger that a later version of the program has brought up to date."""
    return fault(
        ledger,
        "",
        f"schema {version}",
        f"schema {known} or older",
        "A newer keepdamp has written it; use that one. Nothing was changed",
    )


def changed(ledger: str, row: str, found: str) -> InputError:
    """Refuse a ledger in which a row is not as it was written."""
    hint = (
        "Put back the newest copy of the ledger that opens, and find out who changed it"
    )
    return fault(ledger, row, found, hint=hint)


def busy(ledger: str) -> InputError:
    """Give up waiting for another writer."""
    found, hint = "somebody else is writing in it", "Nothing was written; try again"
    return fault(ledger, "", found, "a moment without", hint)
