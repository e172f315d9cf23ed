"""Gangs with parties: one job at a time each, walks, rests and overtime by hand."""

from collections.abc import Sequence
from datetime import timedelta

from models.records import AuditReport, Party, Rules, Site, Skill, SurfaceWork, Visit
from tests.builders import MONDAY, site, surface
from tests.scheduler.audit.audit_builders import at, audited, second, task, work

DAY = "2027-05-03"


def split_site(**rules: object) -> Site:
    """The red gang of four as two pairs; the second has no fogger."""
    red, owl = site().crews
    pairs = (
        Party(id="red 1", name="first pair", people=2),
        Party(id="red 2", name="second pair", people=2, skills=("labourer",)),
    )
    return site().model_copy(
        update={
            "crews": (red.model_copy(update={"parties": pairs}), owl),
            "rules": Rules.model_validate(rules),
        }
    )


def visit(name: str, start: int, crew: str, minutes: int = 10, on: str = DAY) -> Visit:
    surface_id, _, what = name.partition("/")
    return Visit(
        id=f"{name}/{start}", task_id=f"{surface_id}/{what}", surface_id=surface_id,
        crew_id=crew, shift_id=f"{crew}/day/{on}", starts_at=at(start),
        ends_at=at(start + minutes),
    )  # fmt: skip


def check(
    visits: Sequence[Visit], works: Sequence[SurfaceWork], where: Site | None = None
) -> AuditReport:
    return audited(visits, works, (surface(), second()), where or split_site())


def kinds(report: AuditReport) -> list[str]:
    return [finding.kind for finding in report.violations]


def both(
    people: int = 1, skills: tuple[Skill, ...] = ("labourer",)
) -> tuple[SurfaceWork, SurfaceWork]:
    """A look on each of two surfaces, 4 min of walking apart."""
    here = (task(name, people=people, skills=skills) for name in ("look", "more"))
    there = task("look", "P2-top", people=people, skills=skills)
    return work(tasks=tuple(here)), work("P2-top", zone_id="B", tasks=(there,))


def test_two_pairs_may_work_at_once_but_not_a_pair_and_its_gang() -> None:
    pair, other = visit("P1-top/look", 100, "red 1"), visit("P2-top/look", 100, "red 2")
    assert kinds(check([pair, other], both())) == []
    gang = visit("P2-top/look", 105, "red")
    report = check([pair, gang], both())
    assert kinds(report) == ["overlap"]
    assert "at work" not in report.violations[0].words


def test_a_pair_walks_from_where_it_worked_with_its_gang() -> None:
    gang, pair = visit("P1-top/look", 100, "red"), visit("P2-top/look", 113, "red 2")
    report = check([gang, pair], both())
    assert kinds(report) == ["travel"]
    assert "Red gang, second pair has 3 min" in report.violations[0].words
    later = visit("P2-top/look", 114, "red 2")
    assert kinds(check([gang, later], both())) == []


def test_a_job_takes_the_people_and_skills_of_the_pair() -> None:
    fog = both(people=2, skills=("fogger",))
    assert kinds(check([visit("P1-top/look", 100, "red 1")], fog)) == []
    assert kinds(check([visit("P1-top/look", 100, "red 2")], fog)) == ["skill"]
    three = both(people=3)
    assert kinds(check([visit("P1-top/look", 100, "red 1")], three)) == ["people"]
    assert kinds(check([visit("P1-top/look", 100, "red")], three)) == []


def test_the_gangs_work_takes_from_a_pairs_rest() -> None:
    # 695 to 1503 is 13.5 h.
    gang = visit("P1-top/look", 685, "red")
    pair = visit("P1-top/more", 1503, "red 1", on="2027-05-04")
    assert kinds(check([gang, pair], both(), split_site(rest_h=13))) == []
    assert kinds(check([gang, pair], both(), split_site(rest_h=24))) == ["rest"]


def test_walks_together_and_overtime_count_once() -> None:
    # All to P1 from home, 3; the first pair on to P2, 4, and until 670, 10 over; the
    # second looks at P1 again, no walk, until 665.
    visits = [
        visit("P1-top/look", 640, "red"),
        visit("P2-top/look", 660, "red 1"),
        visit("P1-top/more", 655, "red 2"),
    ]
    report = check(visits, both())
    assert kinds(report) == []
    assert round(report.cost_by_part["travel"], 6) == round(7 * 0.2, 6)
    assert report.cost_by_part["overtime"] == 10 * 2
    traces = {
        t.crew_id: t for t in report.shifts if t.starts_at < MONDAY + timedelta(1)
    }
    assert traces["red 1"].busy_min == 20
    assert traces["red 1"].part_of == f"red/day/{DAY}"
    assert (traces["red"].busy_min, traces["red 2"].overtime_min) == (10, 5)


def test_the_week_of_a_pair_holds_what_its_gang_does() -> None:
    # 47.5 h of shifts; 10 min over with the gang, 20 more alone make 48 h.
    visits = [visit("P1-top/look", 660, "red"), visit("P2-top/look", 680, "red 2")]
    assert kinds(check(visits, both(), split_site(week_hours_max_h=48))) == []
    report = check(visits, both(), split_site(week_hours_max_h=47.6))
    assert kinds(report) == ["week", "week"]
    assert {f.crew_id for f in report.violations} == {"red 1", "red 2"}
