"""How many people a job takes, how long, and the water it draws.

Time is set-up plus the larger of hand work and flow: two litres a square metre on
600 m² through one hose take an hour of pure flow, however many people stand by.
"""

from dataclasses import dataclass, replace
from math import ceil

from models.records import Skill, Stretch, WaterNeed
from scheduler.methods.case.protocol import Case

#: More would be too many visits for one cover, unless strips were longer than anybody
#: works without a break.
MOST_STRIPS = 8
_MOST_PARTS = 100


@dataclass(frozen=True)
class Workload:
    """Work on an area, before it is known how many people do it.

    Attributes
    ----------
    rates_m2_h : tuple of float
        Of the steps one after the other. [m² per worker-hour]
    people : range
        Fewest to most that usefully work on it.
    target_min : float
        More people join, up to the most, where it would take longer. [min]
    dose_l_m2 : float
        Water put on. [L/m²]
    """

    rates_m2_h: tuple[float, ...]
    people: range
    target_min: float
    skill: Skill = "labourer"
    dose_l_m2: float = 0


@dataclass(frozen=True)
class Labour:
    """A job with its people, minutes and water."""

    area_m2: float
    people: int
    duration_min: int
    water: WaterNeed | None = None


def one_person(case: Case, minutes: float) -> Labour:
    """Give a job on the whole surface that one person does in so many minutes."""
    return Labour(case.surface.area_m2, 1, round(minutes))


def labour(
    case: Case, job: Workload, area_m2: float, factor: float, strength: int
) -> Labour:
    """Staff a job on one area.

    Parameters
    ----------
    case : Case
        Gives set-up, hoses and the water point.
    job : Workload
        What is to be done.
    area_m2 : float
        Area worked on at once. [m²]
    factor : float
        On hand work: night, faces. [-]
    strength : int
        People of the gang that is there.

    Returns
    -------
    Labour
        With the fewest people that keep to the target, or all that are there. Where
        even they need longer than anybody works without a break, as many as the
        largest gang has.
    """
    set_up_min = round(case.common["set_up"])
    litres_l = round(area_m2 * job.dose_l_m2, 1)

    def duration_min(people: int) -> int:
        hand_min = factor * 60 * area_m2 / people * sum(1 / r for r in job.rates_m2_h)
        flow_l_min = min(case.flow_l_min, case.common["hose"] * people)
        work_min = max(hand_min, litres_l / flow_l_min)
        # Exactly 30 minutes must not become 31 by the last bit of a float.
        return set_up_min + max(1, ceil(round(work_min, 6)))

    fewest = job.people.start
    most = max(fewest, min(job.people.stop - 1, strength))
    within = (n for n in range(fewest, most) if duration_min(n) <= job.target_min)
    people = next(within, most)
    largest = max(people, case.gangs.largest(job.skill))
    while people < largest and duration_min(people + 1) < duration_min(people):
        if duration_min(people) <= longest_job_min(case, job.skill, people):
            break
        people += 1
    until_min = duration_min(people)
    water = (
        WaterNeed(litres_l=litres_l, from_min=set_up_min, until_min=until_min)
        if litres_l
        else None
    )
    return Labour(area_m2, people, until_min, water)


def in_parts(
    case: Case, job: Workload, factor: float, strength: int
) -> tuple[Labour, ...]:
    """Cut a job on the whole surface into equal parts that fit between breaks."""
    area_m2 = case.surface.area_m2
    for parts in range(1, _MOST_PARTS):
        one = labour(case, job, area_m2 / parts, factor, strength)
        if one.duration_min <= longest_job_min(case, job.skill, one.people):
            break
    return (one,) * parts


def in_strips(
    case: Case, job: Workload, factor: float, from_min: int, until_min: int
) -> tuple[Labour, ...]:
    """Cut a job on the whole surface into equal strips of about an hour.

    Each is done by the smallest party that can of those at work between two minutes:
    more of them do more strips at a time. Some of a party do if one strip is all.
    """
    there = case.gangs.hands(job.skill, job.people.start, from_min, until_min)
    hands = min(there, job.people.stop - 1)
    area_m2, common = case.surface.area_m2, case.common
    most = max(1, min(MOST_STRIPS, int(area_m2 / common["least_strip"])))
    for strips in range(1, _MOST_PARTS):
        people = range(job.people.start if strips == 1 else hands, hands + 1)
        party = replace(job, people=people, target_min=common["strip"])
        one = labour(case, party, area_m2 / strips, factor, hands)
        longest_min = longest_job_min(case, job.skill, one.people)
        if one.duration_min <= (common["strip"] if strips < most else longest_min):
            break
    return (one,) * strips


def labour_of_fog(case: Case, stint: Stretch) -> tuple[Labour, ...]:
    """Staff a stint of fog, party by party: people by area, a nozzle each.

    Each party keeps its part of the area damp, with water by nozzle.
    """
    fog, area_m2 = case.table["fogging"], case.surface.area_m2
    wanted = ceil(area_m2 / fog["area_per_person"])
    fewest, minutes = min(2, wanted), stint.until_min - stint.from_min
    hands = case.gangs.hands("fogger", fewest, stint.from_min, stint.until_min)
    parties = [hands] * (wanted // hands)
    parties += [wanted % hands] if wanted % hands else []
    return tuple(
        Labour(area_m2 * people / wanted, people, minutes, _mist(case, people, minutes))
        for people in parties
    )


def _mist(case: Case, people: int, minutes: int) -> WaterNeed:
    """Water of so many nozzles, as far as it reaches them."""
    nozzle_l_min = case.table["fogging"]["nozzle_flow"]
    nozzles = max(1, min(people, int(case.flow_l_min / nozzle_l_min)))
    flow_l_min = min(nozzles * nozzle_l_min, case.flow_l_min)
    return WaterNeed(litres_l=round(flow_l_min * minutes, 1), until_min=minutes)


def longest_job_min(case: Case, skill: Skill, people: int) -> int:
    """Longest a single job may take: by habit, and by the longest unbroken stretch."""
    unbroken_min = case.gangs.longest_stretch_min(skill, people)
    unbroken_min -= case.rules.move_in_zone_min
    habit_min = round(case.common["longest_job"])
    # With nobody to do it the length is of no matter, but tasks must stay finite.
    return min(habit_min, unbroken_min) if unbroken_min >= 60 else habit_min


def slowdown(case: Case, at_min: int | None, vertical_in_rate: bool = False) -> float:
    """Multiply hand work at night and on faces that the rate does not know of.

    ``at_min`` is None for work that is timed as by day.
    """
    dark = at_min is not None and case.calendar.is_night(at_min)
    factor = case.common["night"] if dark else 1.0
    if case.surface.vertical and not vertical_in_rate:
        factor *= case.common["vertical"]
    return factor
