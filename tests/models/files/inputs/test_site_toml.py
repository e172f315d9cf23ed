"""``site.toml``: each fault gives one problem, with its line."""

from contextlib import suppress
from datetime import date, time
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.files.site_folder import read_site
from tests.models.files.folders import SITE, changed, write_site
from tests.models.files.problem_lines import lines, only


def test_units_and_defaults_of_the_sample(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path)).site
    assert site.elevation_m == 60
    assert site.zones[1].y_m == 15
    assert site.crews[0].overtime_max_min == 60
    assert site.crews[1].skills == ("labourer",)
    assert site.water_points[0].daily_allotment_l == 12_000
    assert site.water_points[1].deliveries[0].litres_l == 2000
    assert site.shifts[1].breaks[0].starts.hour == 2
    assert site.rates == {"burlap_double.lay": 40}
    assert (site.costs.call_out, site.costs.missed_work) == (350, 600)


# old piece, new piece, and what is said after "site.toml:LINE, "
FAULTS = [
    ("latitude = 52.0", "latitude = 152", "[site] latitude: found 152; expected a "
     "number "
     "from -90 to 90"),
    ('elevation = "60 m"', 'elevation = "60 furlong"',
     "[site] elevation: found '60 furlong'; expected a length in one of: m, mm"),
    ("days = 7", "days = 21",
     "[site] days: found 21; expected a whole number from 1 to 14"),
    ('week_start = "2027-05-03 06:00"', 'week_start = "3.5.2027 06:00"',
     "[site] week_start: found '3.5.2027 06:00'; expected a date and time"),
    ("latitude = 52", "latitud = 52", "[site] latitud: unknown key. Did you mean "
     "'latitude'?"),
    ("days = 7", "dais = 7", "[site] dais: unknown key. Did you mean 'days'?"),
    ('kind = "mains"', 'kind = "main"',
     "[[water]] kind: found 'main'; expected one of: mains, tank, tanker. "
     "Did you mean 'mains'?"),
    ("flow = 30", "flow = 0",
     "[[water]] flow: found 0; expected a flow from 0.1 to 2000 L/min"),
    ("flow = 30", "flow = nan", "[[water]] flow: found nan; expected a finite number"),
    ("flow = 15", 'flow = "15 m2"',
     "[[water.competing]] flow: found '15 m2'; expected a flow in one of: L/min, "),
    ('at = "2027-05-06 10:00"', 'at = "2027-03-28 02:10"',
     "[[water.delivery]] at: found '2027-03-28 02:10'; expected a time that exists in "
     "Europe/Berlin. The clocks skip it that night"),
    ('skills = ["labourer", "fogger", "sprayer"]', 'skills = ["labourer", "foger"]',
     "[[crew]] skills: found 'foger'; expected one of: labourer, fogger, sprayer, "
     "steam_operator. Did you mean 'fogger'?"),
    ('shifts = ["night"]', "shifts = []",
     "[[crew]] shifts: found an empty list; expected at least 1 shift"),
    ('shifts = ["night"]', "", "[[crew]] shifts: missing; expected ids of shifts"),
    ('shifts = ["night"]', 'shifts = ["nite"]',
     "[[crew]] shifts: found 'nite'; expected a shift of the site, one of: day, night, "
     "weekend. Did you mean 'night'?"),
    ('water_points = ["tank"]', 'water_points = ["tanc"]',
     "[[zone]] water_points: found 'tanc'; expected a water point of the site"),
    ('profile = "en13670_class3"', 'profile = "en13670_klass3"',
     "[site] profile: found 'en13670_klass3'; expected a profile of the site"),
    ('id = "owl"', 'id = "red"',
     "[[crew]] id: duplicate id 'red'. First used at site.toml:"),
    ('id = "B"', 'id = "A"', "[[zone]] id: duplicate id 'A'. First used at site.toml"),
    ("people = 2", "people = 2.5",
     "[[crew]] people: found 2.5; expected a whole number"),
    ("on_call = true", "on_call = 1", "[[shift]] on_call: found 1; expected true or"),
    ('breaks = ["02:00-02:30"]', 'breaks = ["06:30-06:45"]',
     "[[shift]] breaks: found 06:30-06:45; expected a break within the shift, 22:00-"),
    ('breaks = ["09:30-09:45", "12:00-12:30"]', 'breaks = ["12:15-12:45", '
     '"12:00-12:30"]',
     "[[shift]] breaks: found 12:15-12:45; expected breaks that do not overlap"),
    ('breaks = ["02:00-02:30"]', 'breaks = ["02:00-02:30"]\nbreak_stagger = -1',
     "[[shift]] break_stagger: found -1; expected a duration from 0 to 480 min"),
    ('breaks = ["02:00-02:30"]', "break_stagger = 20",
     "[[shift]] break_stagger: found 20 min without breaks; expected breaks for the "
     "gangs to take in turn, or no break_stagger"),
    ('breaks = ["02:00-02:30"]', 'breaks = ["2-3"]',
     "[[shift]] breaks: found '2-3'; expected spans of clock time such as 12:00-12:30"),
    ("capacity = 4000\n", "",
     "[[water]] capacity: missing; expected what the tank holds, in L"),
    ("level = 4000", "level = 4001",
     "[[water]] level: found 4001 L; expected at most the capacity, 4000 L"),
    ('"burlap_double.lay" = 40', '"burlap_double.lay" = "fast"',
     "[rates] burlap_double.lay: found 'fast'; expected a number above 0"),
    ("call_out = 350", "call_out = -1",
     "[costs] call_out: found -1; expected a number of at least 0"),
    ('rest = "11 h"', 'rest = "11 hours"',
     "[rules] rest: found '11 hours'; expected a duration in one of: h, min, d"),
    ("strength = 30", "strength = 30\nslag = 1.2",
     "[[mix]] slag: found 1.2; expected a number from 0 to 0.95"),
    ("strength = 30", "strength = 30\nfly_ash = 0.5\nslag = 0.7",
     "[[mix]] slag: found 0.7; expected slag and fly_ash of at most 95 % together, not "
     "120 %"),
    ("strength = 30", "strength = 30\nslag = 0.5\nscm = 0.2",
     "[[mix]] scm: found 0.2; expected at least 50 %, as it counts slag"),
    ("strength = 30",
     "strength = 30\nadiabatic_start = 20\nadiabatic_rise = [[12, 14], [24, 13]]",
     "[[mix]] adiabatic_rise: found a list; expected ages that rise and values that "
     "never fall, not 13 at 24 h after 14 at 12 h"),
    ("strength = 30", "strength = 30\ninitial_set = 4.5\nfinal_set = 4",
     "[[mix]] final_set: found 4 h; expected a time after initial_set, 4.5 h"),
    ('name = "Night pair"', 'name = ""', "[[crew]] name: missing; expected text"),
    ('id = "C30"', 'id = "../C30"', "[[mix]] id: found '../C30'; expected an id"),
    ("[site]", "[sight]", "sight: unknown table. Did you mean 'site'?"),
    ("[[mix]]", "[[mixes]]", "mixes: unknown table. Did you mean 'mix'?"),
    ("[rules]", "[rulez]", "rulez: unknown table. Did you mean 'rules'?"),
    ("[rules]", '[rules]\nweekend_cover = "tarp"',
     "[rules] weekend_cover: found 'tarp'; expected one of: burlap_single, "),
    ("strength = 30", 'strength = 30\nstrength_by_age = [["1 d", 8], [20, 12]]',
     "[[mix]] strength_by_age: found a list; expected ages that rise and values that "
     "never fall"),
    ("strength = 30", "strength = 30\nstrength_by_age = [[24, 8], [72, 6]]",
     "[[mix]] strength_by_age: found a list; expected ages that rise and values"),
    ("strength = 30", "strength = 30\nstrength_by_age = [[0, 8], [72, 16]]",
     "[[mix]] strength_by_age: found a list; expected values that begin with 0 at age "
     "0"),
    ("strength = 30", 'strength = 30\nstrength_by_age = [["1 d", 8], ["3 d", "9 kN"]]',
     "[[mix]] strength_by_age: found '9 kN' in pair 2; expected a pressure "
     "in one of: MPa, "),
    ("strength = 30", "strength = 30\nstrength_by_age = [[24, 8], [72, 400]]",
     "[[mix]] strength_by_age: found 400 in pair 2; expected a pressure from 0 to "
     "300 MPa"),
    ("strength = 30", "strength = 30\nstrength_by_age = [[24, 8, 1]]",
     "[[mix]] strength_by_age: found a list as pair 1; expected a list of pairs [[…, "
     "…], "
     "…] of a duration from 0 to 20000 h, and a pressure from 0 to 300 MPa"),
    ("strength = 30", "strength = 30\nstrength_by_age = []",
     "[[mix]] strength_by_age: found an empty list; expected a list of pairs"),
    ("strength = 30", 'strength = 30\n'
     'strength_share_by_age = [["2 d", "40 %"]]\naci_209 = "I moist"',
     "[[mix]] aci_209: found 'I moist'; expected either aci_209 or "
     "strength_share_by_age, not both"),
    ("strength = 30", "strength = 30\naci_209 = \"II moist\"",
     "[[mix]] aci_209: found 'II moist'; expected one of: I_moist, III_moist, I_steam"),
    ("strength = 30", "strength = 30\nadiabatic_rise = [[12, 8.5], [24, 20]]\n"
     "adiabatic_start = 20\ntau = 14",
     "[[mix]] tau: found 14; expected either tau or adiabatic_rise, not both"),
    ("[rules]", '[rules]\nweek_hours_max = "0 h"',
     "[rules] week_hours_max: found '0 h'; expected a duration above 0, up to 168 h"),
    ("[rules]", '[rules]\nday_hours_max = "17 h"',
     "[rules] day_hours_max: found '17 h'; expected a duration above 0, up to 16 h"),
    ("[rules]", '[rules]\ncall_out_max = "20 h"',
     "[rules] call_out_max: found '20 h'; expected a duration above 0, up to 16 h"),
    ("[rules]", '[rules]\nbreak_after = "0 h"',
     "[rules] break_after: found '0 h'; expected a duration above 0, up to 16 h"),
    ("[rules]", '[rules]\nbreak_length = "5 h"',
     "[rules] break_length: found '5 h'; expected a duration from 0 to 240 min"),
    ("strength = 30", "strength = 30\nlow_bleed = \"maybe\"",
     "[[mix]] low_bleed: found 'maybe'; expected true or false"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "said"), FAULTS)
