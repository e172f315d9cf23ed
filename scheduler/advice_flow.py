"""From a site folder to advice: each surface under each method, all clocks in one run.

Joins the workshops as the workflow does: ``methods`` says what is refused and what a
method asks for, ``advise`` what that costs here, and on request ``solver`` what it
does to the week of the whole site.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from models.drying import clock as drying_clock
from models.drying.surroundings import surroundings
from models.errors import InputError, Problem
from models.files.site_folder import read_site
from models.hydration import clock as hydration_clock
from models.records import (
    Advice,
    Candidate,
    MethodKey,
    Refusal,
    SiteInput,
    Surface,
    WholeSite,
)
from scheduler.advice_candidate import Judge
from scheduler.advise.ranking import ranked
from scheduler.methods.cases import cases_of
from scheduler.methods.conflicts import conflicts
from scheduler.methods.expand import expand
from scheduler.methods.figures import figures_for
from scheduler.methods.local_clock import LocalClock
from scheduler.methods.registry import METHODS
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.workflow import Clocked, Stage

#: How many of the best are solved within the whole site, besides the planned one.
_BEST = 2


@dataclass(frozen=True)
class Versions:
    """A surface under every method: what may be used, what is refused and why."""

    surface: Surface
    allowed: tuple[Surface, ...]
    refused: tuple[Refusal, ...]
    settled: str


def advise(
    folder: Path,
    name: str = "",
    *,
    solve: bool = False,
    stage: Stage = lambda _name, _done: None,
) -> tuple[Advice, ...]:
    """Advise on the surfaces of a site folder.

    Parameters
    ----------
    folder : Path
        The site folder.
    name : str
        Id of a pour or of one of its surfaces; empty for all of the site.
    solve : bool
        Also solve the whole site with each of the best methods and the planned one.
    stage : callable
        Told the name of each stage and how much of it is done, 0 to 1.

    Raises
    ------
    InputError
        With every problem of the folder, or if it has no pour of that name.
    """
    stage("Reading", 0)
    site_input = read_site(folder)
    chosen = _chosen(surfaces_of(site_input), name)
    versions = tuple(versions_of(site_input, surface) for surface in chosen)
    stage("Running the clocks under every method", 0)
    advice = advise_on(site_input, versions)
    if not solve:
        return advice
    return tuple(_solved(site_input, one, stage) for one in advice)


def versions_of(site_input: SiteInput, surface: Surface) -> Versions:
    """Put a surface under each method of the registry.

    A surface that is already covered keeps its cover: to change it would be another
    job, of lifting and laying again.
    """
    table = figures_for(site_input.site.rates)
    horizon = site_input.horizon
    settled = ""
    methods: Sequence[MethodKey] = tuple(METHODS)
    if surface.exposed_at >= horizon.ends_at:
        settled = "bare only after the plan ends, so there is nothing to judge yet"
        methods = ()
    elif surface.covered_at is not None:
        clock = LocalClock(site_input.site.timezone, horizon)
        since = clock.words(horizon.minute(surface.covered_at))
        settled = f"under its cover since {since}, so only that is looked at"
        methods = (surface.method,)
    allowed, refused = [], []
    for method in methods:
        version = _under(site_input, surface, method)
        problems = conflicts(site_input, (version,), table)
        if not problems:
            allowed.append(version)
            continue
        nearest = problems[0].hint.removeprefix("Nearest: ")
        refused.append(
            Refusal(
                method=method,
                title=version.cover.title,
                planned=method == surface.method,
                reason=problems[0].wanted,
                nearest=next((m for m in METHODS if m == nearest), None),
            )
        )
    return Versions(surface, tuple(allowed), tuple(refused), settled)


def advise_on(
    site_input: SiteInput, versions: Sequence[Versions]
) -> tuple[Advice, ...]:
    """Run the clocks of all versions at once, then judge each by itself."""
    surfaces = tuple(version for one in versions for version in one.allowed)
    if not surfaces:
        return tuple(_advice(one, ()) for one in versions)
    clocked = clocks(site_input, surfaces)
    work = expand(site_input, surfaces, clocked.hydration, clocked.drying)
    judge = Judge(
        clocked, work, cases_of(site_input, clocked.hydration, clocked.drying)
    )
    judged = iter(zip(surfaces, work.surfaces, strict=True))
    return tuple(
        _advice(
            one,
            ranked(
                judge.candidate(*next(judged), planned=version is one.surface)
                for version in one.allowed
            ),
        )
        for one in versions
    )


def clocks(site_input: SiteInput, surfaces: tuple[Surface, ...]) -> Clocked:
    """Run both clocks of surfaces that need not be those of the plan."""
    grid = planning_grid(site_input)
    around = surroundings(surfaces, site_input, grid)
    hydration = hydration_clock.run(surfaces, site_input, around, grid)
    drying = drying_clock.run(surfaces, site_input, around, hydration)
    return Clocked(site_input, surfaces, around, hydration, drying)


def _advice(one: Versions, candidates: tuple[Candidate, ...]) -> Advice:
    surface = one.surface
    return Advice(
        surface_id=surface.id,
        label=surface.label,
        face=surface.face,
        element=surface.element,
        area_m2=surface.area_m2,
        exposure=surface.exposure,
        risk=surface.risk,
        planned=surface.method,
        settled=one.settled,
        ranked=candidates,
        refused=one.refused,
    )


def _chosen(surfaces: tuple[Surface, ...], name: str) -> tuple[Surface, ...]:
    """Surfaces of a pour or of that id; all if no name is given."""
    found = tuple(s for s in surfaces if not name or name in (s.id, s.pour_id))
    if found:
        return found
    known = list(dict.fromkeys(s.pour_id for s in surfaces))
    near = get_close_matches(name, [*known, *(s.id for s in surfaces)], n=1)
    hint = f"Nearest: {near[0]}" if near else ""
    wanted = f"a pour placed before the plan ends: {', '.join(known)}"
    raise InputError([Problem("advise", "POUR", repr(name), wanted, hint)])


def _with_method(
    site_input: SiteInput, surface: Surface, method: MethodKey
) -> SiteInput:
    """Give the site with another method on one surface."""
    field = "method" if surface.face == "top" else "formed_method"
    pours = tuple(
        pour.model_copy(update={field: method}) if pour.id == surface.pour_id else pour
        for pour in site_input.pours
    )
    return site_input.model_copy(update={"pours": pours})


def _under(site_input: SiteInput, surface: Surface, method: MethodKey) -> Surface:
    """Give the surface under a method; under another than planned, a new id."""
    if method == surface.method:
        return surface
    one = site_input.model_copy(
        update={"pours": tuple(p for p in site_input.pours if p.id == surface.pour_id)}
    )
    others = surfaces_of(_with_method(one, surface, method))
    same = next(other for other in others if other.id == surface.id)
    return same.model_copy(update={"id": f"{surface.id} under {method}"})


def _solved(site_input: SiteInput, advice: Advice, stage: Stage) -> Advice:
    """Solve the whole site with each of the best and with the planned method."""
    surface = next(s for s in surfaces_of(site_input) if s.id == advice.surface_id)
    candidates = []
    for candidate in advice.ranked:
        if candidate.rank <= _BEST or candidate.planned:
            whole = _whole_site(site_input, surface, candidate.method, stage)
            candidate = candidate.model_copy(update={"whole_site": whole})
        candidates.append(candidate)
    return advice.model_copy(update={"ranked": tuple(candidates)})


def _whole_site(
    site_input: SiteInput, surface: Surface, method: MethodKey, stage: Stage
) -> WholeSite:
    """Solve with all the effort of a plan: with less, the search hides the method."""
    # ortools takes half a second to import; only solving pays for it.
    from scheduler.solver.solve import Effort, solve

    swapped = _with_method(site_input, surface, method)
    clocked = clocks(swapped, surfaces_of(swapped))
    work = expand(swapped, clocked.surfaces, clocked.hydration, clocked.drying)
    roster = solve(
        work,
        effort=Effort(),
        progress=lambda done, _cost: stage(f"Solving the site with {method}", done),
    )
    return WholeSite(
        cost=roster.cost,
        lower_bound=roster.lower_bound,
        dry_min=sum(gap.minutes for gap in roster.gaps),
        own_dry_min=sum(
            gap.minutes for gap in roster.gaps if gap.surface_id == surface.id
        ),
    )
