"""Curing periods that specifications and pages print, found through the built-in rules.

"Read" means the page named, which is seldom the standard itself.
"""

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from models.profiles.loader import builtin_profile
from models.records.criterion import StrengthRow
from tests.references.case import Case, How, as_quoted
from tests.references.periods import STEP_DAYS, days

_UFGS = "UFGS-03301A, page 42 (tpub copy)"
_UFGS_72 = "UFGS-03372, page 28 (tpub copy)"
_AASHTO = "HPC Bridge Views, January 2003, on AASHTO"
_IS = "IS 456:2000, 13.5.1, in an examination answer"
_CPWD = "CPWD commentary 5.4.6 (scribd copy)"
_GAIL = "GAIL works specification, page 31 (yumpu copy)"
_DIN = "DIN 1045-3 (secondary copies)"
_NHBC = "NHBC Standards, 3.1.15"


def _case(
    name: str, source: str, how: How, quantity: str, printed: float,
    ours: Callable[[], float],
) -> Case:  # fmt: skip
    return Case(
        f"days-{name}", source, how, quantity, "d", printed, ours, STEP_DAYS
    )  # fmt: skip


def _days() -> Iterator[Case]:
    rows: tuple[tuple[str, str, How, str, float, Callable[[], float]], ...] = (
        ("ufgs-i", _UFGS, "read", "type I cement", 7, days("ufgs_03301a")),
        ("ufgs-is", _UFGS, "read", "type IS cement", 7,
         days("ufgs_03301a", ground_in=True, slag_fraction=0.3)),
        ("ufgs-ip", _UFGS, "read", "type IP cement", 7,
         days("ufgs_03301a", ground_in=True, fly_ash_fraction=0.15)),
        ("ufgs-sf", _UFGS, "read", "silica fume", 7,
         days("ufgs_03301a", silica_fume_fraction=0.08)),
        ("ufgs-ii", _UFGS, "read", "type II cement, slow", 14,
         days("ufgs_03301a", cement_class="S")),
        ("ufgs-25", _UFGS, "read", "25 % fly ash", 14,
         days("ufgs_03301a", fly_ash_fraction=0.25)),
        ("ufgs-slag-25", _UFGS, "read", "25 % slag", 14,
         days("ufgs_03301a", slag_fraction=0.25)),
        ("ufgs-26", _UFGS, "read", "more than 25 % fly ash", 21,
         days("ufgs_03301a", fly_ash_fraction=0.26)),
        ("ufgs-slag-26", _UFGS, "read", "more than 25 % slag", 21,
         days("ufgs_03301a", slag_fraction=0.26)),
        ("ufgs-72-i", _UFGS_72, "read", "preplaced aggregate, type I", 7,
         days("ufgs_03301a")),
        ("ufgs-72-ii", _UFGS_72, "read", "preplaced aggregate, type II", 14,
         days("ufgs_03301a", cement_class="S")),
        ("ufgs-iii", "UFGS-03301A, year not noted", "from memory", "type III cement",
         3, days("ufgs_03301a", cement_class="R")),
        ("ufgs-rcc", "UFGS-03701, page 52 (tpub copy)", "read",
         "roller-compacted concrete", 14, days("ufgs_03701")),
        # 50 % longer from 4 to 10 °C for ponds and for fog or sprinkling.
        ("ufgs-pond-6", "UFGS-03311, page 39 (tpub copy)", "read",
         "a pond at 6 °C, 7 days and half as long again", 10.5,
         days("ufgs_03301a", 6, method="ponding")),
        ("ufgs-sprinkled-6", "UFGS-03311, page 39 (tpub copy)", "read",
         "sprinkling at 6 °C, 7 days and half as long again", 10.5,
         days("ufgs_03301a", 6, method="sprinklers")),
        ("ufgs-pond-11", "UFGS-03300N, page 44 (tpub copy)", "read",
         "a pond at 11 °C", 7, days("ufgs_03301a", 11, method="ponding")),
        ("aashto", _AASHTO, "read", "decks", 7, days("aashto_deck")),
        ("aashto-10", _AASHTO, "read", "decks, 10 % pozzolan", 7,
         days("aashto_deck", fly_ash_fraction=0.10)),
        ("aashto-11", _AASHTO, "read", "decks, more than 10 % pozzolan", 10,
         days("aashto_deck", fly_ash_fraction=0.11)),
        ("is-opc", _IS, "read", "ordinary Portland cement", 7, days("is456")),
        ("is-blended", _IS, "read", "mineral admixtures", 10,
         days("is456", fly_ash_fraction=0.25)),
        ("is-hot-opc", _IS, "read", "ordinary cement, dry and hot", 10,
         days("is456_hot_dry")),
        ("is-hot-blended", _IS, "read", "blended cement, dry and hot", 14,
         days("is456_hot_dry", fly_ash_fraction=0.25)),
        ("cpwd-opc", _CPWD, "read", "ordinary Portland cement", 7, days("is456")),
        ("cpwd-blended", _CPWD, "read", "blended cement", 10,
         days("is456", slag_fraction=0.4)),
        ("gail-ponding", _GAIL, "read", "ponding", 10,
         days("owner_by_method", method="ponding")),
        ("gail-hessian", _GAIL, "read", "hessian kept wet", 12,
         days("owner_by_method", method="burlap_single")),
        ("gail-sand", _GAIL, "read", "sand kept wet", 12,
         days("owner_by_method", method="wet_sand")),
        ("gail-spraying", _GAIL, "read", "spraying", 18,
         days("owner_by_method", method="sprinklers")),
        ("gail-sheet", _GAIL, "read", "impervious sheet", 24,
         days("owner_by_method", method="plastic_sheet_black")),
        ("gail-sheet-on-hessian", _GAIL, "read", "hessian under a sheet, as a sheet",
         24, days("owner_by_method", method="sheet_over_burlap")),
        ("aci-normal", "a city's specification 03300 after ACI (Laserfiche 185)",
         "read", "normal cement", 7, days("aci_318")),
        ("aci-rapid", "a city's specification 03300 after ACI (Laserfiche 185)",
         "read", "high-early-strength cement", 3, days("aci_318", cement_class="R")),
        ("aci-10", "a summary of ACI 318-25", "read", "at 10 °C", 7,
         days("aci_318", 10)),
        ("csa-basic", "Ready Mixed Concrete Association of Ontario, on CSA A23.1",
         "read", "the shortest of 3 to 7 days", 3, days("csa_a23_1_basic")),
        ("csa-extended", "Ready Mixed Concrete Association of Ontario, on CSA A23.1",
         "read", "the longest of 3 to 7 days", 7, days("csa_a23_1_extended")),
        ("csa-10", "Ready Mixed Concrete Association of Ontario, on CSA A23.1",
         "read", "at 10 °C", 7, days("csa_a23_1_extended", 10)),
        ("as-b1", "a glossary on AS 3600", "read", "most structures", 7,
         days("as3600_b1", strength_fraction=1)),
        ("as-a", "AS 3600, durability", "from memory", "exposure A1 or A2", 3,
         days("as3600_a", strength_fraction=1)),
        ("as-c", "AS 3600, durability", "from memory", "exposure C", 7,
         days("as3600_c", strength_fraction=1.1)),
        ("en-1", "a page on EN 13670", "read", "curing class 1, 12 h", 0.5,
         days("en13670_class1")),
        ("din-x0", "Betontechnische Daten, on DIN 1045-3", "read",
         "exposure X0 or XC1", 0.5, days("din1045_3_dry")),
        # Classes without a known strength at 2 days: 32.5 R hardens about as 42.5 N
        # (read: betonkonkret.de), a medium one; 52.5 is rapid, 32.5 N slow.
        ("din-class-r", "EN 206 and DIN 1045-3, usual cements", "from memory",
         "class R is rapid, 10 °C", 2, days("din1045_3", 10, cement_class="R")),
        ("din-class-n", "EN 206 and DIN 1045-3, usual cements", "from memory",
         "class N is medium, 10 °C", 4, days("din1045_3", 10, cement_class="N")),
        ("din-class-s", "EN 206 and DIN 1045-3, usual cements", "from memory",
         "class S is slow, 10 °C", 7, days("din1045_3", 10, cement_class="S")),
        # Fly ash of 20 to 35 % makes R an N.
        ("din-ash", "Concrete Society, cement class", "read",
         "class R with 20 % fly ash is medium, 10 °C", 4,
         days("din1045_3", 10, cement_class="R", fly_ash_fraction=0.20)),
        ("din-less-ash", "Concrete Society, cement class", "read",
         "class R with 19 % fly ash is rapid, 10 °C", 2,
         days("din1045_3", 10, cement_class="R", fly_ash_fraction=0.19)),
        ("din-slag", "Concrete Society, cement class", "read",
         "class R with 35 % slag is medium, 10 °C", 4,
         days("din1045_3", 10, cement_class="R", slag_fraction=0.35)),
        ("din-less-slag", "Concrete Society, cement class", "read",
         "class R with 34 % slag is rapid, 10 °C", 2,
         days("din1045_3", 10, cement_class="R", slag_fraction=0.34)),
        ("din-interpolated", _DIN, "read", "rapid, half way from 10 to 15 °C", 1.5,
         days("din1045_3", 12.5, strength_ratio_fraction=0.55)),
        ("ztv-15", "Betontechnische Daten, on ZTV-ING", "read",
         "slow concrete at 15 °C, twice DIN 1045-3", 8,
         days("ztv_ing", 15, strength_ratio_fraction=0.2)),
        ("ztv-5", "Betontechnische Daten, on ZTV-ING", "read",
         "medium concrete at 5 °C, twice DIN 1045-3", 12,
         days("ztv_ing", 5, strength_ratio_fraction=0.4)),
    )  # fmt: skip
    return (_case(*row) for row in rows)


