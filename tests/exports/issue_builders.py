"""The small roster as a second issue, after one in which some visits were others.

========================  =======================================================
visit, in issue 2         in issue 1
========================  =======================================================
P2-top/rewet/1 red 11:30  red 11:10: moved
P1-top/fog red 12:30      the same, of three people
P3-wall/mix red 14:20     of the night pair at that time: given
P1-top/rewet/1 owl 23:50  not there: added
-                         red, a re-wet of P1 on Tue 13:00: dropped
========================  =======================================================

All others are kept. Issue 1 came out on Monday at 06:00, issue 2 at 09:00.
"""

from datetime import timedelta
from itertools import count
from uuid import UUID

from exports.entries import entries
from exports.handed import Handed
from exports.told import told_visits
from models.records import ToldVisit
from scheduler.identity.changes import change_list
from scheduler.identity.follow import follow, shown_taken_back
from tests.builders import MONDAY
from tests.exports.exports_builders import (
    horizon,
    small_report,
    small_roster,
    small_site,
)

SECOND_AT = MONDAY + timedelta(hours=3)


def told_now() -> tuple[ToldVisit, ...]:
    site, roster = small_site(), small_roster()
    return told_visits(roster, entries(site, roster, small_report()))


def told_before() -> tuple[ToldVisit, ...]:
    earlier = timedelta(minutes=-20)
    visits = []
    for visit in told_now():
        told = visit.told
        if visit.visit_id == "P2-top/rewet/1":
            told = told.model_copy(
                update={
                    "starts_at": told.starts_at + earlier,
                    "ends_at": told.ends_at + earlier,
                }
            )
        elif visit.visit_id == "P1-top/fog":
            told = told.model_copy(update={"people": 3})
        elif visit.visit_id == "P3-wall/mix":
            told = told.model_copy(update={"crew_id": "owl"})
        elif visit.visit_id == "P1-top/rewet/1":
            day = timedelta(hours=13, minutes=10)
            told = told.model_copy(
                update={
                    "starts_at": told.starts_at + day,
                    "ends_at": told.ends_at + day,
                    "crew_id": "red",
                }
            )
        visits.append(visit.model_copy(update={"told": told}))
    return tuple(visits)


def second_issue() -> Handed:
    numbers = count(1)

    def new_id() -> str:
        return str(UUID(int=next(numbers)))

    first = follow((), told_before(), 1, MONDAY, horizon(), new_id)
    second = follow(first, told_now(), 2, SECOND_AT, horizon(), new_id)
    return Handed(
        2,
        SECOND_AT,
        second,
        shown_taken_back(second, SECOND_AT),
        change_list(first, second, since=1),
    )