def test_one_fault_is_one_problem_with_its_line(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    # "C30" and "B" are named by the pours: those say so too, and are not meant here.
    site = changed(SITE, (old, new))
    folder = write_site(tmp_path, {"site.toml": site})
    found = [line for line in lines(folder) if not line.startswith("pours.csv")]
    assert len(found) == 1, found
    place, _, rest = found[0].partition(", ")
    assert rest.startswith(said), rest
    start = SITE.index(old)
    if not new:  # the table's header stands for what is not there
        start = SITE.rindex("\n[[", 0, start) + 1
    line = SITE.count("\n", 0, start) + 1 + new.count("\n")
    assert place == f"site.toml:{line}"


@pytest.mark.parametrize(
    ("given", "missing", "said"),
    [
        ("ultimate_strength = 44", "strength_rate",
         "a rate, as ultimate_strength is given"),
        ("strength_begins = 6", "ultimate_strength",
         "the strength it tends to, as strength_begins is given"),
        ("adiabatic_rise = [[12, 8.5], [24, 20]]", "adiabatic_start",
         "the temperature at the start, as adiabatic_rise is given"),
    ],
)  # fmt: skip
def test_a_curve_of_a_mix_asks_for_all_its_constants(
    tmp_path: Path, given: str, missing: str, said: str
) -> None:
    site = changed(SITE, ("cement = 340", f"cement = 340\n{given}"))
    found = only(write_site(tmp_path, {"site.toml": site}))
    line = SITE.count("\n", 0, SITE.index("[[mix]]")) + 1
    place = f"site.toml:{line}, [[mix]] {missing}"
    assert found == f"{place}: missing; expected {said}"


def test_a_missing_table_is_one_problem(tmp_path: Path) -> None:
    start, end = SITE.index("[[mix]]"), SITE.index("[rates]")
    site = SITE[:start] + SITE[end:]
    found = only(write_site(tmp_path, {"site.toml": site}))
    assert found == "site.toml, [[mix]]: missing; expected at least one table [[mix]]"


def test_without_the_site_table_the_rest_is_still_read(tmp_path: Path) -> None:
    site = SITE[SITE.index("[[zone]]") :].replace("flow = 30", "flow = -1")
    found = lines(write_site(tmp_path, {"site.toml": site}))
    assert found[0] == "site.toml, [site]: missing; expected a table [site]"
    assert "[[water]] flow: found -1" in found[1]


def test_one_pair_of_brackets_where_two_are_wanted(tmp_path: Path) -> None:
    site = changed(SITE, ("[[mix]]", "[mix]"))
    found = only(write_site(tmp_path, {"site.toml": site}))
    assert "[[mix]]: found a table; expected a table [[mix]], in two brackets" in found


def test_a_wrong_timezone_does_not_make_every_time_wrong(tmp_path: Path) -> None:
    site = changed(SITE, ("Europe/Berlin", "Europe/Berln"))
    found = only(write_site(tmp_path, {"site.toml": site}))
    assert "found 'Europe/Berln'; expected an IANA timezone" in found
    assert "Did you mean 'Europe/Berlin'?" in found


def test_rates_may_be_written_in_three_ways(tmp_path: Path) -> None:
    quoted = '"burlap_double.lay" = 40'
    for index, spelled in enumerate(
        ("burlap_double.lay = 40", "burlap_double = { lay = 40 }")
    ):
        folder = tmp_path / str(index)
        write_site(folder, {"site.toml": changed(SITE, (quoted, spelled))})
        assert read_site(folder).site.rates == {"burlap_double.lay": 40}


def test_toml_times_without_quotes_are_the_sites_own(tmp_path: Path) -> None:
    site = changed(
        SITE,
        ('week_start = "2027-05-03 06:00"', "week_start = 2027-05-03T06:00:00"),
        ('night_starts = "20:00"', "night_starts = 20:00:00"),
    )
    bare = read_site(write_site(tmp_path / "bare", {"site.toml": site}))
    assert bare == read_site(write_site(tmp_path / "quoted"))


# old piece, new piece, part of the hint
SYNTAX = [
    ("latitude = 52.0", "latitude = 52,0", "Write a decimal point, not a comma"),
    ('night_ends = "06:00"', "night_ends = 06:00", 'in quotes: night_ends = "06:00"'),
    ('flow = "40 L/min"', "flow = 40 L/min", 'in quotes: flow = "40 L/min"'),
    ('kind = "mains"', "kind = mains", 'in quotes: kind = "mains"'),
    ('name = "Heron Wharf"', 'name = "Heron Wharf', "A closing quote is missing"),
    ("days = 7", "days: 7", "Write key = value, with an equals sign"),
    ("days = 7", "days = 7\ndays = 8", "is in the file already"),
]


@pytest.mark.parametrize(("old", "new", "hint"), SYNTAX)
def test_broken_toml_gives_its_line_and_a_hint(
    tmp_path: Path, old: str, new: str, hint: str
) -> None:
    site = changed(SITE, (old, new))
    (found,) = (
        line
        for line in lines(write_site(tmp_path, {"site.toml": site}))
        if line.startswith("site.toml")
    )
    line = SITE[: SITE.index(old)].count("\n") + 1 + new.count("\n")
    assert found.startswith(f"site.toml:{line}: found ")
    assert "expected valid TOML" in found
    assert hint in found


def test_brackets_without_end_are_a_problem_too(tmp_path: Path) -> None:
    site = SITE + "x = " + "[" * 100_000
    found = only(write_site(tmp_path, {"site.toml": site}))
    assert found == "site.toml: nested too deeply"


@settings(deadline=None, max_examples=40)
@given(st.data())
def test_a_damaged_file_is_read_or_refused(data: st.DataObject) -> None:
    damaged = bytearray(SITE.encode())
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(damaged) - 1))
        piece = data.draw(st.one_of(st.binary(max_size=3), st.sampled_from(WORDS)))
        damaged[at : at + data.draw(st.integers(0, 12))] = piece
    with TemporaryDirectory() as folder:
        site = write_site(Path(folder), {"site.toml": bytes(damaged)})
        with suppress(InputError):
            read_site(site)


