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
    "change_cover": "CHANGE COVER",
    "build_bund": "BUND",
    "fill_pond": "FILL POND",
    "top_up": "TOP UP",
    "check_level": "CHECK LEVEL",
    "drain": "DRAIN",
    "wash": "WASH",
    "commission": "COMMISSION",
    "shut_off": "SHUT OFF",
    "keep_form_wet": "WET FORM",
    "ease_forms": "EASE FORMS",
    "read_temperature": "READ TEMP",
    "start_steam": "STEAM ON",
    "steam_watch": "STEAM WATCH",
    "end_steam": "STEAM OFF",
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
    "change_cover": (60, 0),
    "build_bund": (60,),
    "fill_pond": (30, 0),
    "top_up": (20, 0),
    "check_level": (15,),
    "drain": (60,),
    "wash": (15,),
    "commission": (60, 0),
    "shut_off": (15,),
    "keep_form_wet": (20,),
    "ease_forms": (30,),
    "read_temperature": (15,),
    "start_steam": (60, 0),
    "steam_watch": (15,),
    "end_steam": (30,),
}
#: At least so long before a visit at night: boots, lamp, walk.
NIGHT_ALARM_MIN = 30
