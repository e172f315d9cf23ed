"""Temperatures outside their limits on the screen, ahead of everything else."""

from collections.abc import Sequence

from exports.breaches import HEADING, Breached, groups
from scheduler.cli import screen

#: Of a bad week; all of them are on the board.
_MOST_LINES = 20


def say_breaches(breached: Sequence[Breached]) -> None:
    """Say what happens, what to do and, a line each, on which surfaces."""
    if not breached:
        return
    screen.say(HEADING, "bold")
    for group in groups(breached[:_MOST_LINES]):
        screen.say_wrapped(group.heading, 2, "bold")
        screen.say_wrapped(group.do, 2)
        for line in group.lines:
            screen.say_wrapped(line, 4)
    if len(breached) > _MOST_LINES:
        screen.say(f"  and {len(breached) - _MOST_LINES} more, none more dangerous")
    screen.say()