WORDS = [
    b"[[",
    b"]]",
    b"=",
    b'"',
    b"[site]\n",
    b"1979-05-27",
    b"nan",
    b"{a=1}",
    b"\n",
    b"''",
]


def test_the_weekend_cover_is_a_method(tmp_path: Path) -> None:
    site = changed(SITE, ("[rules]", '[rules]\nweekend_cover = "sheet_over_burlap"'))
    rules = read_site(write_site(tmp_path, {"site.toml": site})).site.rules
    assert rules.weekend_cover == "sheet_over_burlap"
    assert read_site(write_site(tmp_path / "b")).site.rules.weekend_cover is None


def with_parties(*parties: str) -> str:
    """The red gang of four, whose pattern is worked by day and on call."""
    tables = "".join(f"[[crew.party]]\n{party}\n\n" for party in parties)
    return changed(SITE, ('[[crew]]\nid = "owl"', tables + '[[crew]]\nid = "owl"'))


FIRST = 'id = "red 1"\nname = "first pair"\npeople = 2'
SECOND = 'id = "red 2"\nname = "second pair"\npeople = 2\nskills = ["fogger"]'


def test_a_gang_is_listed_with_its_parties(tmp_path: Path) -> None:
    site = write_site(tmp_path, {"site.toml": with_parties(FIRST, SECOND)})
    red, first, second, owl = read_site(site).site.teams
    assert (red.id, red.hands, owl.hands) == ("red", ("red 1", "red 2"), ("owl",))
    assert (first.name, first.people, first.skills) == (
        "Red gang, first pair", 2, red.skills
    )  # fmt: skip
    assert (second.skills, second.lead, second.home_zone) == (
        ("fogger",), red.lead, red.home_zone
    )  # fmt: skip
    assert (red.shifts, first.shifts) == (("day", "weekend"), ("day",))


