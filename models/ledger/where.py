"""Where a site's ledger is: a file in its folder, or a database of the whole firm."""

from pathlib import Path

from models.ledger.faults import fault
from models.ledger.sqlite_store import FILE_NAME, open_sqlite
from models.ledger.store import Store


def open_ledger(folder: Path, site: str, database: str = "") -> Store:
    """Open a site's ledger, verified; begin one if there is none.

    Parameters
    ----------
    folder : Path
        The site folder.
    site : str
        Name of the site, which tells it from others in a database.
    database : str
        Connection string of a PostgreSQL database; "" for a file in the folder.

    Raises
    ------
    InputError
        If it cannot be opened, or is not as it was written.
    """
    if not database:
        return open_sqlite(folder / FILE_NAME)
    try:
        from models.ledger.postgres_store import open_postgres
    except ImportError as missing:
        found = f"no {missing.name} to reach it with"
        hint = "Install it: pip install 'keepdamp[postgres]'"
        wanted = "the optional part postgres"
        raise fault("ledger database", "", found, wanted, hint) from None
    return open_postgres(database, site)


def find_ledger(folder: Path, site: str, database: str = "") -> Store | None:
    """Open a site's ledger; None, and nothing is begun, where there is no file yet."""
    if not database and not (folder / FILE_NAME).exists():
        return None
    return open_ledger(folder, site, database)
