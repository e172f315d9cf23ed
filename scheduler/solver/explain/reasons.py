"""A limit in site words, with amounts and times, as trials of a visit met it."""

from collections.abc import Callable, Sequence

from models.records import Limit
from scheduler.solver.explain.covers import CoverWords
from scheduler.solver.explain.crews import CrewWords
from scheduler.solver.explain.stretches import Stretch
from scheduler.solver.explain.trials import Trial
from scheduler.solver.explain.water import WaterWords
from scheduler.solver.explain.words import SiteWords, crew, doing, takes
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job

_LEAST_TOLD = 0.05  # of a cost; less would be written as nothing


class Reasons:
    """Says what stood in the way; the plan is left as it was."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.problem = plan, plan.problem
        work = plan.problem.work
        self.say = SiteWords(work.horizon, work.timezone, work.units)
        self.water, self.covers = WaterWords(plan, self.say), CoverWords(plan, self.say)
        self.crews = CrewWords(plan, self.say)
        self.words: dict[Limit, Callable[[Sequence[Trial]], str]] = {
            "window": lambda met: self._window(met[0]),
            "covers": lambda met: self.covers.short(met[0].job, met[0].start),
            "no_crew_on_shift": lambda met: self.crews.nobody(met[0].start),
            "shift_ends": lambda met: self.crews.leaves(met[0].job, met[0].start),
            "no_skill": lambda met: self.crews.unable(met[0].job, met[0].start),
            "heat_ban": lambda met: self._too_hot(met[0]),
            "crews_busy": self._busy,
            "travel": lambda met: self.crews.walks(
                met[0].job, met[0].start, met[0].own
            ),
            "rest": lambda met: self.crews.rest(met[0].lanes),
            "week": lambda met: self.crews.week(met[0].lanes),
            "water_flow": lambda met: self._dry_point("water_flow", met[0]),
            "water_allotment": lambda met: self._dry_point("water_allotment", met[0]),
            "tank_empty": lambda met: self._dry_point("tank_empty", met[0]),
            "price": self._too_dear,
            "unplanned": lambda met: self._unplanned(met[0]),
        }

    def of(self, stretch: Stretch, limits: Sequence[Limit]) -> str:
        """Say all limits that the trials of a stretch met alike."""
        said = []
        for limit in limits:
            met = [trial for trial in stretch.telling if limit in trial.limits]
            others = [one.trial for one in stretch.tried if limit in one.trial.limits]
            said.append(self.words[limit](met or others))
        words = ", and ".join(said)
        trial = stretch.telling[0]
        if trial.first is trial.job:
            return self.comes_first(trial.job, words)
        return words

    def comes_first(self, before: Job, words: str) -> str:
        """Say that other work comes first, and why that is not done."""
        return f"{before.task.full_title.lower()} comes first: {words}"

    def window(self, job: Job, start: int) -> str:
        """Say when a job may be done, if that is not then."""
        if start < job.earliest:
            earliest = self.say.at(job.earliest)
            return f"{doing(job.task)} is not allowed before {earliest}"
        if start > job.latest - job.duration:
            return f"{takes(job)} and must be over by {self.say.at(job.latest)}"
        return "other work on that surface leaves no time for it"

    def _window(self, trial: Trial) -> str:
        if trial.first is None or trial.first is trial.job:
            return self.window(trial.job, trial.start)
        before = trial.first.task.full_title.lower()
        own = self.plan.stop_of(trial.first.index)
        if own is None:
            return f"{before} comes first, and nobody does that"
        gaps = (x.min_gap for x in trial.job.after if x.job == trial.first.index)
        if gap := max(gaps, default=0):
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

    def _busy(self, met: Sequence[Trial]) -> str:
        job = met[0].job
        own = max(met, key=lambda trial: trial.start).own
        return self.crews.busy(job, [trial.start for trial in met], own)

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
