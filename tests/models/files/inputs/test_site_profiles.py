"""A site's own curing rules beside the built-in ones."""

from importlib.resources import files
from pathlib import Path

from models.files.site_folder import read_site
from models.profiles.loader import builtin_profile
from tests.models.files.folders import POURS, SITE, changed, write_site
from tests.models.files.problem_lines import only

#: A rule that is known to be sound, under another id.
OWN = (
    files("models.profiles")
    .joinpath("aci_318.toml")
    .read_text("utf-8")
    .replace('id = "aci_318"', 'id = "quay_rule"')
)


def test_all_rules_named_by_site_and_pours_come_along(tmp_path: Path) -> None:
    pours = POURS.replace(",risk,", ",profile,").replace(
        "burlap_double,,3,", "burlap_double,,aci_318,"
    )
    pours = pours.replace(",,2,,", ",,,,").replace(
        "burlap_double,1,", "burlap_double,,"
    )
    read = read_site(write_site(tmp_path, {"pours.csv": pours}))
    assert read.profiles == {
        "aci_318": builtin_profile("aci_318"),
        "en13670_class3": builtin_profile("en13670_class3"),
    }


def test_a_rule_of_the_site_is_found_by_the_id_inside(tmp_path: Path) -> None:
    site = changed(SITE, ("en13670_class3", "quay_rule"))
    own = {"site.toml": site, "profiles/ours.toml": OWN}
    read = read_site(write_site(tmp_path, own))
    assert read.profiles.keys() == {"quay_rule"}
    assert read.profiles["quay_rule"].title == builtin_profile("aci_318").title


def test_a_broken_rule_is_one_problem_though_the_site_names_it(tmp_path: Path) -> None:
    site = changed(SITE, ("en13670_class3", "quay_rule"))
    own = {"site.toml": site, "profiles/quay_rule.toml": "id = \n"}
    found = only(write_site(tmp_path, own))
    assert found.startswith("profiles/quay_rule.toml:1: found ")


def test_a_rule_in_two_files(tmp_path: Path) -> None:
    own = {"profiles/a.toml": OWN, "profiles/b.toml": OWN}
    found = only(write_site(tmp_path, own))
    assert found == ("profiles/b.toml, id: duplicate id 'quay_rule'")
