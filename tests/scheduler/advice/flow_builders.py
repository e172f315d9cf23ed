"""Sites that the advice is asked about; all of it invented."""

from datetime import timedelta

from models.records import Advice, Candidate, Pour, SiteInput, Weather
from scheduler.advice.flow import advise_on
from scheduler.advice.versions import versions_of
from scheduler.methods.surfaces import surfaces_of
from tests.builders import MONDAY, pour, site_input, weather


def under(skies: Weather, *pours: Pour) -> SiteInput:
    """The wharf under other weather."""
    return site_input(*pours).model_copy(update={"weather": skies})


def advice_on(given: SiteInput, surface_id: str = "P1-top") -> Advice:
    """Advice on one surface."""
    surface = next(s for s in surfaces_of(given) if s.id == surface_id)
    (advice,) = advise_on(given, [versions_of(given, surface)])
    return advice


def by_method(advice: Advice) -> dict[str, Candidate]:
    """Candidates by method."""
    return {candidate.method: candidate for candidate in advice.ranked}


def hot_wind() -> Weather:
    """Up to 38 °C, a fifth of humidity, a strong wind from noon on."""
    return weather(mean_c=31, swing_k=7, humidity=0.35, wind_m_s=8)


def frosty_nights() -> Weather:
    """Frost every night, 8 °C by day."""
    return weather(mean_c=3, swing_k=5, humidity=0.7, wind_m_s=2)


def wall(**fields: object) -> Pour:
    """A wall whose faces are struck at 36 h, Tuesday 23:00, when a pair is there."""
    base: dict[str, object] = {
        "element": "wall", "area_m2": 12, "thickness_mm": 300, "formed_area_m2": 60,
        "formed_method": "burlap_double",
        "strike_at": MONDAY + timedelta(hours=5 + 36),
    }  # fmt: skip
    return Pour.model_validate(pour().model_dump() | base | fields)
