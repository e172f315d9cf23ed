"""A limit in site words, with amounts and times, as trials of a visit met it."""

from collections.abc import Callable, Sequence

from models.records import Limit
from scheduler.solver.explain.covers import CoverWords
from scheduler.solver.explain.crews import CrewWords
from scheduler.solver.explain.stretches import GapStretch
from scheduler.solver.explain.trials import Trial, in_the_way
from scheduler.solver.explain.water import WaterWords
from scheduler.solver.explain.words import SiteWords, crew, doing, takes
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job

_MOST_LIMITS = 2  # named together
_LEAST_TOLD = 0.05  # of a cost; less would be written as nothing


class Reasons:
    """Says what stood in the way; the plan is left as it was."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.problem = plan, plan.problem
        work = plan.problem.work
        self.say = SiteWords(work.horizon, work.timezone, work.units)
        self.water, self.covers = WaterWords(plan, self.say), CoverWords(plan, self.say)
        self.crews = CrewWords(plan, self.say)
        #: Limits by the words for the trial that speaks for a stretch.
        self.words: dict[Limit, Callable[[Trial], str]] = {
            "window": self._window,
            "covers": lambda trial: self.covers.short(trial.job, trial.start),
            "shift_ends": lambda trial: self.crews.leaves(trial.job, trial.start),
            "heat_ban": self._too_hot,
            "travel": lambda met: self.crews.walks(met.job, met.start, met.own),
            "rest": lambda trial: self.crews.rest(trial.lanes),
            "week": lambda trial: self.crews.hours("week", trial.lanes),
            "day": lambda trial: self.crews.hours("day", trial.lanes),
            "call_out": lambda trial: self.crews.hours("call_out", trial.lanes),
            "water_flow": lambda trial: self._dry_point("water_flow", trial),
            "water_allotment": lambda trial: self._dry_point("water_allotment", trial),
            "tank_empty": lambda trial: self._dry_point("tank_empty", trial),
            "unplanned": self._unplanned,
        }

    def of(self, stretch: GapStretch, limits: Sequence[Limit]) -> str:
        """Say the limits of a stretch; more than a few would not be read."""
        words = ", and ".join(
            self._say(stretch, limit) for limit in limits[:_MOST_LIMITS]
        )
        if stretch.waits:
            return self.comes_first(stretch.telling[0].job, words)
        return words

    def _say(self, stretch: GapStretch, limit: Limit) -> str:
        met = [trial for trial in stretch.telling if limit in trial.limits]
        met = met or [x.trial for x in stretch.tried if limit in x.trial.limits]
        if limit == "price":
            return self._too_dear(met)
        if limit == "no_crew_on_shift":
            return self.crews.nobody(met[0].job, stretch.first, stretch.until)
        if limit == "no_skill":
            return self.crews.unable(met[0].job, stretch.first, stretch.until)
        if limit == "crews_busy":
            job, tried = met[0].job, [one.trial for one in stretch.tried]
            starts = sorted(trial.start for trial in tried if trial.job is job)
            return self.crews.busy(job, starts, tried[-1].own)
        return self.words[limit](met[0])

    def comes_first(self, before: Job, words: str) -> str:
        """Say that other work comes first, and why that is not done."""
        return f"{before.task.full_title.lower()} comes first: {words}"

    def window(self, job: Job, start: int, own: Stop | None) -> str:
        """Say when a job may be done, if that is not then, or what is done instead."""
        if start < job.earliest:
            earliest = self.say.at(job.earliest)
            return f"{doing(job.task)} is not allowed before {earliest}"
        if start < job.opens or job.latest - job.duration < job.opens:
            return "that time is past"
        if start > job.latest - job.duration:
            return f"{takes(job)} and must be over by {self.say.at(job.latest)}"
        other = in_the_way(self.plan, job, start, own)
        assert other is not None  # nothing else is asked of the surface
        title = self.problem.jobs[other.job].task.full_title.lower()
        if other.start > start:
            return f"{takes(job)}; {title} begins there {self.say.at(other.start)}"
        return f"{title} goes on there until {self.say.at(self.plan.end(other))}"

    def _window(self, trial: Trial) -> str:
        if trial.own is not None and trial.own.start == trial.start:
            begins = f"{doing(trial.job.task)} begins {self.say.at(trial.start)}"
            half_done = self.say.at(trial.start + trial.job.half_done)
            return f"{begins} and is half done by {half_done}"
        if trial.first is None or trial.first is trial.job:
            return self.window(trial.job, trial.start, trial.own)
        before = trial.first.task.full_title.lower()
        own = self.plan.stop_of(trial.first.index)
        if own is None:
            return f"{before} comes first, and nobody does that"
        links = [x for x in trial.job.after if x.job == trial.first.index]
        if any(link.from_start for link in links):
            return f"{before} comes first, and begins {self.say.at(own.start)}"
        if gap := max((link.min_gap for link in links), default=0):
            over = self.say.at(self.plan.end(own) + gap)
            return f"{before} comes first, and the wait after it is over {over}"
        return f"{before} comes first, and is over {self.say.at(self.plan.end(own))}"

    def _too_hot(self, trial: Trial) -> str:
        start, end = trial.start, trial.start + trial.job.duration
        ban = next(
            ban
            for ban in self.problem.work.heat_bans
            if ban.from_min < end and start < ban.until_min
        )
        when = self.say.until(ban.from_min, ban.until_min)
        return f"nobody works outdoors in the heat ban {when}"

    def _dry_point(self, limit: Limit, trial: Trial) -> str:
        """Speak of the nearest point; the others it reaches are no better off."""
        return self.water.short(limit, trial.job, trial.point, trial.start, trial.own)

    def _too_dear(self, met: Sequence[Trial]) -> str:
        """Say what the cheapest visit would add to the cost of the roster."""
        trial = min(met, key=lambda one: (one.loss, one.start))
        more = (
            f"cost {trial.loss:,.1f} more than it saves"
            if trial.loss >= _LEAST_TOLD
            else "save no more than it costs"
        )
        return f"{self._could_come(trial)}, but that would {more}"

    def _unplanned(self, trial: Trial) -> str:
        """Say what visit would fit and pay, that nobody has come upon."""
        if trial.own is None:
            return f"{self._could_come(trial)}; no visit is planned"
        planned = self.say.at(trial.own.start)
        return f"{self._could_come(trial)}, sooner than planned ({planned})"

    def _could_come(self, trial: Trial) -> str:
        (lane,) = trial.lanes
        called = "be called out" if lane.shift.kind == "on_call" else "come"
        return f"{crew(lane.shift)} could {called} {self.say.at(trial.start)}"
