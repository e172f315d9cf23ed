"""The words for what keeps crews away: nobody on, nobody able, other work, hours."""

from collections.abc import Sequence
from typing import Literal

from scheduler.solver.explain.crew_times import BUSY, LEAVES, CrewTimes
from scheduler.solver.explain.words import SiteWords, crew, doing, listed, takes
from scheduler.solver.plan.cost import Stop, merged_stops
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.rules import beyond_shifts_min
from scheduler.solver.problem.lanes import Lane, is_candidate, suits
from scheduler.solver.problem.problem import Job

_MOST_CREWS = 3
_BREAK = "on break"
HoursKind = Literal["week", "day", "call_out"]


class CrewWords:
    """Says who is there in a stretch and what they do."""

    def __init__(self, plan: Plan, say: SiteWords) -> None:
        self.plan, self.problem, self.say = plan, plan.problem, say
        self.shifts = [x for x in self.problem.lanes if x.shift.kind == "shift"]
        #: Whole gangs: what a party lacks its gang may have.
        self.gangs = [lane for lane in self.shifts if not lane.shift.part_of]
        self.on_call = [x for x in self.problem.lanes if x.shift.kind == "on_call"]

    def nobody(self, job: Job, first: int, until: int) -> str:
        """Say from when until when no crew is on shift, and who on call is too few."""
        words = "no crew is on shift"
        since = max((x.closes for x in self.gangs if x.closes <= first), default=0)
        if since > 0:
            words += f" from {self.say.at(since)}"
        able = [lane for lane in self.on_call if suits(lane, job.task)]
        after = [lane for lane in (*self.gangs, *able) if lane.starts >= until]
        if after:
            following = min(after, key=lambda lane: (lane.starts, lane.index))
            who = crew(following.shift)
            if following.shift.kind == "on_call":
                who += ", on call"
            words += f" until {self.say.at(following.starts)} ({who})"
        called = [x for x in self.on_call if x.starts < until and x.closes > first]
        if called and not any(lane in able for lane in called):
            words += f"; {_wanted(job, called)}; on call: {_have(job, called)}"
        return words

    def leaves(self, job: Job, start: int) -> str:
        """Say whose shift is over too soon, and who follows, if anybody does."""
        able = [x for x in self.shifts if is_candidate(x, job.task, self.problem.lanes)]
        on = [lane for lane in able if lane.starts <= start < lane.closes]
        last = max(on, key=lambda lane: (lane.closes, -lane.index))
        words = f"{takes(job)}; {self._finishes(last)} and "
        follow = [x for x in able if start < x.starts <= last.closes < x.closes]
        if follow:
            following = min(follow, key=lambda lane: (lane.starts, lane.index))
            begins = self.say.at(following.starts)
            return f"{words}{crew(following.shift)} begins {begins}"
        if any(x.starts <= last.closes < x.closes for x in self.shifts):
            return f"{words}nobody who follows can do it"
        return f"{words}nobody follows"

    def unable(self, job: Job, first: int, until: int) -> str:
        """Say whom it takes, and whom there are."""
        on = [x for x in self.gangs if x.starts < until and x.closes > first]
        return f"{_wanted(job, on)}; on shift: {_have(job, on)}"

    def busy(self, job: Job, starts: Sequence[int], own: Stop | None) -> str:
        """Say what keeps each crew from a visit at any of some minutes."""
        crews = CrewTimes(self.plan, job, min(starts), max(starts), own)
        met = (lane for minute in starts for lane, _ in crews.asked(minute))
        said: list[str] = []
        # Whether all are at it when a visit would begin, whenever that may be.
        at_once = _has_choice(job)
        for lane in dict.fromkeys(met):
            words, begun = self._doing(job, lane, crews, own)
            if words:
                said.append(words)
            at_once &= begun
        if len(said) > _MOST_CREWS:
            more = len(said) - _MOST_CREWS + 1
            said = [*said[: _MOST_CREWS - 1], f"{more} more crews are not free"]
        if crews.codes[-1] == LEAVES:
            said.append(self._finishes(self._last_to_leave(crews)))
        return "; ".join(said if at_once else [self._takes(job), *said])

    def walks(self, job: Job, start: int, own: Stop | None) -> str:
        """Say which walk takes the time that there would be."""
        crews = CrewTimes(self.plan, job, start, start, own)
        lanes = [lane for lane, state in crews.asked(start) if state < BUSY]
        words = listed((self._walk(job, start, lane, own) for lane in lanes), "crews")
        return words if _has_choice(job) else f"{self._takes(job)}; {words}"

    def rest(self, lanes: Sequence[Lane]) -> str:
        """Say who must rest."""
        on_call = ", on call," if lanes[0].shift.kind == "on_call" else ""
        who = listed((crew(lane.shift) for lane in lanes), "crews")
        hours = f"{self.problem.rest_min / 60:g} h"
        return f"{who}{on_call} would lack the {hours} of rest between shifts"

    def hours(self, kind: HoursKind, lanes: Sequence[Lane]) -> str:
        """Say how much of their hours crews have left for overtime and call-outs."""
        return listed((self._left(kind, lane) for lane in lanes), "crews")

    def _takes(self, job: Job) -> str:
        """Say how long a job takes, and from when if it has no choice."""
        if _has_choice(job):
            return takes(job)
        return f"{takes(job)} from {self.say.at(job.earliest)}"

    def _doing(
        self, job: Job, lane: Lane, crews: CrewTimes, own: Stop | None
    ) -> tuple[str, bool]:
        """Say what a crew does, and whether it is at it when the stretch begins."""
        first = max(crews.first, lane.starts)
        last = min(crews.first + crews.length - 1, lane.closes - job.duration)
        until = last + job.duration
        met: list[tuple[int, int, Stop | str]] = [
            (stop.start, self.plan.end(stop), stop)
            for stop in merged_stops(self.plan.by_lane, lane.sharing_people)
            if stop != own
        ]
        met += [(a.from_min, a.until_min, _BREAK) for a in lane.shift.breaks]
        met += [(a.from_min, a.until_min, f"is {a.doing}") for a in lane.shift.busy]
        met = sorted(
            (one for one in met if one[0] < until and one[1] > first),
            key=lambda one: one[:2],
        )
        if not met:
            return "", False
        (begins, ends, stop), *more = met
        if isinstance(stop, str):
            what = stop
        else:
            other = self.problem.jobs[stop.job]
            label = self.problem.surfaces[other.surface].work.label
            what = f"on {label} ({other.task.full_title.lower()})"
        words = f"{crew(lane.shift)} {what} until {self.say.at(ends)}"
        more = [one for one in more if one[0] <= last]
        if more:
            over = self.say.at(max(end for _, end, _ in more))
            words += f", {_then([one for *_, one in more])} until {over}"
        return words, begins <= first

    def _last_to_leave(self, crews: CrewTimes) -> Lane:
        leaving = [
            lane
            for lane, state in zip(crews.lanes, crews.states[:, -1], strict=True)
            if state == LEAVES and lane.shift.kind == "shift"
        ]
        return max(leaving, key=lambda lane: (lane.closes, -lane.index))

    def _finishes(self, lane: Lane) -> str:
        overtime = " with overtime" if lane.closes > lane.ends else ""
        return f"{crew(lane.shift)} finishes {self.say.at(lane.closes)}{overtime}"

    def _walk(self, job: Job, start: int, lane: Lane, own: Stop | None) -> str:
        """Say which way keeps a crew from a visit for which it has the time."""
        problem, name = self.problem, crew(lane.shift)
        way = problem.travel[lane.home][job.zone]
        if start < lane.starts + way:
            return f"{name} begins {self.say.at(lane.starts)} and walks {way} min"
        stops = merged_stops(self.plan.by_lane, lane.sharing_people)
        others = [(stop, problem.jobs[stop.job]) for stop in stops if stop != own]
        ready = lane.starts + way
        free_from = lane.starts
        for stop, other in others:
            if stop.start < start:
                free_from = max(free_from, self.plan.end(stop))
                ready = max(ready, self.plan.end(stop) + problem.walk(other, job))
        for stop, other in others:
            leaves = stop.start - problem.walk(job, other)
            if stop.start >= start and start + job.duration > leaves:
                if ready + job.duration > leaves:
                    span = self.say.until(free_from, stop.start)
                    return f"{name} is free {span}, too short with the walks"
                label = problem.surfaces[other.surface].work.label
                return f"{name} has to be on {label} by {self.say.at(stop.start)}"
        return f"{name} walks over until {self.say.at(ready)}"

    def _left(self, kind: HoursKind, lane: Lane) -> str:
        limits = [
            (
                one.left_min - beyond_shifts_min(self.problem, one, self.plan.by_lane),
                one.record,
            )
            for unit in lane.work_units
            for one in self.problem.limits_of_unit[unit]
            if one.record.kind == kind
            and any(lane.index in own for own in one.gang_shifts)
        ]
        left, limit = min(limits, key=lambda one: one[0])
        day = self.say.local(limit.starts_min)
        on = f"{day:%a} {day.day} {day:%b}"
        what = {
            "week": f"of work in the week from {on}",
            "day": f"of work on {on}",
            "call_out": f"of its call-out {on}",
        }
        return (
            f"{crew(lane.shift)} has {max(0, left)} min left of the "
            f"{limit.most_min / 60:.4g} h {what[kind]}"
        )


