"""What every record shares: frozen, no unknown fields, rules between its fields."""

from collections.abc import Iterable

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A value that is read or computed once and never changed."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class RulesBrokenError(ValueError):
    """Fields that do not fit together, each with what is expected in it."""

    def __init__(self, rules: Iterable[tuple[str, str]]) -> None:
        self.rules = tuple(rules)
        super().__init__("; ".join(f"{field}: {text}" for field, text in self.rules))


def require_none(broken: Iterable[tuple[str, str]]) -> None:
    """Refuse a record of which some rules are broken.

    Parameters
    ----------
    broken : iterable of (field, text)
        The field to mend, and what is expected in it.

    Raises
    ------
    RulesBrokenError
        With all of them.
    """
    rules = tuple(broken)
    if rules:
        raise RulesBrokenError(rules)
