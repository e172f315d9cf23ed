"""An invented site in a frost: a young slab, a raft, a wall out of its forms.

Mild until Tuesday noon, then -7 °C in the nights and hardly more by day. The slab S1
is placed into that; the raft R1 is warm inside by then; S2 is placed on Friday, when it
freezes before it sets.
"""

from datetime import datetime, timedelta
from math import pi, sin
from pathlib import Path

from tests.models.files.folders import SITE, changed, write_site

_FROM = datetime(2027, 1, 9)  # noqa: DTZ001 - the site's own clock
_FROST_FROM = datetime(2027, 1, 12, 12)  # noqa: DTZ001
_POURS = """\
pour,zone,element,placing_start,placing_end,area,thickness,formed_area,strike_at,mix,method,formed_method,risk
R1,A,footing,2027-01-11 07:30,2027-01-11 12:00,160,1500,,,C30,sheet_over_burlap,,2
S1,A,slab_on_ground,2027-01-12 08:00,2027-01-12 11:00,150,200,,,C30,sheet_over_burlap,,2
W1,B,wall,2027-01-11 08:00,2027-01-11 10:00,6,400,60,2027-01-13 08:00,C30,sheet_over_burlap,sheet_over_burlap,1
S2,B,slab_on_ground,2027-01-15 08:00,2027-01-15 10:00,90,150,,,C30,sheet_over_burlap,,2
"""  # noqa: E501 - rows of a table


def _weather() -> str:
    lines = [
        "# wind height: 2 m",
        "time,air_temperature,humidity,wind,solar,cloud,rain",
    ]
    for index in range(13 * 24):
        at = _FROM + timedelta(hours=index)
        day = sin(2 * pi * (at.hour - 9) / 24)
        air_c = (-5 if at >= _FROST_FROM else 6) + 2.5 * day
        sun = 150 if 10 <= at.hour <= 14 else 0
        lines.append(f"{at:%Y-%m-%dT%H:%M},{air_c:.1f},75,4,{sun},30,0")
    return "\n".join(lines) + "\n"


def write_cold_site(path: Path, units: str = "si") -> Path:
    """Write the folder."""
    site = changed(
        SITE,
        ('week_start = "2027-05-03 06:00"', 'week_start = "2027-01-11 06:00"'),
        ('at = "2027-05-06 10:00"', 'at = "2027-01-14 10:00"'),
        ("days = 7\n", f'days = 7\nunits = "{units}"\n'),
    )
    files = {
        "site.toml": site, "pours.csv": _POURS, "weather.csv": _weather(),
        "readings.csv": None,
    }  # fmt: skip
    return write_site(path, files)
