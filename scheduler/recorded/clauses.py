"""What the rule asks of a surface, clause by clause, and how each is proven."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from exports.record.curing_record import Row, Section, Tone
from models.hydration.events import initial_set_h
from models.quantities import duration, show_hours, show_share
from models.records.criterion import DaysRow, StrengthRow
from scheduler.recorded.credit import Earned
from scheduler.recorded.life import Life
from scheduler.recorded.limits import limit_rows
from scheduler.recorded.words import BY_CLOCK, NOBODY, UNKNOWN, Words, counted

MET, NOT_MET, NOT_YET = "met", "NOT met", "not yet"
_DAY_MIN = 24 * 60


def clauses_section(life: Life, words: Words) -> Section:
    """List what is asked and what is known of it."""
    profile, _ = life.now.rule(life.surface_id)
    edition = f" ({profile.edition})" if profile.edition != profile.title else ""
    how = (
        "The first criterion reached ends curing."
        if profile.combine == "first"
        else "All criteria must be reached."
    )
    return Section(
        title=f"What {profile.title}{edition} asks, and the proof",
        columns=("Asked", "Proof", "Known from", "State"),
        widths=(36, 34, 22, 12),
        rows=(
            *_criteria(life),
            *_least(life),
            *_cover_in_time(life, words),
            *_way(life),
            *_looks(life),
            *limit_rows(life, words),
        ),
        note=how,
    )


def rests_on(life: Life) -> str:
    """Say what the time that is credited is known from."""
    if life.unwritten:
        return f"{BY_CLOCK}; {counted(len(life.unwritten), 'visit')} {NOBODY}"
    return f"{BY_CLOCK}, on visits as written"


def _criteria(life: Life) -> Iterator[Row]:
    alone = {one.words: one for one in life.written_credit.criteria}
    deciding = life.credit.end.words
    for one in life.credit.criteria:
        decides = " Decides." if deciding.startswith(one.words) else ""
        state, tone = _state(life, one.is_met, alone[one.words].is_met)
        yield Row(
            cells=(
                f"{one.words[0].upper()}{one.words[1:]}.{decides}",
                _earned(one),
                rests_on(life)
                if one.row.kind != "strength"
                else f"{BY_CLOCK}, no test",
                state,
            ),
            tone=tone,
        )
    if not life.credit.criteria:
        yield Row(cells=(f"{deciding}.", UNKNOWN, "", UNKNOWN), tone="open")


def _earned(one: Earned) -> str:
    if isinstance(one.row, DaysRow):
        days_min = round(one.fraction * one.row.days * _DAY_MIN)
        return f"{duration(days_min)} of it credited"
    if isinstance(one.row, StrengthRow):
        return f"{show_share(one.fraction)} of what is asked, as modelled"
    return f"{show_share(one.fraction)} of the period earned"


def _state(life: Life, is_met: bool, alone: bool) -> tuple[str, Tone]:
    if not is_met:
        return NOT_YET, "open"
    if not alone and life.unwritten:
        return "met, if done as planned", "open"
    return MET, "plain"


def _least(life: Life) -> Iterator[Row]:
    profile, _ = life.now.rule(life.surface_id)
    credit, alone = life.credit, life.written_credit
    if profile.minimum_h:
        asked_min = round(60 * profile.minimum_h)
        state, tone = _state(
            life, credit.credited_min >= asked_min, alone.credited_min >= asked_min
        )
        clause = profile.said_by("minimum_h")
        asked = f"At least {duration(asked_min)} of credited time ({clause})."
        proof = f"{duration(credit.credited_min)} credited"
        yield Row(cells=(asked, proof, rests_on(life), state), tone=tone)
    if profile.set_beyond_h:
        events, surface = life.now.events(life.surface_id), life.surface
        set_h = initial_set_h(surface, events.initial_set)
        asked = (
            f"Set later than {profile.set_beyond_h:g} h lengthens curing "
            f"({profile.said_by('set_beyond_h')})."
        )
        late_h = round(set_h - profile.set_beyond_h, 1)
        more = f"{late_h:g} h added" if late_h > 0 else "nothing to add"
        proof = f"set {show_hours(set_h)} after batching; {more}"
        yield Row(cells=(asked, proof, BY_CLOCK, MET))


def _cover_in_time(life: Life, words: Words) -> Iterator[Row]:
    """Hold when the cover was on against when it might be."""
    profile, surface = life.now.rule(life.surface_id)[0], life.surface
    if surface.covered_at is not None:
        return
    laying = [
        one
        for one in life.seen
        if not one.is_failed
        and (task := life.tasks.get(one.visit.task_id)) is not None
        and (task.covers or task.facts.lays)
        and not task.facts.changes
    ]
    is_film = surface.cover.form == "film"
    within_min = profile.cover_within_min
    if is_film:
        within_min = (
            profile.compound_within_min
            if surface.face == "top"
            else profile.compound_after_forms_min
        )
    ready_at, ready_from = _ready(life)
    what = "Compound" if is_film else "Cover"
    since = "the sheen going" if is_film else "the surface taking it"
    since = since if surface.face == "top" else "the forms coming off"
    field = "compound_within_min" if is_film else "cover_within_min"
    limit = f"{what} on within {duration(within_min)} of {since}"
    asked = f"{limit} ({profile.said_by(field)})."
    if not laying:
        cells = (asked, f"{UNKNOWN}: no laying by then", ready_from, UNKNOWN)
        yield Row(cells=cells, tone="open")
        return
    first = min(laying, key=lambda one: one.visit.starts_at)
    started_at = first.visit.starts_at
    proof = f"ready {words.when(ready_at)} {ready_from}; begun {words.when(started_at)}"
    in_time = started_at <= ready_at + timedelta(minutes=within_min)
    if first.entry is None:
        yield Row(cells=(asked, proof, NOBODY, UNKNOWN), tone="open")
        return
    state = MET if in_time else NOT_MET
    source = words.written(first.entry)
    yield Row(cells=(asked, proof, source, state), tone="plain" if in_time else "bad")


def _ready(life: Life) -> tuple[datetime, str]:
    surface, events = life.surface, life.now.events(life.surface_id)
    if surface.face != "top":
        entry = life.last(life.surface_id, "struck")
        return surface.exposed_at, "as written" if entry else "as planned"
    if surface.at_once:
        return surface.exposed_at, "at once, for the frost"
    entry = life.last(life.surface_id, "takes_cover")
    window = {
        "sheen_gone": events.sheen_gone,
        "takes_cover": events.takes_cover,
        "bears_people": events.bears_people,
    }[surface.cover_from]
    at = max(window.expected_at, surface.exposed_at)
    return at, "as written" if entry else BY_CLOCK


def _way(life: Life) -> Iterator[Row]:
    profile, surface = life.now.rule(life.surface_id)[0], life.surface
    if not profile.allowed_families and not profile.banned_families:
        return
    field = "allowed_families" if profile.allowed_families else "banned_families"
    allowed = profile.allows(surface.rule_kind)
    asked = f"Cured in a way that the rule allows ({profile.said_by(field)})."
    yield Row(
        cells=(
            asked, surface.cover.title, "as planned", MET if allowed else NOT_MET
        ),
        tone="plain" if allowed else "bad",
    )  # fmt: skip


def _looks(life: Life) -> Iterator[Row]:
    """Count the looks that were planned by the rule, and those written."""
    profile = life.now.rule(life.surface_id)[0]
    looks = [
        one
        for one in life.seen
        if (task := life.tasks.get(one.visit.task_id)) is not None
        and task.facts.inspects
    ]
    if not looks or not profile.inspections_per_shift:
        return
    done = sum(1 for one in looks if one.entry is not None and not one.is_failed)
    failed = sum(1 for one in looks if one.is_failed)
    count = profile.inspections_per_shift
    asked = (
        f"Looked at {count} time{'s'[: count != 1]} a shift "
        f"({profile.said_by('inspections_per_shift')}); whoever wets it looks too."
    )
    proof = f"{done} written of {counted(len(looks), 'planned look')}"
    if failed:
        proof += f", {failed} NOT done"
    state = NOT_MET if failed else MET if done == len(looks) else UNKNOWN
    tone: Tone = "bad" if failed else "plain" if done == len(looks) else "open"
    source = "written" if done == len(looks) else "as written"
    yield Row(cells=(asked, proof, source, state), tone=tone)
