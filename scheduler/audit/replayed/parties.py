"""Whose hands do what: a gang with parties works as a whole or each by itself.

A hand is a party, or a gang without any. It does one job at a time, walks from one to
the next and rests, whether it works alone or with its whole gang.
"""

from collections.abc import Sequence

from models.records import Site
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.windows import CrewWindow

Turn = tuple[CrewWindow | None, list[Job]]
"""A crew's jobs in one shift, in order of start; None where they fit no shift."""


def same_shift(one: CrewWindow, other: CrewWindow) -> bool:
    """Whether two windows are one shift of one gang, for all of it or a party."""
    return (one.crew.gang_id, one.pattern.id, one.day) == (
        other.crew.gang_id,
        other.pattern.id,
        other.day,
    )


def turns_by_hand(site: Site, turns: Sequence[Turn]) -> dict[str, list[Turn]]:
    """Give the turns of each hand, in order of ids, with all that it does in them."""
    teams = {team.id: team for team in site.teams}
    by_hand: dict[str, list[Turn]] = {}
    for window, jobs in turns:
        crew_id = jobs[0].visit.crew_id
        for hand in teams[crew_id].hands if crew_id in teams else (crew_id,):
            _add(by_hand.setdefault(hand, []), window, jobs)
    return {hand: by_hand[hand] for hand in sorted(by_hand)}


def _add(own: list[Turn], window: CrewWindow | None, jobs: list[Job]) -> None:
    """Add jobs to the turn that they lie in; one without a window stays alone."""
    for index, (other, known) in enumerate(own):
        if window and other and same_shift(window, other):
            both = sorted((*known, *jobs), key=lambda j: (j.start_min, j.visit.id))
            own[index] = min(window, other, key=lambda w: len(w.crew.hands)), both
            return
    own.append((window, jobs))
