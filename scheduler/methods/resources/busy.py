"""When gangs and parties are taken by other work, and by what."""

from collections import defaultdict
from collections.abc import Mapping

from models.records import BusyStretch, HydrationHistory, SiteInput


def busy_stretches(
    site_input: SiteInput, hydration: HydrationHistory
) -> Mapping[str, tuple[BusyStretch, ...]]:
    """Give each gang's and party's other work by its id, in order of time.

    The gang of a pour is on it from the start of placing until its top takes a cover:
    until then it is being finished, and nobody who trowels can leave it. A party takes
    part in what its gang does, and a gang lacks what a party does.
    """
    minute, events = site_input.horizon.minute, dict[str, int]()
    for surface_id, own in zip(hydration.surface_ids, hydration.events, strict=True):
        events[surface_id] = minute(own.takes_cover.expected_at)
    found: dict[str, list[BusyStretch]] = defaultdict(list)
    for team in site_input.site.teams:
        for busy in team.busy:
            found[team.id].append(
                BusyStretch(
                    from_min=minute(busy.from_at),
                    until_min=minute(busy.until_at),
                    doing=f"busy ({busy.why})" if busy.why else "busy",
                )
            )
        for pour in site_input.pours:
            top = f"{pour.id}-top"
            if pour.crew_id == team.gang_id and top in events:
                over_min = max(minute(pour.placing_ends_at), events[top])
                if pour.covered_at is not None:
                    over_min = minute(pour.covered_at)
                found[team.id].append(
                    BusyStretch(
                        from_min=minute(pour.placing_starts_at),
                        until_min=over_min,
                        doing=f"placing and finishing {pour.id}",
                    )
                )
    return {
        name: tuple(sorted(own, key=lambda one: (one.from_min, one.doing)))
        for name, own in found.items()
    }
