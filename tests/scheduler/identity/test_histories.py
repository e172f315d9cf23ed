"""Identities over random histories of a site: what must hold whatever happens.

Each history is a site whose visits are moved, dropped, added, renumbered, given to
other crews, joined to rounds and finished, issue after issue. The checks know visits by
what people were told of them, never by how they were matched.
"""

from collections import Counter
from datetime import timedelta
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from models.records import Horizon, Told, ToldVisit, VisitIdentity
from scheduler.identity.alignment import FURTHEST_ONCE_MIN, FURTHEST_RECURRING_MIN
from scheduler.identity.changes import change_list
from scheduler.identity.follow import SHOWN_TAKEN_BACK, follow, shown_taken_back
from tests.builders import MONDAY
from tests.scheduler.identity.identity_builders import at, ids, told

SURFACES, CREWS = ("P1-top", "P2-top", "P3-wall"), ("red", "blue", "owl")
DUTIES = {"rewet": True, "inspect": True, "lay": False}
HOURS = 16


class Site:
    """A site at work: what is planned on it, as told, by surface and duty."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)
        self.now_min = 0
        self.plan: set[tuple[str, str, Told]] = set()
        for _ in range(self.chance.randint(3, 25)):
            self.add()

    def add(self) -> None:
        start_min = self.now_min + 10 * self.chance.randint(1, 400)
        self.put(
            self.chance.choice(SURFACES),
            self.chance.choice(list(DUTIES)),
            told(start_min, self.chance.choice(CREWS)),
        )

    def put(self, surface_id: str, duty: str, one: Told) -> None:
        """Plan it, unless the crew does the very same already."""
        if (surface_id, duty, one.starts_at, one.crew_id) not in {
            (s, d, t.starts_at, t.crew_id) for s, d, t in self.plan
        }:
            self.plan.add((surface_id, duty, one))

    def change(self) -> None:
        """Let time pass, and change some of what still lies ahead."""
        self.now_min += 60 * self.chance.randint(0, HOURS)
        ahead = sorted(
            (item for item in self.plan if item[2].starts_at >= at(self.now_min)),
            key=str,
        )
        for surface_id, duty, one in ahead:
            what = self.chance.random()
            if what > 0.4:
                continue
            self.plan.remove((surface_id, duty, one))
            if what < 0.1:
                continue  # dropped
            later = timedelta(minutes=10 * self.chance.randint(-12, 40))
            crew_id = self.chance.choice(CREWS) if what < 0.25 else one.crew_id
            people = self.chance.choice([one.people, 1, 2, 3])
            moved = {
                name: max(getattr(one, name) + later, at(self.now_min + 10))
                for name in ("starts_at", "ends_at", "start_by_at")
            }
            told_anew = one.model_copy(
                update=moved | {"crew_id": crew_id, "people": people}
            )
            self.put(surface_id, duty, told_anew)
        for _ in range(self.chance.randint(0, 4)):
            self.add()

    def visits(self) -> list[ToldVisit]:
        """The plan as handed out: numbered anew, some in the round before."""
        found: list[ToldVisit] = []
        count: Counter[str] = Counter()
        for surface_id, duty, one in sorted(
            self.plan, key=lambda i: (i[2].starts_at, str(i))
        ):
            count[f"{surface_id}/{duty}"] += 1
            follows = bool(found) and (
                found[-1].told.crew_id == one.crew_id
                and one.starts_at - found[-1].told.starts_at < timedelta(minutes=40)
                and found[-1].leads
            )
            if follows:
                leader = found[-1]
                found[-1] = leader.model_copy(
                    update={"followers": (*leader.followers, one)}
                )
            found.append(
                ToldVisit(
                    visit_id=f"{surface_id}/{duty}/{count[f'{surface_id}/{duty}']}",
                    surface_id=surface_id, duty=duty, recurs=DUTIES[duty], told=one,
                    leads=not follows, rest_hash=self.chance.choice("ab"),
                )
            )  # fmt: skip
        return found


def pins(
    earlier: tuple[VisitIdentity, ...], visits: list[ToldVisit], now_min: int
) -> dict[str, str]:
    """What began before stands as it was: found by all that was told of it."""
    known = {
        (one.surface_id, one.duty, one.told): one.id
        for one in earlier
        if one.state != "cancelled" and one.told.starts_at < at(now_min)
    }
    keys = {v.visit_id: (v.surface_id, v.duty, v.told) for v in visits}
    return {visit_id: known[key] for visit_id, key in keys.items() if key in known}


@given(st.integers(0, 2**32 - 1))
def test_whatever_happens(seed: int) -> None:
    site, new_id = Site(seed), ids()
    chance = Random(seed + 1)
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=30))
    earlier: tuple[VisitIdentity, ...] = ()
    entry_of: dict[str, object] = {}
    for number in range(1, chance.randint(3, 9)):
        visits = site.visits()
        begun = [one.id for one in earlier if one.told.starts_at < at(site.now_min)]
        done = {identity_id for identity_id in begun if chance.random() < 0.8}
        pinned = pins(earlier, visits, site.now_min)
        now = follow(
            earlier, visits, number, at(site.now_min), horizon, new_id, done, pinned
        )
        before = {one.id: one for one in earlier}
        of_visit = {one.visit_id: one for one in now if one.visit_id}

        # Each visit is somebody, and nobody is two.
        assert sorted(of_visit) == sorted(v.visit_id for v in visits)
        assert len({one.id for one in now}) == len(now)

        # Unchanged visits that lie ahead keep their ids.
        open_before = {
            (one.surface_id, one.duty, one.told): one.id
            for one in earlier
            if one.state == "planned" and one.id not in done
        }
        for each in visits:
            key = (each.surface_id, each.duty, each.told)
            if key in open_before:
                assert of_visit[each.visit_id].id == open_before[key]

        for each in visits:
            one = of_visit[each.visit_id]
            if old := before.get(one.id):
                # No old id names other work.
                assert (old.surface_id, old.duty) == (each.surface_id, each.duty)
                apart = abs(each.told.starts_at - old.told.starts_at)
                limit = FURTHEST_RECURRING_MIN if each.recurs else FURTHEST_ONCE_MIN
                assert apart <= timedelta(minutes=limit)
                # Finished and cancelled work gives its id to nobody.
                assert old.state != "cancelled"
                if old.state == "done" or one.id in done:
                    assert pinned.get(each.visit_id) == one.id
            # Told anew if and only if SEQUENCE rises by one.
            entry = (each.leads, each.told, each.followers)
            rise = one.sequence - before[one.id].sequence if one.id in before else 0
            known_as = entry_of.get(one.id, entry)
            assert rise == (known_as != entry)
            entry_of[one.id] = entry

        for one in now:
            if (old := before.get(one.id)) is None:
                continue
            assert one.sequence >= old.sequence
            assert one.created_at == old.created_at
            if old.state != "planned":
                assert one.state == old.state
            gone = old.state == "planned" and one.state == "cancelled"
            if gone:
                assert one.sequence == old.sequence + 1
                assert one.visit_id is None
            # What a crew's calendar had and has no more, it shows as cancelled.
            if old.leads and old.state == "planned" and one.id not in done:
                still = one.leads and one.told.crew_id == old.told.crew_id
                back = [e for e in one.taken_back if e.told.crew_id == old.told.crew_id]
                assert bool(back) != still
                assert all(entry.sequence > old.sequence for entry in back)

        # Cancelled for seven days, then no more.
        for day in range(9):
            then = at(site.now_min) + timedelta(days=day)
            shown = {one.id for one, _ in shown_taken_back(now, then)}
            assert shown == {
                one.id
                for one in now
                if any(then - entry.at < SHOWN_TAKEN_BACK for entry in one.taken_back)
            }

        changes = {c.identity_id: c for c in change_list(earlier, now, 1).changes}
        for one in now:
            old = before.get(one.id)
            stays = one.state == "planned" and one.visit_id is not None
            if old is not None and old.state == "planned" and stays:
                change = changes[one.id]
                assert (change.was, change.now) == (old.told, one.told)
                assert (change.kind == "given") == (
                    old.told.crew_id != one.told.crew_id
                )
            elif old is None:
                assert changes[one.id].kind == "added"
            elif old.state == "planned" and one.state == "cancelled":
                assert changes[one.id].kind == "dropped"
            else:
                assert one.id not in changes
        earlier = now
        site.change()


@given(st.integers(0, 2**32 - 1))
def test_the_same_roster_again_changes_nothing_but_its_number(seed: int) -> None:
    visits, new_id = Site(seed).visits(), ids()
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=30))
    once = follow((), visits, 1, MONDAY, horizon, new_id)
    again = follow(once, visits[::-1], 2, at(60), horizon, new_id)
    assert again == tuple(one.model_copy(update={"issue_number": 2}) for one in once)
