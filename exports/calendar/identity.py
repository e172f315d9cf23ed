"""Who an entry is, to a phone: the same on every export, so nothing shows twice.

A phone knows an entry by its UID alone. Until rosters are published through a ledger
that remembers which visit became which, the UID is worked out from the site and the
visit's own id. That is stable for the same roster and for a re-export; a replan that
renumbers the rewets of a surface moves entries instead of replacing them. A ledger
will take this file's place: then only :func:`uid` changes.
"""

import unicodedata
from uuid import UUID, uuid5

#: Drawn once at random; never change it, or every phone sees every entry twice.
_NAMESPACE = UUID("6f0d8e52-0c43-4b1e-9a57-2b9d7c1f8e34")


def uid(site_name: str, *identity: str) -> str:
    """Return the UID of one entry.

    Parameters
    ----------
    site_name : str
        So that two sites with a ``P1`` each never meet in one phone.
    *identity : str
        What the entry is: its sort, then the ids that tell it from its like.

    Returns
    -------
    str
        A UUID in text, as RFC 7986 section 5.3 recommends.
    """
    parts = [unicodedata.normalize("NFC", part) for part in (site_name, *identity)]
    # Lengths keep ("ab", "c") and ("a", "bc") apart.
    return str(uuid5(_NAMESPACE, "".join(f"{len(part)}:{part}" for part in parts)))
