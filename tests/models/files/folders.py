"""A small complete site folder, written as people write one; all of it invented.

``write_site(path)`` is for any test that starts from files. The week is that of
Monday 3 May 2027, the weather reaches from two days before it to four days after.
"""

from collections.abc import Mapping
from datetime import datetime, timedelta
from math import pi, sin
from pathlib import Path

SITE = """\
# Heron Wharf: two slabs on the quay, a hall floor and a wall
[site]
name = "Heron Wharf"
timezone = "Europe/Berlin"
latitude = 52.0
longitude = 9.0
elevation = "60 m"
profile = "en13670_class3"
week_start = "2027-05-03 06:00"
days = 7
night_starts = "20:00"
night_ends = "06:00"

[[zone]]
id = "A"
name = "Quay slab"
x = 0
y = 0
water_points = ["tap", "tank"]

[[zone]]
id = "B"
name = "Pump hall"
level = "-1"
x = 120
y = "15 m"
water_points = ["tank"]

[[shift]]
id = "day"
days = ["mon", "tue", "wed", "thu", "fri"]
starts = "07:00"
ends = "17:00"
breaks = ["09:30-09:45", "12:00-12:30"]

[[shift]]
id = "night"
days = ["mon", "tue", "wed", "thu", "fri"]
starts = "22:00"
ends = "06:00"
breaks = ["02:00-02:30"]

[[shift]]
id = "weekend"
days = ["sat", "sun"]
starts = "07:00"
ends = "15:00"
on_call = true

[[crew]]
id = "red"
name = "Red gang"
people = 4
skills = ["labourer", "fogger", "sprayer"]
home_zone = "A"
shifts = ["day", "weekend"]
overtime_max = "1 h"

[[crew]]
id = "owl"
name = "Night pair"
people = 2
home_zone = "A"
shifts = ["night"]
overtime_max = 0

[[water]]
id = "tap"
name = "Tap at gate"
kind = "mains"
flow = "40 L/min"
daily_allotment = "12 m3"
temperature = 11

[[water.competing]]
starts = "06:30"
ends = "07:30"
flow = 15

[[water]]
id = "tank"
name = "Hall tank"
kind = "tank"
flow = 30
capacity = 4000
level = 4000
refill = "2 L/min"

[[water.delivery]]
at = "2027-05-06 10:00"
litres = "2 m3"

[[cover]]
kind = "burlap_double"
stock = 900
held = 0.8

[[cover]]
kind = "sheet_over_burlap"
stock = "500 m2"

[[mix]]
id = "C30"
title = "C30/37, ordinary"
strength = 30
cement = 340

[rates]
"burlap_double.lay" = 40

[costs]
call_out = 350

[rules]
rest = "11 h"
"""

POURS = """\
pour,zone,element,placing_start,placing_end,area,thickness,formed_area,strike_at,mix,method,formed_method,risk,covered_at,wetted_at
Q1,A,slab_on_ground,2027-05-03T07:30,2027-05-03T11:30,420,250,,,C30,burlap_double,,2,,
Q2,A,slab_on_ground,2027-05-04 07:30,2027-05-04 11:00,300 m2,25 cm,,,C30,sheet_over_burlap,,2,,
H1,B,suspended_slab,2027-05-05 07:00,2027-05-05 10:30,180,300,,,C30,burlap_double,,3,,
W1,B,wall,2027-05-01 09:00,2027-05-01 12:00,6,400,90,2027-05-03 09:00,C30,burlap_double,burlap_double,1,2027-05-01 17:00,2027-05-02 18:00
"""  # noqa: E501 - rows of a table

READINGS = """\
surface,at,place,temperature
W1-top,2027-05-02 08:00,core,31.5
W1-faces,2027-05-03 10:00,surface,74 degF
"""

WEATHER_FROM = datetime(2027, 5, 1)  # noqa: DTZ001 - the site's own clock
WEATHER_HOURS = 13 * 24


def weather_csv(
    starts: datetime = WEATHER_FROM,
    hours: int = WEATHER_HOURS,
    header: str = "# wind height: 2 m",
) -> str:
    """Fine days by the site's clock, which is not put back or forward in them."""
    lines = [header, "time,air_temperature,humidity,wind,solar,cloud,rain"]
    for index in range(hours):
        at = starts + timedelta(hours=index)
        day = sin(2 * pi * (at.hour - 9) / 24)
        sun = max(0.0, sin(pi * (at.hour - 5) / 15)) if 5 <= at.hour <= 20 else 0.0
        lines.append(
            f"{at:%Y-%m-%dT%H:%M},{16 + 7 * day:.1f},{60 - 20 * day:.0f},"
            f"{3.5 + 1.5 * day:.1f},{750 * sun:.0f},20,0"
        )
    return "\n".join(lines) + "\n"


def write_site(path: Path, files: Mapping[str, str | bytes | None] = {}) -> Path:
    """Write the folder; ``files`` replaces some by other text, or by None leaves out.

    Returns the path, for a call in one line.
    """
    path.mkdir(parents=True, exist_ok=True)
    standard = {
        "site.toml": SITE,
        "pours.csv": POURS,
        "weather.csv": weather_csv(),
        "readings.csv": READINGS,
    }
    for name, content in {**standard, **files}.items():
        if content is None:
            continue
        data = content.encode() if isinstance(content, str) else content
        (path / name).parent.mkdir(exist_ok=True)
        (path / name).write_bytes(data)
    return path


def changed(text: str, *changes: tuple[str, str]) -> str:
    """Replace each old piece, which must be there once, by its new one."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text
