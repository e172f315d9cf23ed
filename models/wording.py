"""Plain words for what stands in a file, and the nearest word that is allowed."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, time
from difflib import get_close_matches

_LONGEST, _MOST = 60, 24


def say(raw: object) -> str:
    """Say a raw value of a file as its writer knows it; "" if nothing is there."""
    if raw is None or (isinstance(raw, str) and not raw.strip()):
        return ""
    if isinstance(raw, str):
        short = raw if len(raw) <= _LONGEST else raw[: _LONGEST - 1] + "…"
        return repr(short)
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, float) and raw.is_integer() and abs(raw) < 1e15:
        return str(int(raw))
    if isinstance(raw, datetime):
        return raw.isoformat(" ", "minutes")
    if isinstance(raw, date | time):
        return raw.isoformat()
    if isinstance(raw, list):
        return "a list" if raw else "an empty list"
    if isinstance(raw, dict):
        return "a table"
    return str(raw)


def one_of(words: Iterable[str]) -> str:
    """List the allowed words."""
    listed = list(words)
    if not listed:
        return "none is defined"
    more = f" and {len(listed) - _MOST} more" if len(listed) > _MOST else ""
    return f"one of: {', '.join(listed[:_MOST])}{more}"


def three_of(names: Sequence[str]) -> str:
    """Name the first three and count the rest."""
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return f"{'; '.join(names[:3])}{more}"


def did_you_mean(word: str, allowed: Iterable[str]) -> str:
    """Ask for the nearest allowed word, or say nothing if none is near."""
    near = nearest(word, allowed)
    return f"Did you mean '{near}'?" if near else ""


def nearest(word: str, allowed: Iterable[str]) -> str:
    """Find the allowed word that is meant; "" if none is near."""
    spelled = {tidy(candidate): candidate for candidate in allowed}
    near = get_close_matches(tidy(word), spelled, n=1, cutoff=0.6)
    return spelled[near[0]] if near else ""


def called(table: str) -> str:
    """Name an entry of a table: a crew, a water point."""
    return "water point" if table == "water" else table


def tidy(word: str) -> str:
    """Bring case, spaces and hyphens to one form: ``Strike At`` to strike_at."""
    return "_".join(word.casefold().replace("-", " ").replace("_", " ").split())