def _strength_asked(rule: str) -> Callable[[], float]:
    rows = [r for r in builtin_profile(rule).ends if isinstance(r, StrengthRow)]
    return lambda: float(rows[0].strength_fraction or np.nan)


def _strength_mpa(rule: str) -> Callable[[], float]:
    rows = [r for r in builtin_profile(rule).ends if isinstance(r, StrengthRow)]
    return lambda: float(rows[0].strength_mpa or np.nan)


_BRITISH: tuple[tuple[str, str, float, float, dict[str, Any]], ...] = (
    ("plain-open", "plain concrete in the open", 4, 10, {}),
    ("plain-sheltered", "plain concrete, sheltered", 4, 6, {"exposure": "sheltered"}),
    ("blended-open", "blended concrete in the open", 7, 10, {"fly_ash_fraction": 0.3}),
)  # fmt: skip

CASES = as_quoted((
    *_days(),
    # "At least four days" for plain concrete of ordinary cement, "normally seven" with
    # pfa in it; of another rule, so within a day.
    *(
        Case(
            f"days-nhbc-{name}", _NHBC, "read", f"{what}, beside BS 8110 at {at_c} °C",
            "d", printed, days("bs8110", at_c, **fields), 1.0,
        )
        for name, what, printed, at_c, fields in _BRITISH
    ),
    # The same 70 % in several places.
    *(
        Case(
            f"strength-{name}", source, "read", "strength at which curing may end", "-",
            0.70, _strength_asked(rule), 0.001,
        )
        for name, source, rule in (
            ("chile", "Manual del constructor, 3.10", "aci_318"),
            ("spain", "Spanish instruction EH, article 20 (copy)", "aci_318"),
            ("ztv", "Betontechnische Daten, on ZTV-ING", "ztv_ing"),
        )
    ),
    Case(
        "strength-csa", "CSA A23.1, curing types", "from memory",
        "strength at which additional curing may end", "-", 0.70,
        _strength_asked("csa_a23_1_additional"), 0.001,
    ),
    Case(
        "strength-csa-basic", "CSA A23.1, curing types", "from memory",
        "strength at which basic curing may end", "-", 0.40,
        _strength_asked("csa_a23_1_basic"), 0.001,
    ),
    *(
        Case(
            f"strength-as-{exposure}", "AS 3600, durability", "from memory",
            f"strength at the end of curing, exposure {exposure}", "MPa", printed,
            _strength_mpa(f"as3600_{exposure}"), 0.01,
        )
        for exposure, printed in (("a", 15), ("b1", 20), ("b2", 25), ("c", 32))
    ),
))  # fmt: skip