@pytest.mark.parametrize(
    ("parties", "said"),
    [
        ((FIRST,), "[[crew.party]]: found one party in 'red'; expected two or more "
         "parties"),
        ((FIRST, SECOND.replace("people = 2", "people = 3")),
         "[[crew.party]] people: found 3; expected at most the 2 left of the 4 of "
         "'red'"),
        ((FIRST, SECOND.replace("fogger", "steam_operator")),
         "[[crew.party]] skills: found 'steam_operator'; expected a skill of its gang, "
         "one of: "),
        ((FIRST, SECOND.replace("red 2", "owl")),
         "[[crew.party]] id: duplicate id 'owl'. First used at site.toml"),
        ((FIRST, SECOND.replace("red 2", "red")),
         "[[crew.party]] id: duplicate id 'red'. First used at site.toml"),
        ((FIRST, SECOND.replace('name = "second pair"\n', "")),
         "[[crew.party]] name: missing; expected text"),
    ],
)  # fmt: skip
def test_a_party_that_its_gang_cannot_spare_is_refused(
    tmp_path: Path, parties: tuple[str, ...], said: str
) -> None:
    assert said in only(write_site(tmp_path, {"site.toml": with_parties(*parties)}))


def test_parties_of_a_gang_on_call_alone_are_refused(tmp_path: Path) -> None:
    site = with_parties(FIRST, SECOND)
    site = changed(site, ('shifts = ["day", "weekend"]', 'shifts = ["weekend"]'))
    said = "[[crew]] shifts: found only on-call shifts; expected a regular shift too"
    assert said in only(write_site(tmp_path, {"site.toml": site}))


