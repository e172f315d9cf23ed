import pytest

from models.errors import InputError
from models.profiles.loader import builtin_profile, load_profile, profile_ids
from models.records import Mark, Profile

OWN = """\
id = "quay"
title = "Quay rule"
edition = "invented"
maturity = "nurse_saul"
cover_within_min = { value = 20, how = "read", clause = "4.2" }

[[ends]]
kind = "days"
days = 5
at_or_above_c = 8
"""


@pytest.mark.parametrize("name", profile_ids())
def test_every_builtin_rule_loads_under_the_name_of_its_file(name: str) -> None:
    rule = builtin_profile(name)
    assert rule.id == name
    assert rule.title
    assert rule.edition


def test_builtin_titles_are_told_apart() -> None:
    titles = [builtin_profile(name).title for name in profile_ids()]
    assert len(set(titles)) == len(titles)


def test_a_site_may_write_a_rule_of_its_own_with_bare_values() -> None:
    rule = load_profile(OWN, "quay.toml")
    assert (rule.ends[0].how, rule.cover_within_min) == ("site", 20)
    assert rule.marks == {
        "maturity": Mark(how="site"),
        "cover_within_min": Mark(how="read", clause="4.2"),
    }


def test_a_rule_built_on_another_replaces_value_and_mark() -> None:
    text = 'base = "ufgs_03301a"\nid = "ours"\ninspections_per_shift = 2\n'
    rule, base = load_profile(text, "ours.toml"), builtin_profile("ufgs_03301a")
    assert (rule.id, rule.title) == ("ours", base.title)
    assert (rule.inspections_per_shift, base.inspections_per_shift) == (2, 1)
    assert rule.marks["inspections_per_shift"] == Mark(how="site")
    other = "inspections_per_non_working_day"
    assert rule.marks[other] == base.marks[other]
    assert rule.ends == base.ends


def test_a_rule_built_on_another_may_bring_its_own_rows_and_marks() -> None:
    text = """
base = "is456"
water_colder_max_k = { value = 8, how = "read", clause = "annex 4" }
[[ends]]
kind = "days"
days = 9
how = "read"
clause = "annex 3"
"""
    rule = load_profile(text, "ours.toml")
    assert [(row.kind, row.clause) for row in rule.ends] == [("days", "annex 3")]
    assert rule.water_colder_max_k == 8
    assert rule.marks["water_colder_max_k"].clause == "annex 4"


def test_an_unknown_base_is_refused_with_the_nearest_word() -> None:
    text = 'id = "ours"\nbase = "en13670_clas2"\n'
    wanted = r"ours\.toml:2, base: .*Did you mean 'en13670_class2'\?"
    with pytest.raises(InputError, match=wanted):
        load_profile(text, "ours.toml")


def test_an_unknown_builtin_rule_is_a_key_error() -> None:
    with pytest.raises(KeyError, match=r"\.\./aci_318"):
        builtin_profile("../aci_318")


# ACI 306R (from memory but for the first row's ends): sections from 12, 36 and 72 in.
@pytest.mark.parametrize(
    ("thickness_mm", "minimum_c", "cooling_max_k"),
    [
        (200, 13, 28),
        (300, 10, 22),
        (899, 10, 22),
        (900, 7, 17),
        (1799, 7, 17),
        (1800, 5, 11),
    ],
)
def test_limits_of_a_section(
    thickness_mm: float, minimum_c: float, cooling_max_k: float
) -> None:
    section = builtin_profile("aci_318").section(thickness_mm)
    assert section is not None
    assert (section.minimum_c, section.cooling_max_k) == (minimum_c, cooling_max_k)


def test_a_rule_without_sections_limits_none() -> None:
    rule = Profile(id="own", title="Own", edition="", maturity="arrhenius")
    assert rule.section(200) is None


# What the rules say besides days. Read in secondary copies: UFGS-03301A and -03701
# (looks a shift and on days off), UFGS-03311 (water 20 °F),
# guidance on decks (mats 15 min, compound 10 min, 2 h after forms), ACI 301 and 306R,
# PCA (500 psi), DIN 1045-3 (5 N/mm² or 3 days at 10 °C), UFGS-03372 (rain 12 h),
# EN 13670's 12 h. From memory: the rest of EN 13670, CSA extended, BS 8110.
@pytest.mark.parametrize(
    ("name", "field", "value"),
    [
        ("ufgs_03301a", "inspections_per_shift", 1),
        ("ufgs_03301a", "inspections_per_non_working_day", 1),
        ("ufgs_03301a", "water_colder_max_k", 11),
        ("ufgs_03301a", "rain_off_h", 12),
        ("din1045_3", "freezing_strength_mpa", 5),
        ("din1045_3", "frost_days", 3),
        ("din1045_3", "frost_days_at_c", 10),
        ("din1045_3_dry", "freezing_strength_mpa", 5),
        ("din1045_3_dry", "frost_days", 3),
        ("din1045_3_dry", "frost_days_at_c", 10),
        ("ufgs_03701", "inspections_per_shift", 2),
        ("ufgs_03701", "inspections_per_non_working_day", 2),
        ("aashto_deck", "cover_within_min", 15),
        ("aashto_deck", "compound_within_min", 10),
        ("aashto_deck", "compound_after_forms_min", 120),
        ("aci_318", "core_surface_max_k", 19.4),
        ("aci_318", "cold_below_c", 4),
        ("aci_318", "protection_days", 3),
        ("aci_318", "freezing_strength_mpa", 3.5),
        ("en13670_class2", "minimum_h", 12),
        ("en13670_class2", "freezing_strength_mpa", 5),
        ("en13670_class4", "freezing_strength_mpa", 5),
        *(
            (name, "set_beyond_h", 5)
            for name in (
                "din1045_3",
                "din1045_3_dry",
                "ztv_ing",
                *(f"en13670_class{number}" for number in (1, 2, 3, 4)),
            )
        ),
        ("bs8110", "datum_c", -10),
        ("en13670_class3", "freezing_strength_mpa", 5),
        ("en13670_class3", "core_max_c", 70),
        ("en13670_class3", "core_surface_max_k", 20),
        # 160 °F, and from 4 ft on 35 °F.
        ("aci_318", "core_max_c", 70),
        ("aci_318", "core_surface_from_mm", 1200),
        ("din1045_3", "core_surface_max_k", 15),
        (
            "csa_a23_1_extended",
            "allowed_families",
            ("ponding", "sprinkling", "fabric"),
        ),
    ],
)
def test_limits_of_the_rules(name: str, field: str, value: object) -> None:
    assert getattr(builtin_profile(name), field) == value
