"""From ledger entries to the site as it is: pours, weather, readings, water, covers.

What was written down stands in the place of what was planned; nothing of the site
folder is changed. Of several entries of one kind about one thing the last counts.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta

from models.records import (
    PARTS,
    Busy,
    ConcreteReading,
    CoversTaken,
    Crew,
    CrewOut,
    Entry,
    LossFactor,
    Outage,
    Pour,
    Reading,
    Reported,
    SiteInput,
    Slipped,
    WaterOut,
    WaterPoint,
    WeatherHour,
    WeatherObserved,
)

#: A cover that is away keeps nothing wet: whatever it held is gone within minutes, of
#: one that loses a spoonful a day too.
_AWAY_FACTOR = 1e5
_STRUCK = ((PARTS["formed"], "strike_at"), (PARTS["edges"], "edge_strike_at"))
_MINUTE, _HOUR = timedelta(minutes=1), timedelta(hours=1)


def taken_up(site_input: SiteInput, entries: Sequence[Entry]) -> SiteInput:
    """Put what happened in the place of what the folder planned.

    Parameters
    ----------
    entries : sequence of Entry
        Those that stand, in order of number.

    Returns
    -------
    SiteInput
        Without the pours that were cancelled, but for the last one where all were.
    """
    pours = tuple(as_placed(site_input.pours, entries)) or site_input.pours[-1:]
    site = site_input.site
    points = tuple(_point(point, entries) for point in site.water_points)
    week_ends_at = site_input.horizon.ends_at
    crews = tuple(_crew(crew, entries, week_ends_at) for crew in site.crews)
    hours = tuple(_hours(site_input.weather.hours, entries))
    return site_input.model_copy(
        update={
            "pours": pours,
            "site": site.model_copy(update={"water_points": points, "crews": crews}),
            "weather": site_input.weather.model_copy(update={"hours": hours}),
            "readings": (*site_input.readings, *_readings(entries)),
            "reported": tuple(_reported(site_input.reported, entries)),
        }
    )


def as_placed(pours: Iterable[Pour], entries: Sequence[Entry]) -> Iterator[Pour]:
    """Give pours as they were placed and struck, without those that were cancelled."""
    about: defaultdict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        about[entry.about].append(entry)
    for pour in pours:
        if any(entry.kind == "cancelled" for entry in about[pour.id]):
            continue
        for entry in about[pour.id]:
            pour = _placed(pour, entry)
        struck = {
            field: entry.happened_at
            for part, field in _STRUCK
            for entry in about[f"{pour.id}-{part}"]
            if entry.kind == "struck"
        }
        yield pour.model_copy(update=struck)


def _placed(pour: Pour, entry: Entry) -> Pour:
    """Move a pour to when it starts or started, its end with it."""
    starts_at, ends_at = pour.placing_starts_at, pour.placing_ends_at
    if isinstance(entry.values, Slipped):
        starts_at = entry.values.starts_at
        ends_at += starts_at - pour.placing_starts_at
    elif entry.kind == "placing_started":
        starts_at = entry.happened_at
        ends_at += starts_at - pour.placing_starts_at
    elif entry.kind == "placing_finished":
        ends_at = max(entry.happened_at, starts_at + _MINUTE)
    # Forms come off on the day that was planned, unless the concrete is younger then.
    stripped = {
        field: ends_at + (at - pour.placing_ends_at)
        for field in ("strike_at", "edge_strike_at")
        if (at := getattr(pour, field)) is not None and at <= ends_at
    }
    times = {"placing_starts_at": starts_at, "placing_ends_at": ends_at}
    return pour.model_copy(update=times | stripped)


def _point(point: WaterPoint, entries: Iterable[Entry]) -> WaterPoint:
    """Close a water point while nothing flows; what was to arrive then comes after."""
    for entry in entries:
        if entry.about != point.id or not isinstance(entry.values, WaterOut):
            continue
        out = Outage(starts_at=entry.values.starts_at, ends_at=entry.values.ends_at)
        late = tuple(
            delivery
            if not out.starts_at <= delivery.at or out.is_over(delivery.at)
            else delivery.model_copy(update={"at": out.ends_at})
            for delivery in point.deliveries
            if out.ends_at is not None or delivery.at < out.starts_at
        )
        outages = (*point.outages, out)
        point = point.model_copy(update={"deliveries": late, "outages": outages})
    return point


def _crew(crew: Crew, entries: Iterable[Entry], week_ends_at: datetime) -> Crew:
    """Take people who are not there out of a gang for as long.

    Of a gang in parties so many parties are out that nobody is counted on who is not
    there; one that stays together is out as a whole.
    """
    for entry in entries:
        values = entry.values
        if not isinstance(values, CrewOut):
            continue
        out = Busy(
            from_at=values.starts_at,
            until_at=values.ends_at or max(week_ends_at, values.starts_at + _MINUTE),
            why="not there",
        )
        parties = crew.parties
        if entry.about == crew.id and values.people is not None and parties:
            missing, gone = values.people, set[str]()
            for party in reversed(parties):
                if missing > 0:
                    gone.add(party.id)
                    missing -= party.people
        elif entry.about == crew.id:
            crew = crew.model_copy(update={"busy": (*crew.busy, out)})
            continue
        else:
            gone = {entry.about}
        crew = crew.model_copy(
            update={
                "parties": tuple(
                    party.model_copy(update={"busy": (*party.busy, out)})
                    if party.id in gone
                    else party
                    for party in parties
                )
            }
        )
    return crew


def _hours(
    hours: Iterable[WeatherHour], entries: Iterable[Entry]
) -> Iterator[WeatherHour]:
    """Put what was measured in the place of the forecast, value by value."""
    measured: dict[datetime, dict[str, float]] = {}
    for entry in entries:
        if isinstance(entry.values, WeatherObserved):
            values = entry.values.model_dump(exclude={"kind"}, exclude_none=True)
            measured.setdefault(entry.happened_at, {}).update(values)
    for hour in hours:
        known: dict[str, float] = {}
        for at, values in measured.items():
            if hour.at <= at < hour.at + _HOUR:
                known |= values
        yield hour.model_copy(update=known) if known else hour


def _readings(entries: Iterable[Entry]) -> Iterator[Reading]:
    for entry in entries:
        if isinstance(entry.values, ConcreteReading):
            yield Reading(
                surface_id=entry.about,
                at=entry.happened_at,
                place=entry.values.place,
                temperature_c=entry.values.temperature_c,
            )


def _reported(
    known: Iterable[Reported], entries: Iterable[Entry]
) -> Iterator[Reported]:
    """Add what was seen of surfaces: when they took a cover, and when it was away."""
    before = {one.surface_id: one for one in known}
    took: dict[str, datetime] = {}
    away: defaultdict[str, list[LossFactor]] = defaultdict(list)
    for entry in entries:
        if entry.kind == "takes_cover":
            took[entry.about] = entry.happened_at
        elif isinstance(entry.values, CoversTaken):
            back_at = entry.values.back_at
            away[entry.about].append(
                LossFactor(
                    starts_at=entry.happened_at, ends_at=back_at, factor=_AWAY_FACTOR
                )
            )
    for surface_id in sorted(before.keys() | took.keys() | away.keys()):
        seen = {
            "took_cover_at": took.get(surface_id),
            "loss_factors": tuple(away[surface_id]),
        }
        one = before.get(surface_id, Reported(surface_id=surface_id))
        yield one.model_copy(update=seen)