BUSY = (
    '[[crew.busy]]\nfrom = "2027-05-04 08:00"\nto = "2027-05-04 11:30"\nwhy = "crane"\n'
)


def with_busy(busy: str) -> str:
    return changed(SITE, ('[[crew]]\nid = "owl"', busy + '\n[[crew]]\nid = "owl"'))


def test_a_gang_and_a_party_tell_of_their_other_work(tmp_path: Path) -> None:
    pairs = with_parties(FIRST + "\n" + BUSY.replace("crew.busy", "crew.party.busy"))
    other = "[[crew.party]]\n" + SECOND + "\n\n" + BUSY.replace("crane", "bars")
    text = changed(pairs, ('[[crew]]\nid = "owl"', other + '[[crew]]\nid = "owl"'))
    red, first, second, owl = read_site(
        write_site(tmp_path, {"site.toml": text})
    ).site.teams
    whys = [[busy.why for busy in team.busy] for team in (red, first, second, owl)]
    assert whys == [["bars", "crane"], ["bars", "crane"], ["bars"], []]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("11:30", "08:00", "[[crew.busy]] to: found '2027-05-04 08:00'; "
         "expected a time after from"),
        ("05-04 08:00", "05-24 08:00",
         "[[crew.busy]] from: found 2027-05-24 08:00; expected a time before the plan "
         "ends"),
        ("why", "because",
         "[[crew.busy]] because: unknown key. Keys: one of: from, to, why"),
    ],
)  # fmt: skip
def test_other_work_that_cannot_be_is_refused(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    busy = changed(BUSY, (old, new))
    if "05-24" in new:
        busy = changed(busy, ('to = "2027-05-04', 'to = "2027-05-24'))
    assert said in only(write_site(tmp_path, {"site.toml": with_busy(busy)}))


def test_shifts_beyond_the_most_hours_of_a_week_are_refused(tmp_path: Path) -> None:
    # Red gang: five days of 10 h less 45 min of breaks; on call does not count.
    site = changed(SITE, ("[rules]", "[rules]\nweek_hours_max = 46"))
    found = only(write_site(tmp_path, {"site.toml": site}))
    assert (
        "[[crew]] shifts: found 46.25 h of shifts a week; expected at most 46 h"
        in found
    )
    enough = changed(SITE, ("[rules]", "[rules]\nweek_hours_max = 46.25"))
    rules = read_site(write_site(tmp_path / "b", {"site.toml": enough})).site.rules
    assert rules.week_hours_max_h == 46.25


def test_shifts_beyond_the_most_hours_of_a_day_are_refused(tmp_path: Path) -> None:
    # Red gang: 10 h less 45 min of breaks.
    site = changed(SITE, ("[rules]", "[rules]\nday_hours_max = 9"))
    assert (
        "[[crew]] shifts: found 9.25 h of shifts on mon; "
        "expected at most 9 h, day_hours_max of [rules]"
    ) in only(write_site(tmp_path, {"site.toml": site}))
    enough = changed(SITE, ("[rules]", "[rules]\nday_hours_max = 9.25"))
    rules = read_site(write_site(tmp_path / "b", {"site.toml": enough})).site.rules
    assert rules.day_hours_max_h == 9.25


# The day ends at 17:00; its last break, 12:00 to 12:30, leaves 270 min for two more.
def test_breaks_of_the_last_gang_stay_within_the_shift(tmp_path: Path) -> None:
    more = "".join(
        f'[[crew]]\nid = "{n}"\nname = "{n}"\npeople = 2\nhome_zone = "A"\n'
        'shifts = ["day"]\n\n'
        for n in ("blue", "green")
    )
    pauses = 'breaks = ["09:30-09:45", "12:00-12:30"]'
    gangs = changed(SITE, ('[[crew]]\nid = "owl"', f'{more}[[crew]]\nid = "owl"'))

    def staggered(by: str) -> Path:
        site = changed(gangs, (pauses, f"{pauses}\nbreak_stagger = {by}"))
        return write_site(tmp_path / by.strip('"'), {"site.toml": site})

    assert read_site(staggered('"2.25 h"')).site.shifts[0].break_stagger_min == 135
    line = SITE.count("\n", 0, SITE.index(pauses)) + 2
    assert only(staggered('"136 min"')) == (
        f"site.toml:{line}, [[shift]] break_stagger: found 136 min for 3 gangs; "
        f"expected "
        "at most 135 min, so that the last gang has its breaks before 'day' ends, 17:00"
    )


BAN = """\
[[heat_ban]]
starts = "12:30"
ends = "15:00"
{}
[[cover]]
kind = "burlap_double\""""


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ('from = "1 June"', "from: found '1 June'; expected a date such as 2027-06-07"),
        ("from = 2027-02-30", None),
        ('from = "2027-02-30"', "from: found '2027-02-30'; expected a date such as"),
        ("until = 1999-06-07", "until: found 1999-06-07; expected a year from 2000 to"),
        ("from = 2027-06-02\nuntil = 2027-06-01",
         "until: found 2027-06-01; expected a day no earlier than from, 2027-06-02"),
        ('above = "hot"', "above: found 'hot'; expected a temperature from -60 to 60 "
         "degC"),
    ],
)  # fmt: skip
def test_a_heat_ban_that_cannot_be_read(
    tmp_path: Path, more: str, said: str | None
) -> None:
    old = '[[cover]]\nkind = "burlap_double"'
    site = changed(SITE, (old, BAN.format(more)))
    found = lines(write_site(tmp_path, {"site.toml": site}))
    assert (f"[[heat_ban]] {said}" if said else "expected valid TOML") in found[0]