def _has_choice(job: Job) -> bool:
    """Whether a job may begin at more than one minute."""
    return job.latest - job.earliest > job.duration


def _wanted(job: Job, lanes: Sequence[Lane]) -> str:
    """Say how many people a job takes, and their skills if crews lack these."""
    task = job.task
    words = f"{doing(task)} takes {task.people} "
    words += "person" if task.people == 1 else "people"
    return words if _skilled(job, lanes) else f"{words} ({', '.join(task.skills)})"


def _have(job: Job, lanes: Sequence[Lane]) -> str:
    if _skilled(job, lanes):
        return listed(f"{crew(x.shift)} ({x.shift.people})" for x in lanes)
    return listed(
        f"{crew(x.shift)} ({x.shift.people}: {', '.join(x.shift.skills)})"
        for x in lanes
    )


def _skilled(job: Job, lanes: Sequence[Lane]) -> bool:
    """Whether all of some crews have the skills, so that they lack people only."""
    return all(set(job.task.skills) <= set(lane.shift.skills) for lane in lanes)


def _then(more: Sequence[Stop | str]) -> str:
    """Say what a crew does after the first thing told: jobs, breaks, other work."""
    jobs = sum(not isinstance(stop, str) for stop in more)
    words = [f"{jobs} job{'s'[: jobs != 1]}"] if jobs else []
    words += ["other work"] if any(_is_other(stop) for stop in more) else []
    words += ["a break"] if _BREAK in more else []
    return f"then {' and '.join(words)}"


def _is_other(what: Stop | str) -> bool:
    return isinstance(what, str) and what != _BREAK
