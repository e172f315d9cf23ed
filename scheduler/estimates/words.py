"""One sentence that says why a method stands where it does."""

from dataclasses import dataclass

from models.quantities import Units, duration, show, show_hours
from models.records import SurfaceWork
from scheduler.estimates.estimate import Estimate
from scheduler.estimates.lasting import Lasting


@dataclass(frozen=True)
class Phrasing:
    """How the site says things.

    Attributes
    ----------
    night : str
        Its night, such as ``20:00 to 06:00``.
    longest_dry : str
        When it is dry for longest, such as ``Sat 15:00 to Sun 07:00``; empty if never.
    several : bool
        Covers follow one another.
    """

    units: Units
    night: str
    longest_dry: str = ""
    several: bool = False


def sentence(
    found: Estimate,
    lasts: Lasting,
    work: SurfaceWork,
    outside_h: int,
    phrasing: Phrasing,
) -> str:
    """Say how long it lasts, what that means by night, and what it takes.

    Parameters
    ----------
    found : Estimate
        The surface's own week.
    lasts : Lasting
        How long a wetting lasts.
    work : SurfaceWork
        Whether its cover holds water that visits fill again, or a timer does.
    outside_h : int
        Hours outside the method's own weather limits. [h]
    phrasing : Phrasing
        Units and times in words.
    """
    refills = work.rewet is not None or found.rewets > 0
    parts = [_lasting(found, lasts, work, phrasing)]
    if found.dry_min:
        dry = duration(found.dry_min)
        one = found.longest_dry
        whole = one is not None and one.until_min - one.from_min == found.dry_min
        when = phrasing.longest_dry if whole else f"longest {phrasing.longest_dry}"
        parts.append(f"dry for {dry} ({when})")
    if found.missed:
        count = len(found.missed)
        parts.append(f"{count} {_plural('duty', count)} left undone")
    if outside_h:
        parts.append(f"{outside_h} h outside its weather limits")
    parts.append(_takes(found, refills, phrasing.units))
    return "; ".join(parts) + "."


def _lasting(
    found: Estimate, lasts: Lasting, work: SurfaceWork, phrasing: Phrasing
) -> str:
    if found.covered_min is None:
        return "It cannot be covered within the plan"
    if work.automatic:
        return "A timer waters it after commissioning; inspect every shift"
    if work.rewet is None:
        return "Nothing to re-wet once it is on"
    if lasts.day_h is None and lasts.night_h is None:
        return "One wetting lasts beyond the plan"
    cover = "Its fastest-drying cover lasts" if phrasing.several else "Lasts"
    words = f"{cover} {_wetted(lasts)}"
    if found.night_rewets:
        return f"{words}: {found.night_rewets} of {found.rewets} re-wettings at night"
    if found.dry_min:
        return words
    return f"{words}: nobody needed at night, {phrasing.night}"


def _wetted(lasts: Lasting) -> str:
    """Say how long a wetting lasts at worst; by day and by night where they differ."""
    day, night = _long(lasts.day_h), _long(lasts.night_h)
    if day == night:
        return f"{day} per wetting"
    return f"{day} when wetted by day, {night} by night"


def _long(hours: float | None) -> str:
    if hours is None:
        return "beyond the plan"
    return show_hours(hours)


def _takes(found: Estimate, refills: bool, units: Units) -> str:
    taken = []
    if refills:
        count = f"{found.rewets}" if found.rewets else "no"
        taken.append(f"{count} {_plural('re-wetting', found.rewets or 1)}")
    taken.append(f"{found.crew_min / 60:.1f} crew hours")
    if found.water_l:
        taken.append(show("volume", found.water_l, units))
    return ", ".join(taken)


def _plural(word: str, count: int) -> str:
    if count == 1:
        return word
    return f"{word[:-1]}ies" if word.endswith("y") else f"{word}s"