def test_heat_bans_are_read_with_dates_bare_or_quoted(tmp_path: Path) -> None:
    more = 'from = 2027-06-01\nuntil = "2027-09-15"\nabove = "95 degF"'
    old = '[[cover]]\nkind = "burlap_double"'
    site = changed(SITE, (old, BAN.format(more)))
    (ban,) = read_site(write_site(tmp_path, {"site.toml": site})).site.heat_bans
    assert (ban.starts, ban.ends) == (time(12, 30), time(15))
    assert (ban.from_date, ban.until_date) == (date(2027, 6, 1), date(2027, 9, 15))
    assert ban.above_c == pytest.approx(35)


def test_a_sheet_says_how_its_laps_are_closed_or_what_they_lose(tmp_path: Path) -> None:
    own = """
[[cover]]
kind = "plastic_sheet"
stock = 500
laps = "taped"

[[cover]]
kind = "insulated_blankets"
stock = 200
seam_loss = "300 L"
"""
    wrong = {"site.toml": SITE + own}
    told = only(write_site(tmp_path / "a", wrong))
    assert "seam_loss: found '300 L'; expected" in told
    right = {"site.toml": changed(SITE + own, ("300 L", "0.3 L"))}
    sheet, blankets = read_site(write_site(tmp_path / "b", right)).site.covers[-2:]
    assert (sheet.laps, sheet.seam_loss_l_m_d) == ("taped", None)
    assert (blankets.laps, blankets.seam_loss_l_m_d) == (None, 0.3)


@pytest.mark.parametrize(
    ("kind", "keys", "said"),
    [
        ("burlap_single", 'laps = "loose"',
         "laps: found 'loose'; expected nothing here: laps and seam_loss are of "
         "sheets"),
        ("plastic_sheet", 'laps = "loose"\nseam_loss = 0.3',
         "laps: found 'loose'; expected either laps or seam_loss"),
    ],
)  # fmt: skip
def test_laps_are_of_sheets_and_said_once(
    tmp_path: Path, kind: str, keys: str, said: str
) -> None:
    own = f'\n[[cover]]\nkind = "{kind}"\nstock = 500\n{keys}\n'
    folder = write_site(tmp_path, {"site.toml": SITE + own})
    assert f"[[cover]] {said}" in only(folder)
