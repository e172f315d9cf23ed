"""A curing record, put together from what is known of one surface."""

from collections.abc import Iterator

from exports.notices import NEVER_SAFE, PLANNING_AID
from exports.record.curing_record import CuringRecord, Fact, Row, Section
from exports.text import one_line
from models.quantities import duration
from scheduler.recorded.clauses import clauses_section, rests_on
from scheduler.recorded.coverage import coverage_section
from scheduler.recorded.drawn import course_of
from scheduler.recorded.life import Life
from scheduler.recorded.limits import temperatures_section
from scheduler.recorded.missing import missing_of
from scheduler.recorded.visits import finds_section, visits_section
from scheduler.recorded.water import gaps_section
from scheduler.recorded.words import BY_CLOCK, NOBODY, Words, counted

_ELEMENTS = {"slab_on_ground": "slab on ground", "suspended_slab": "suspended slab"}


def words_of(life: Life) -> Words:
    """Give the words of a surface's record."""
    site = life.book.site_input.site
    ends_at = max(life.at, life.credit.ends_at or life.at)
    starts_at = life.surface.placing_starts_at
    return Words(life.clock, site.units, starts_at, ends_at)


def record_of(life: Life) -> CuringRecord:
    """Put a surface's record together."""
    words, site = words_of(life), life.book.site_input.site
    missing = missing_of(life, words)
    coverage = coverage_section(life, words)
    sections = (
        clauses_section(life, words),
        _time_section(life, words),
        finds_section(life, words),
        gaps_section(life, words),
        temperatures_section(life, words),
        *([coverage] if coverage is not None else ()),
        visits_section(life, words),
    )
    label = one_line(life.surface.label)
    return CuringRecord(
        title=f"Curing record, {label}, {one_line(site.name)}",
        paper="us-letter" if site.units == "us" else "a4",
        at=life.at,
        site=one_line(site.name),
        surface=label,
        surface_id=one_line(life.surface_id),
        zone_note=f"up to {words.when(life.at)} · {words.zone_note}",
        verdict=verdict(life, words),
        is_over=life.is_over,
        facts=tuple(_facts(life, words)),
        sections=sections,
        course=course_of(life, words),
        not_met=tuple(_not_met(sections)),
        missing=missing,
        notes=tuple(_notes(life)),
    )


def _not_met(sections: tuple[Section, ...]) -> Iterator[str]:
    """Bring to the head what a rule or a specification did not get."""
    for section in sections:
        for row in section.rows:
            if row.cells[-1] in ("NOT met", "foreseen"):
                state = "foreseen: " if row.cells[-1] == "foreseen" else ""
                yield f"{row.cells[0].removesuffix('.')}: {state}{row.cells[1]}"


def verdict(life: Life, words: Words) -> str:
    """Say whether curing is over, by which criterion, and what that rests on."""
    credit = life.credit
    rule = credit.end.words
    if credit.ends_at is None:
        return f"Curing is NOT over: {rule}."
    when = words.when(credit.ends_at)
    if not life.is_over:
        return f"Curing is NOT over: expected {when} if all goes on as planned; {rule}."
    if life.unwritten:
        count = counted(len(life.unwritten), "visit")
        return (
            f"Curing was over {when} if {count} of which nobody wrote "
            f"{'was' if len(life.unwritten) == 1 else 'were'} done as planned; {rule}."
        )
    return f"Curing was over {when}: {rule}."


