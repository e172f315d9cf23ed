"""Kinds of work: the verb that stands first and when a phone speaks up."""

from models.records import TaskKind

VERBS: dict[TaskKind, str] = {
    "hold_point": "HOLD POINT",
    "fog": "FOG",
    "lay_cover": "COVER",
    "soak": "SOAK",
    "rewet": "REWET",
    "inspect": "INSPECT",
    "loosen": "LOOSEN",
    "remove_cover": "UNCOVER",
    "mix_compound": "MIX",
    "spray_compound": "SPRAY",
    "check_coverage": "CHECK SPRAY",
}

#: Minutes before the start at which a phone speaks up; common practice, no source:
#: longer where things are fetched or soaked first, twice where lateness dries concrete.
ALARMS_MIN: dict[TaskKind, tuple[int, ...]] = {
    "hold_point": (15,),
    "fog": (10, 0),
    "lay_cover": (20, 0),
    "soak": (60,),
    "rewet": (20, 0),
    "inspect": (15,),
    "loosen": (60,),
    "remove_cover": (60,),
    "mix_compound": (30,),
    "spray_compound": (30, 0),
    "check_coverage": (15,),
}
#: At least so long before a visit at night: boots, lamp, walk.
NIGHT_ALARM_MIN = 30
