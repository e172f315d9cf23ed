"""Changes known beforehand. Minute 0 is Monday 06:00 local; nobody works weekends."""

from datetime import time, timedelta

from models.records import Pour, ShiftPattern, SiteInput, Surface
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from tests.builders import MONDAY, pour, site_input
from tests.scheduler.methods.methods_builders import drying, frosty, hydration

#: The day shift of that day ends at 17:00 local, the change lies an hour before.
FRIDAY_16 = MONDAY + timedelta(days=4, hours=10)
TUESDAY_16 = MONDAY + timedelta(days=1, hours=10)


def covered(given: SiteInput, method: str = "sheet_over_burlap") -> SiteInput:
    rules = given.site.rules.model_copy(update={"weekend_cover": method})
    where = given.site.model_copy(update={"rules": rules})
    return given.model_copy(update={"site": where})


def only(given: SiteInput) -> Surface:
    (surface,) = surfaces_of(given)
    return surface


def test_an_age_is_counted_from_the_end_of_placing() -> None:
    (stage,) = only(
        site_input(pour(then_method="compound_white", then_after="3 d"))
    ).later
    # An hour later, so that the window around it begins at the age.
    assert stage.starts_at == MONDAY + timedelta(hours=5 + 72 + 1)
    assert stage.reason == "3 d after placing"


def then(after: str) -> Pour:
    return pour(then_method="insulated_blankets", then_after=after)


def test_the_weekend_begins_before_the_first_night_without_a_shift() -> None:
    """Nights are worked until Saturday 06:00, so that night is Saturday's."""
    (stage,) = only(site_input(then("weekend"))).later
    assert stage.reason == "before the weekend"
    # Nobody is there on Saturday: the change waits for its evening, an hour ahead.
    assert stage.starts_at == MONDAY + timedelta(days=5, hours=14 - 1)


def days_only(given: SiteInput) -> SiteInput:
    """No night shift: Friday's night is the first that nobody works."""
    crews = tuple(c for c in given.site.crews if c.id != "owl")
    where = given.site.model_copy(update={"crews": crews})
    return given.model_copy(update={"site": where})


def test_the_change_is_within_the_last_shift_before_that_night() -> None:
    (stage,) = only(days_only(site_input(then("weekend")))).later
    assert stage.starts_at == FRIDAY_16


def test_the_sites_weekend_cover_is_for_open_wet_covers() -> None:
    (stage,) = only(days_only(covered(site_input(pour())))).later
    assert (stage.method, stage.starts_at) == ("sheet_over_burlap", FRIDAY_16)
    for lasting in ("plastic_sheet", "compound_white", "sprinklers"):
        assert only(days_only(covered(site_input(pour(method=lasting))))).later == ()


def test_the_weekend_cover_goes_between_what_is_planned_before_and_after() -> None:
    """Burlap from Friday noon, compound three days after: sheet over the weekend."""
    friday = pour(
        placing_starts_at=MONDAY + timedelta(days=4),
        placing_ends_at=MONDAY + timedelta(days=4, hours=2),
        then_method="compound_white",
        then_after="60 h",
    )
    stages = only(days_only(covered(site_input(friday)))).later
    assert [s.method for s in stages] == ["sheet_over_burlap", "compound_white"]
    soon = friday.model_copy(update={"then_after": "12 h"})
    stages = only(days_only(covered(site_input(soon)))).later
    assert [s.method for s in stages] == ["compound_white"]


def test_a_surface_placed_after_the_change_has_none() -> None:
    sunday = pour(
        placing_starts_at=MONDAY + timedelta(days=6, hours=20),
        placing_ends_at=MONDAY + timedelta(days=6, hours=23),
    )
    assert only(days_only(covered(site_input(sunday)))).later == ()


def test_frost_is_met_before_dusk_with_its_reason() -> None:
    """Hour 46 is Wednesday 04:00 local; the night before it begins on Tuesday 20:00."""
    (stage,) = only(frosty(site_input(then("frost")), 46)).later
    assert stage.starts_at == TUESDAY_16
    assert stage.reason == "frost before the night, -2 °C forecast Wed 04:00"


def test_frost_is_said_in_the_units_of_the_site() -> None:
    """-2 °C is 28.4 °F."""
    given = frosty(site_input(then("frost")), 46)
    where = given.site.model_copy(update={"units": "us"})
    (stage,) = only(given.model_copy(update={"site": where})).later
    assert stage.reason == "frost before the night, 28 °F forecast Wed 04:00"


def test_no_frost_no_change() -> None:
    assert only(site_input(then("frost"))).later == ()
    before_placing = frosty(site_input(then("frost")), 0)
    assert only(before_placing).later == ()


def test_the_frost_line_of_the_site_counts() -> None:
    """2 °C at the screen by default: wet covers under a clear sky freeze sooner."""
    given = frosty(site_input(then("frost")), 46, air_c=1.9)
    assert len(only(given).later) == 1
    assert only(frosty(site_input(then("frost")), 46, air_c=2)).later == ()


def test_a_pond_keeps_its_own_stage_before_the_named_one() -> None:
    pond = pour(method="ponding", then_method="sheet_over_burlap", then_after="3 d")
    kinds = [stage.cover.kind for stage in only(site_input(pond)).later]
    assert kinds == ["pond", "sheet_over_burlap"]
    too_soon = pond.model_copy(update={"then_after": "6 h"})
    kinds = [stage.cover.kind for stage in only(site_input(too_soon)).later]
    assert kinds == ["sheet_over_burlap"]


def test_faces_keep_their_own_method() -> None:
    wall = pour(
        element="wall", formed_area_m2=40, strike_at=MONDAY + timedelta(hours=49),
        formed_method="plastic_sheet", then_method="burlap_double", then_after="1 d",
    )  # fmt: skip
    top, faces = surfaces_of(site_input(wall))
    assert len(top.later) == 1
    assert faces.later == ()


def said(given: SiteInput) -> list[str]:
    surfaces, grid = surfaces_of(given), planning_grid(given)
    found = warnings_of(
        given, surfaces, hydration(surfaces, grid, 160), drying(surfaces, grid)
    )
    return [f.words for f in found if "unattended" in f.words]


def test_open_covers_over_a_weekend_want_a_name_or_a_lasting_cover() -> None:
    """Curing ends on Monday at 03:00, 160 h after placing."""
    given = days_only(site_input(pour()))
    assert said(given) == [
        "P1 Quay slab, top: burlap unattended Fri 17:00 to Mon 03:00; assign somebody "
        "or set weekend_cover"
    ]
    assert said(covered(given)) == []


def test_a_weekend_shift_is_a_name() -> None:
    given = days_only(site_input(pour()))
    shifts = (
        *given.site.shifts,
        *(
            ShiftPattern(
                id=f"w{i}", days=("sat", "sun"), starts=time(h), ends=time(h + 8)
            )
            for i, h in enumerate((6, 14))
        ),
    )
    crews = tuple(
        c.model_copy(update={"shifts": (*c.shifts, "w0", "w1")})
        for c in given.site.crews
    )
    where = given.site.model_copy(update={"shifts": shifts, "crews": crews})
    # 17:00 to 06:00 is 13 h without anybody, so Friday's night still has to be named.
    assert len(said(given.model_copy(update={"site": where}))) == 1