def _facts(life: Life, words: Words) -> Iterator[Fact]:
    surface, pour = life.surface, life.pour
    zone = next(z for z in life.book.site_input.site.zones if z.id == surface.zone_id)
    where = [one_line(zone.name)]
    where += [
        f"{name} {one_line(v)}" for name, v in _levels(zone.level, zone.grid) if v
    ]
    element = _ELEMENTS.get(surface.element, surface.element)
    thick = words.show("depth", surface.thickness_mm)
    yield Fact(name="Place", value=", ".join(where), source="site folder")
    size = f"{element}, {words.show('area', surface.area_m2)}, {thick} thick"
    yield Fact(name="Member", value=size, source="site folder")
    mix = life.now.rule(life.surface_id)[1]
    strength = words.show("pressure", mix.strength_mpa)
    yield Fact(
        name="Concrete", value=f"{one_line(mix.id)}, {strength}", source="site folder"
    )
    started = life.last(pour.id, "placing_started")
    ended = life.last(pour.id, "placing_finished")
    yield Fact(
        name="Placing began",
        value=words.when(surface.placing_starts_at),
        source=words.written(started) if started else NOBODY,
    )
    yield Fact(
        name="Placing ended",
        value=words.when(surface.placing_ends_at),
        source=words.written(ended) if ended else NOBODY,
    )
    if surface.face != "top":
        struck = life.last(life.surface_id, "struck")
        yield Fact(
            name="Forms off",
            value=words.when(surface.exposed_at),
            source=words.written(struck) if struck else NOBODY,
        )
    else:
        took = life.last(life.surface_id, "takes_cover")
        event = life.now.events(life.surface_id).takes_cover.expected_at
        yield Fact(
            name="Took a cover",
            value=words.when(took.happened_at if took else event),
            source=words.written(took) if took else BY_CLOCK,
        )
    titles = " then ".join(dict.fromkeys(cover.title for cover in surface.covers))
    held = max(cover.held_l_m2 for cover in surface.covers)
    if held:
        titles += f", holds {words.show('water per area', held)}"
    yield Fact(name="Cured by", value=titles, source="as planned")
    issue = life.book.newest
    yield Fact(
        name="Plan",
        value=f"issue {issue.number} of {words.when(issue.published_at)}, "
        f"folder {issue.input_digest[:12]}",
        source="ledger",
    )


def _levels(level: str, grid: str) -> Iterator[tuple[str, str]]:
    yield "level", level
    yield "grid", grid


def _time_section(life: Life, words: Words) -> Section:
    return Section(
        title="Time credited against time elapsed, and days added",
        columns=("What", "Time", "Known from"),
        widths=(42, 26, 36),
        rows=tuple(_times(life, words)),
    )


def _times(life: Life, words: Words) -> Iterator[Row]:
    credit, alone = life.credit, life.written_credit
    elapsed = duration(credit.elapsed_min)
    until = "curing" if life.is_over else "this record"
    what = f"Elapsed from the end of placing to the end of {until}"
    yield Row(cells=(what, elapsed, BY_CLOCK))
    yield Row(
        cells=(
            "Credited: damp, and warm enough for every criterion in time",
            duration(credit.credited_min),
            rests_on(life),
        )
    )
    if life.unwritten:
        yield Row(
            cells=(
                "Credited by what was written alone",
                duration(alone.credited_min),
                "visits without an entry count as not done, but for the laying of a "
                "cover that somebody worked on later",
            ),
            tone="open",
        )
    first = life.planned[0][1].events(life.surface_id).curing_ends
    number = life.book.issues[-len(life.planned)].number
    if first is not None:
        what = f"End of curing by issue {number}, had it been damp throughout"
        yield Row(
            cells=(what, words.when(first.expected_at), f"plan of issue {number}")
        )
    if credit.damp_ends_at is not None:
        what = "End as placed and as warm as it was, had it been damp throughout"
        yield Row(cells=(what, words.when(credit.damp_ends_at), BY_CLOCK))
    if credit.ends_at is None:
        yield Row(cells=("End of curing", "not known", credit.end.words), tone="open")
        return
    if first is not None and credit.damp_ends_at is not None:
        moved = credit.damp_ends_at - first.expected_at
        minutes = round(moved.total_seconds() / 60)
        which = "later" if minutes > 0 else "sooner"
        said = f"{duration(abs(minutes))} {which}" if minutes else "nothing"
        what = "Moved by when it was placed and how warm it was"
        yield Row(cells=(what, said, BY_CLOCK))
    ends = words.when(credit.ends_at)
    yield Row(cells=("End of curing", ends, rests_on(life)))
    added = credit.added_min or 0
    what = "Added for dry time"
    if added:
        what += f", which does not count: {credit.end.words}"
        yield Row(cells=(what, duration(added), rests_on(life)), tone="bad")
    else:
        yield Row(cells=(what, "nothing", rests_on(life)))


def _notes(life: Life) -> Iterator[str]:
    observed = sum(1 for e in life.entries if e.kind == "weather_observed")
    weather = f"forecast of issue {life.book.newest.number}"
    weather += f", and {counted(observed, 'hour')} measured" if observed else ""
    yield (
        f"By the clock: computed from the {weather}; a model, no measurement. Where "
        "nobody wrote, what was planned is taken for the course and marked as such; it "
        "is no proof that it was done."
    )
    yield f"{PLANNING_AID} {NEVER_SAFE}"
    yield (
        "Whether this record proves what the contract asks is for the engineer and the "
        "authority to say: have its clauses checked against the specification."
    )
