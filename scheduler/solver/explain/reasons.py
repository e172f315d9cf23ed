"""A limit in site words, with amounts and times, as trials of a visit met it."""

from collections.abc import Callable, Sequence

from models.records import Limit
from scheduler.solver.explain.covers import CoverWords
from scheduler.solver.explain.trials import Try, bans_of, in_the_way
from scheduler.solver.explain.water import WaterWords
from scheduler.solver.explain.words import SiteWords, crew, listed
from scheduler.solver.plan.cost import merged_stops
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.rules import beyond_week_min
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job


class Reasons:
    """Says what stood in the way; the plan is left as it was."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.problem = plan, plan.problem
        work = plan.problem.work
        self.say = SiteWords(work.horizon, work.timezone, work.units)
        self.water = WaterWords(plan, self.say)
        self.covers = CoverWords(plan, self.say)
        self.words: dict[Limit, Callable[[Sequence[Try]], str]] = {
            "no_crew_on_shift": self._nobody,
            "no_skill": self._unable,
            "heat_ban": self._too_hot,
            "crews_busy": self._busy,
            "travel": self._too_far,
            "rest": self._tired,
            "week": self._over_the_week,
            "water_flow": lambda met: self._by_water(self.water.flow, met),
            "water_allotment": lambda met: self._by_water(self.water.allotment, met),
            "tank_empty": lambda met: self._by_water(self.water.tank, met),
            "covers": lambda met: self.covers.short(met[0].job, met[0].start),
            "price": self._too_dear,
        }

    def of(self, met: Sequence[Try]) -> str:
        """Say all limits that trials of one job at one minute met alike."""
        return ", and ".join(self.words[limit](met) for limit in met[0].hurdles)

    def overlooked(self, free: Try) -> str:
        """Say what visit would fit and pay, that the search has not come upon."""
        assert free.lane is not None
        return f"{crew(free.lane.shift)} could come {self.say.at(free.start)}"

    def window(self, job: Job, useful: tuple[int, int]) -> str:
        """Say when a job may be done, if that is not when it would help."""
        what = job.task.title.lower()
        if useful[1] < job.earliest:
            return f"{what} is not allowed before {self.say.at(job.earliest)}"
        return f"{what} must be over by {self.say.at(job.latest)}"

    def _nobody(self, met: Sequence[Try]) -> str:
        job, start = met[0].job, met[0].start
        lanes = [lane for lane in self.problem.lanes if not lane.shift.part_of]
        around = [lane for lane in lanes if lane.starts <= start < lane.closes]
        if around:
            last = max(around, key=lambda lane: (lane.closes, -lane.index))
            return (
                f"{job.task.title.lower()} takes {job.duration} min; "
                f"{crew(last.shift)} are on shift until {self.say.at(last.closes)}, "
                "then nobody is"
            )
        since = max((lane.closes for lane in lanes if lane.closes <= start), default=0)
        words = f"no crew is on shift from {self.say.at(max(since, 0))}"
        after = [lane for lane in lanes if lane.starts > start]
        if after:
            following = min(after, key=lambda lane: (lane.starts, lane.index))
            words += f" until {self.say.at(following.starts)} ({crew(following.shift)})"
        return words

    def _unable(self, met: Sequence[Try]) -> str:
        task = met[0].job.task
        needs = f"{task.people} with {', '.join(task.skills)}"
        have = listed(
            f"{crew(shift)} ({shift.people}: {', '.join(shift.skills)})"
            for shift in (lane.shift for lane in _lanes(met))
        )
        return f"{task.title.lower()} takes {needs}; on shift: {have}"

    def _too_hot(self, met: Sequence[Try]) -> str:
        start, end = met[0].start, met[0].start + met[0].job.duration
        ban = next(
            ban
            for ban in bans_of(self.plan)
            if ban.from_min < end and start < ban.until_min
        )
        when = self.say.until(ban.from_min, ban.until_min)
        return f"nobody works outdoors in the heat ban {when}"

    def _busy(self, met: Sequence[Try]) -> str:
        job, start = met[0].job, met[0].start
        return listed(self._doing(job, start, lane) for lane in _lanes(met))

    def _doing(self, job: Job, start: int, lane: Lane) -> str:
        """Say what a crew does in place of a visit."""
        stops = [
            stop
            for stop in merged_stops(self.plan.by_lane, lane.sharing_people)
            if job.repeats or stop.job != job.index
        ]
        doing = in_the_way(self.plan, lane, stops, start, start + job.duration)
        end, stop = max(doing, key=lambda one: one[0])
        if stop is None:
            return f"{crew(lane.shift)} in the break until {self.say.at(end)}"
        other = self.problem.jobs[stop.job]
        label = self.problem.surfaces[other.surface].work.label
        more = f" and {len(doing) - 1} before" if len(doing) > 1 else ""
        what = f"{label} ({other.task.title.lower()})"
        return f"{crew(lane.shift)} on {what} until {self.say.at(end)}{more}"

    def _too_far(self, met: Sequence[Try]) -> str:
        job, start = met[0].job, met[0].start
        words = []
        for lane in _lanes(met):
            walk = self.problem.travel[lane.home][job.zone]
            if start < lane.starts + walk:
                words.append(
                    f"{crew(lane.shift)} walk {walk} min once their shift begins "
                    f"{self.say.at(lane.starts)}"
                )
            else:
                words.append(
                    f"{crew(lane.shift)} have {job.duration} min between two jobs, "
                    "but not the walk there and back"
                )
        return listed(words)

    def _tired(self, met: Sequence[Try]) -> str:
        lanes = _lanes(met)
        crews = listed(crew(lane.shift) for lane in lanes)
        on_call = all(lane.shift.kind == "on_call" for lane in lanes)
        who = f"no crew is on shift; {crews}, on call," if on_call else crews
        rest_h = self.problem.rest_min / 60
        return f"{who} would lack the {rest_h:g} h of rest between shifts"

    def _over_the_week(self, met: Sequence[Try]) -> str:
        return listed(self._left_of_week(lane) for lane in _lanes(met))

    def _left_of_week(self, lane: Lane) -> str:
        """Say how much of its week a crew has left for overtime and call-outs."""
        weeks = [
            (
                week.left_min - beyond_week_min(self.problem, week, self.plan.by_lane),
                week,
            )
            for unit in lane.work_units
            for week in self.problem.weeks_of_unit[unit]
            if any(lane.index in own for own in week.gang_shifts)
        ]
        left, week = min(weeks, key=lambda one: one[0])
        monday = self.say.local(week.record.starts_min)
        return (
            f"{crew(lane.shift)} have {left} min left of the "
            f"{week.record.most_min / 60:g} h of work in the week from "
            f"{monday:%a} {monday.day} {monday:%b}"
        )

    def _by_water(self, words: Callable[..., str], met: Sequence[Try]) -> str:
        """Speak of the nearest point; the others it reaches are no better off."""
        first = met[0]
        return words(first.job, self.plan.water.points[first.point], first.start)

    def _too_dear(self, met: Sequence[Try]) -> str:
        """Say what the cheapest visit would add to the cost of the roster."""
        more, start, lane = min(
            ((one.extra - one.gain, one.start, one.lane) for one in met if one.lane),
            key=lambda one: (one[0], one[1], one[2].index),
        )
        called = lane.shift.kind == "on_call"
        return (
            f"{crew(lane.shift)} could {'be called out' if called else 'come'} "
            f"{self.say.at(start)}, but that would cost {max(0.0, more):,.1f} more "
            "than it saves"
        )


def _lanes(met: Sequence[Try]) -> list[Lane]:
    """Crews of the trials, each once."""
    return list(dict.fromkeys(one.lane for one in met if one.lane is not None))
