"""Walking times between the zones of a site, with tools in hand."""

from math import ceil, hypot

from models.records import Rules, Site, Zone
from models.records.site import STOREY_M


def travel_min(site: Site) -> tuple[tuple[int, ...], ...]:
    """Minutes from each zone (row) to each (column), in the site's order."""
    return tuple(
        tuple(_minutes(here, there, site.rules) for there in site.zones)
        for here in site.zones
    )


def walks_min(site: Site) -> dict[tuple[str, str], int]:
    """Minutes from each zone to each by their ids."""
    return {
        (here.id, there.id): _minutes(here, there, site.rules)
        for here in site.zones
        for there in site.zones
    }


def _minutes(here: Zone, there: Zone, rules: Rules) -> int:
    """Walk the straight line, and climb from level to level."""
    if here.id == there.id:
        return rules.move_in_zone_min
    metres = hypot(here.x_m - there.x_m, here.y_m - there.y_m)
    # A walk of exactly 4 minutes must not become 5 by the last bit of a float.
    walk_min = ceil(round(metres / rules.walking_speed_m_s / 60, 6))
    levels = levels_between(here, there)
    climb_min = rules.level_change_min + rules.level_more_min * (levels - 1)
    return max(rules.move_in_zone_min, walk_min + (climb_min if levels else 0))


def levels_between(here: Zone, there: Zone) -> int:
    """Levels to climb, a storey each; one where words do not say how high it is."""
    if here.level == there.level:
        return 0
    if here.level_m is None or there.level_m is None:
        return 1
    return ceil(round(abs(here.level_m - there.level_m) / STOREY_M, 6))
