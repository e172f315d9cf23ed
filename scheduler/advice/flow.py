"""From a site folder to advice: each surface under each method, all clocks in one run.

Joins the workshops as the workflow does: ``methods`` says what is refused and what a
method asks for, ``advise`` what that costs here, and on request ``solver`` what it
does to the week of the whole site.

Some rules ask the clocks, such as frost while water would stand there. So what will be
refused is run as well, and refused by the same words as in a plan: alone, and a method
on a timer also beside the timers that the other surfaces of the plan have.
"""

from collections.abc import Sequence
from pathlib import Path
from typing import get_args

from models.errors import InputError, Place, Problem
from models.files.site_folder import read_site
from models.records import (
    Advice,
    Candidate,
    MethodKey,
    Refusal,
    SiteInput,
    Surface,
    WholeSite,
    WorkList,
)
from models.wording import did_you_mean, one_of, say
from scheduler.advice.candidate import Judge, title_of
from scheduler.advice.timers import Timers, on_timers, timers_of
from scheduler.advice.versions import Versions, versions_of, with_method
from scheduler.clocked import Clocked, clock
from scheduler.estimates.ranking import ranked
from scheduler.methods.case.cases import cases_of
from scheduler.methods.case.figures import refused_rates
from scheduler.methods.case.method_table import methods
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import surfaces_of
from scheduler.workflow import Listener

#: How many of the best are solved within the whole site, besides the planned one.
_BEST = 2


