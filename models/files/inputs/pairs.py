"""Gangs that name no parties work in pairs, an odd one alone."""

from collections.abc import Iterable

from models.records import Crew, Party, ShiftPattern

_LEAST_PEOPLE = 3
_PAIR = 2


def all_in_pairs(
    crews: Iterable[Crew], shifts: Iterable[ShiftPattern]
) -> tuple[Crew, ...]:
    """Part all gangs of a site that leave it open; on call one comes as a whole."""
    crews = tuple(crews)
    on_call = {shift.id for shift in shifts if shift.on_call}
    taken = frozenset(
        name for crew in crews for name in (crew.id, *(p.id for p in crew.parties))
    )
    return tuple(
        crew if on_call.issuperset(crew.shifts) else in_pairs(crew, taken)
        for crew in crews
    )


def in_pairs(crew: Crew, taken: frozenset[str]) -> Crew:
    """Part a gang into pairs where its file leaves that open.

    Four people who move as one man stand by for half of their time. What takes more
    than two is still done by the whole gang.

    Parameters
    ----------
    crew : Crew
        A gang as its file has it.
    taken : frozenset of str
        Ids of all gangs and parties of the site.
    """
    if crew.parties or crew.together or crew.people < _LEAST_PEOPLE:
        return crew
    pairs, left = divmod(crew.people, _PAIR)
    names = [(f"pair {n + 1}", _PAIR) for n in range(pairs)] + [
        ("one person", 1)
    ] * left
    parties = tuple(
        Party(
            id=_free(f"{crew.id} {name}", taken),
            name=name,
            people=people,
            by_default=True,
        )
        for name, people in names
    )
    return crew.model_copy(update={"parties": parties})


def _free(wished: str, taken: frozenset[str]) -> str:
    """Lengthen an id that somebody has already."""
    while wished in taken:
        wished += "'"
    return wished
