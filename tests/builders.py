"""Small sites for tests, all invented; change a field with ``model_copy``."""

from datetime import UTC, datetime, time, timedelta
from math import pi, sin

from models.records import (
    Break,
    Costs,
    CoverProperties,
    Crew,
    Horizon,
    Mix,
    Pour,
    Profile,
    ShiftPattern,
    Site,
    SiteInput,
    Surface,
    WaterPoint,
    Weather,
    WeatherHour,
    Zone,
)
from models.records.rule_family import RuleKind
from scheduler.methods.case.method_table import methods

MONDAY = datetime(2027, 5, 3, 4, 0, tzinfo=UTC)  # 06:00 in Europe/Berlin
WORKDAYS = ("mon", "tue", "wed", "thu", "fri")


def weather(
    starts_at: datetime = MONDAY - timedelta(days=2),
    hours: int = 11 * 24,
    mean_c: float = 18.0,
    swing_k: float = 7.0,
    humidity: float = 0.55,
    wind_m_s: float = 4.0,
) -> Weather:
    """Fine days: warmest at 15:00 UTC, driest then too."""

    def hour(index: int) -> WeatherHour:
        at = starts_at + timedelta(hours=index)
        day = sin(2 * pi * (at.hour - 9) / 24)
        sun = max(0.0, sin(pi * (at.hour - 4) / 16)) if 4 <= at.hour <= 20 else 0.0
        return WeatherHour(
            at=at,
            air_temperature_c=mean_c + swing_k * day,
            humidity_fraction=min(1.0, max(0.05, humidity - 0.2 * day)),
            wind_m_s=max(0.0, wind_m_s * (1 + 0.4 * day)),
            solar_w_m2=750 * sun,
            cloud_fraction=0.2,
        )

    return Weather(wind_height_m=10, hours=tuple(hour(i) for i in range(hours)))


def profile() -> Profile:
    """Seven plain days, one look a shift."""
    return Profile(
        id="seven_days", title="Seven days", edition="invented", maturity="arrhenius"
    )


def site() -> Site:
    """Two zones, a day and a night crew, a tap and a small tank."""
    return Site(
        name="Heron Wharf",
        timezone="Europe/Berlin",
        latitude_deg=52.0,
        longitude_deg=9.0,
        profile="seven_days",
        week_starts_at=MONDAY,
        zones=(
            Zone(id="A", name="Quay slab", x_m=0, y_m=0, water_points=("tap", "tank")),
            Zone(id="B", name="Pump hall", x_m=120, y_m=0, water_points=("tank",)),
        ),
        shifts=(
            ShiftPattern(
                id="day", days=WORKDAYS, starts=time(7), ends=time(17),
                breaks=(Break(starts=time(12), ends=time(12, 30)),),
            ),
            ShiftPattern(id="night", days=WORKDAYS, starts=time(22), ends=time(6)),
            ShiftPattern(
                id="call", days=("sat", "sun"), starts=time(6), ends=time(22),
                on_call=True,
            ),
        ),
        crews=(
            Crew(
                id="red", name="Red gang", people=4,
                skills=("labourer", "fogger", "sprayer"), home_zone="A",
                shifts=("day", "call"), overtime_max_min=60,
            ),
            Crew(
                id="owl", name="Night pair", people=2, skills=("labourer",),
                home_zone="A", shifts=("night",), overtime_max_min=0,
            ),
        ),
        water_points=(
            WaterPoint(id="tap", name="Tap at gate", kind="mains", flow_l_min=40),
            WaterPoint(
                id="tank", name="Hall tank", kind="tank", flow_l_min=30,
                capacity_l=4000, level_l=4000, refill_l_min=2,
            ),
        ),
        mixes=(Mix(id="C30", strength_mpa=30, cement_kg_m3=340),),
    )  # fmt: skip


def pour(pour_id: str = "P1", **fields: object) -> Pour:
    """A slab of 300 m², placed Monday 07:00 to 11:00 local."""
    base: dict[str, object] = {
        "id": pour_id, "zone_id": "A", "element": "slab_on_ground",
        "placing_starts_at": MONDAY + timedelta(hours=1),
        "placing_ends_at": MONDAY + timedelta(hours=5),
        "area_m2": 300, "thickness_mm": 200, "mix_id": "C30",
        "method": "burlap_double",
    }  # fmt: skip
    return Pour.model_validate(base | fields)


def site_input(*pours: Pour) -> SiteInput:
    """The site above with its week of fine weather."""
    where = site()
    return SiteInput(
        site=where,
        horizon=Horizon(
            starts_at=where.week_starts_at,
            ends_at=where.week_starts_at + timedelta(days=where.days),
        ),
        pours=pours or (pour(),),
        weather=weather(),
        profiles={"seven_days": profile()},
    )


def burlap() -> CoverProperties:
    """Two layers of wet burlap."""
    return CoverProperties(
        kind="burlap_double", title="Wet burlap, two layers", name="burlap",
        form="fabric", soaked=True, layers=2, held_l_m2=0.8,
        takes_rain=True, rewettable=True,
        resistance_m2k_w=0.01, absorptivity_fraction=0.7,
    )  # fmt: skip


def rule_kind_of(method: object) -> RuleKind:
    """What rules call a method."""
    return next(of.rule_kind for key, of in methods().items() if key == method)


def surface(from_pour: Pour | None = None, **fields: object) -> Surface:
    """The top of a pour under burlap."""
    of = from_pour or pour()
    base: dict[str, object] = {
        "id": f"{of.id}-top", "label": f"{of.id} top", "pour_id": of.id,
        "zone_id": of.zone_id, "face": "top", "element": of.element,
        "area_m2": of.area_m2, "thickness_mm": of.thickness_mm, "vertical": False,
        "exposure": of.exposure, "method": of.method,
        "rule_kind": rule_kind_of(fields.get("method", of.method)), "cover": burlap(),
        "cover_from": "takes_cover", "mix_id": of.mix_id,
        "profile_id": "seven_days", "receives": of.receives, "risk": of.risk,
        "placing_temperature_c": of.placing_temperature_c,
        "placing_starts_at": of.placing_starts_at,
        "placing_ends_at": of.placing_ends_at, "exposed_at": of.placing_ends_at,
    }  # fmt: skip
    return Surface.model_validate(base | fields)


def work_for_nothing(**fields: object) -> Costs:
    """Prices by which hands and water cost nothing, so that sums stay short."""
    base: dict[str, object] = {
        "worker_minute_cost": 0, "litre_cost": 0, "low_water_factor": 0
    }  # fmt: skip
    return Costs.model_validate(base | fields)