def advise(
    folder: Path,
    name: str = "",
    *,
    solve: bool = False,
    listener: Listener = lambda _name, _done: None,
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
    listener : callable
        Told what is going on.

    Raises
    ------
    InputError
        With every problem of the folder, or if it has no pour of that name.
    """
    listener("Reading", 0)
    site_input = read_site(folder)
    if against := refused_rates(site_input):
        raise InputError(against)
    chosen = _chosen(surfaces_of(site_input), name)
    versions = tuple(versions_of(site_input, surface) for surface in chosen)
    listener("Computing every method", 0)
    advice = advise_on(site_input, versions)
    if not solve:
        return advice
    return tuple(_solved(site_input, one, listener) for one in advice)


def advise_on(
    site_input: SiteInput, versions: Sequence[Versions]
) -> tuple[Advice, ...]:
    """Run the clocks of all versions at once, then judge each by itself."""
    surfaces = tuple(v for one in versions for of in one.tried for v in of)
    if not surfaces:
        return tuple(_advice(one, (), ()) for one in versions)
    known = {surface.id for surface in surfaces}
    others = on_timers(site_input, surfaces_of(site_input))
    beside = tuple(surface for surface in others if surface.id not in known)
    clocked = clock(site_input, (*surfaces, *beside))
    cases = cases_of(site_input, clocked.hydration, clocked.drying, clocked.held)
    judge = Judge(clocked, cases)
    timers = timers_of(clocked)
    return tuple(_judged(judge, timers, one) for one in versions)


def work_of(clocked: Clocked, surface: Surface) -> WorkList:
    """Work of one of the clocked surfaces, with only its own timers on the water.

    Raises
    ------
    InputError
        If its method may not be used there.
    """
    return expand(
        clocked.site_input,
        (surface,),
        clocked.hydration,
        clocked.drying,
        clocked.held,
    )


def _judged(judge: Judge, timers: Timers, one: Versions) -> Advice:
    candidates: list[Candidate] = []
    refused: list[tuple[Surface, Problem]] = []
    for attempts in one.tried:
        problems = []
        for version in attempts:
            found = _tried(judge, timers, version, one.surface)
            if isinstance(found, Candidate):
                keeps_then = found.planned or version is not attempts[0]
                update = {"keeps_then": keeps_then}
                candidates.append(found.model_copy(update=update))
                break
            problems.append(found)
        else:
            refused.append((attempts[0], problems[0]))
    settled = bool(one.settled)
    allowed = get_args(MethodKey) if settled else [c.method for c in candidates]
    refusals = (
        _refusal(version, problem, one.surface.method, allowed)
        for version, problem in refused
    )
    inspection_cost = judge.clocked.site_input.site.costs.missed_inspection
    return _advice(one, ranked(candidates, inspection_cost), tuple(refusals))


def _tried(
    judge: Judge, timers: Timers, version: Surface, surface: Surface
) -> Candidate | Problem:
    """Judge a version; or say what stands against it.

    What its own plan would have over, or replaced, before the surface can take it is
    no choice, such as steam for faces that are struck after it.
    """
    planned = version.method == surface.method
    try:
        work = work_of(judge.clocked, version)
    except InputError as error:
        return error.problems[0]
    if work.surfaces[0].automatic and (problem := timers.against(version, surface.id)):
        return problem
    if planned or judge.gets_used(version):
        return judge.candidate(version, work, planned=planned)
    after = version.later[0]
    wanted = f"a surface that can take it long before {after.method}: {after.reason}"
    return Problem(Place("advise"), "method", version.method, wanted)


def _refusal(
    version: Surface,
    problem: Problem,
    planned: MethodKey,
    allowed: Sequence[MethodKey],
) -> Refusal:
    """Say what is wanted instead; where something beside the method clashes, what."""
    reason = problem.wanted
    if problem.found != version.method:
        reason += f"; {problem.place}: {problem.field} is {problem.found}"
    order = (problem.nearest, *methods()[version.method].fits.nearest)
    return Refusal(
        method=version.method,
        title=title_of(version),
        planned=version.method == planned,
        reason=reason,
        nearest=next((m for n in order for m in allowed if m == n), None),
    )


def _advice(
    one: Versions, candidates: tuple[Candidate, ...], refused: tuple[Refusal, ...]
) -> Advice:
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
        refused=refused,
    )


def _chosen(surfaces: tuple[Surface, ...], name: str) -> tuple[Surface, ...]:
    """Surfaces of a pour or of that id; all if no name is given."""
    found = tuple(s for s in surfaces if not name or name in (s.id, s.pour_id))
    if found:
        return found
    known = list(dict.fromkeys(s.pour_id for s in surfaces))
    hint = did_you_mean(name, [*known, *(s.id for s in surfaces)])
    wanted = f"a pour placed before the plan ends, {one_of(known)}"
    raise InputError([Problem(Place("advise"), "POUR", say(name), wanted, hint)])


def _solved(site_input: SiteInput, advice: Advice, listener: Listener) -> Advice:
    """Solve the whole site with each of the best and with the planned method."""
    surface = next(s for s in surfaces_of(site_input) if s.id == advice.surface_id)
    candidates = []
    for candidate in advice.ranked:
        if candidate.rank <= _BEST or candidate.planned:
            update: dict[str, object] = {}
            try:
                whole = _whole_site(site_input, surface, candidate, listener)
                update["whole_site"] = whole
            except InputError as error:
                problem = error.problems[0]
                words = f"not with the rest of the site: {problem.wanted}"
                update["cautions"] = (words, *candidate.cautions)
            candidate = candidate.model_copy(update=update)
        candidates.append(candidate)
    return advice.model_copy(update={"ranked": tuple(candidates)})


def _whole_site(
    site_input: SiteInput, surface: Surface, candidate: Candidate, listener: Listener
) -> WholeSite:
    """Solve with all the effort of a plan: with less, the search hides the method."""
    # ortools takes half a second to import; only solving pays for it.
    from scheduler.solver.solve import Effort, solve

    method = candidate.method
    swapped = with_method(site_input, surface, method, then=candidate.keeps_then)
    clocked = clock(swapped, surfaces_of(swapped))
    work = expand(
        swapped, clocked.surfaces, clocked.hydration, clocked.drying, clocked.held
    )
    roster = solve(
        work,
        effort=Effort(),
        progress=lambda done, _cost: listener(f"Solving the site with {method}", done),
    )
    return WholeSite(
        cost=roster.cost,
        dry_min=sum(gap.minutes for gap in roster.gaps),
        own_dry_min=sum(
            gap.minutes for gap in roster.gaps if gap.surface_id == surface.id
        ),
    )
