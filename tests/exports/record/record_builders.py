"""A curing record by hand, short but with one of each kind of thing."""

from datetime import UTC, datetime

from exports.record.curing_record import (
    Course,
    CuringRecord,
    Fact,
    Row,
    Section,
    Sign,
    Signature,
    SignedRecord,
    Stretch,
    digest_of,
)

AT = datetime(2027, 5, 5, 16, 0, tzinfo=UTC)


def course(**fields: object) -> Course:
    """Half a day: full, dry, wetted, with a find, a reading and a limit."""
    base: dict[str, object] = {
        "days": (Sign(x_fraction=0.5, words="Tue 4 May"),),
        "nights": (Stretch(from_fraction=0.3, until_fraction=0.6),),
        "planned": (((0.0, 1.0), (0.5, 0.4), (0.5, 1.0), (1.0, 0.4)),),
        "found": (((0.0, 1.0), (0.5, 0.0), (0.6, 0.0), (0.6, 1.0)),),
        "dry": (Stretch(from_fraction=0.5, until_fraction=0.6),),
        "finds": (
            Sign(x_fraction=0.1, words="W"), Sign(x_fraction=0.505, words="W"),
            Sign(x_fraction=0.5, words="X"),
        ),
        "written": (Sign(x_fraction=0.6),),
        "unwritten": (Sign(x_fraction=0.3),),
        "face": ((0.0, 18.0), (1.0, 12.0)),
        "core": ((0.0, 20.0), (1.0, 25.0)),
        "readings": (
            Sign(x_fraction=0.5, value=24.5, words="core"),
            Sign(x_fraction=0.5, value=15.0, words="face"),
        ),
        "limits": (Sign(x_fraction=1, value=10.0, words="at least 10 °C"),),
        "unit": "°C", "until_fraction": 0.7, "ends_fraction": 0.9,
        "spoken": "Water in the cover, dry once.",
    }  # fmt: skip
    return Course.model_validate(base | fields)


def record(**fields: object) -> CuringRecord:
    """A record of a slab that was dry once."""
    base: dict[str, object] = {
        "title": "Curing record, P1 Quay slab, top, Heron Wharf", "paper": "a4",
        "at": AT, "site": "Heron Wharf", "surface": "P1 Quay slab, top",
        "surface_id": "P1-top", "zone_note": "up to Wed 5 May 18:00 · all times CEST",
        "verdict": "Curing was over Wed 5 May 13:10: 3 days.", "is_over": True,
        "facts": (Fact(name="Placing ended", value="Sun 2 May 11:00",
                       source="planned, nobody wrote"),),
        "sections": (
            Section(
                title="What Three days asks, and the proof",
                columns=("Asked", "Proof", "Known from", "State"),
                widths=(3, 3, 2, 1),
                rows=(
                    Row(cells=("3 days.", "3 d credited", "by the clock", "met")),
                    Row(cells=("No frost.", "down to −2 °C", "by the clock", "NOT met"),
                        tone="bad"),
                    Row(cells=("A look a shift.", "4 of 9", "as written", "unknown"),
                        tone="open"),
                ),
            ),
            Section(title="Dry gaps", columns=("Dry",), widths=(1,), none="None."),
        ),
        "course": course(), "not_met": ("No frost: down to −2 °C (NOT met)",),
        "missing": ("when placing of P1 finished",),
        "notes": ("By the clock: a model.", "It never says that concrete is safe."),
    }  # fmt: skip
    return CuringRecord.model_validate(base | fields)


def signed(of: CuringRecord | None = None, **fields: object) -> SignedRecord:
    """The record, signed once and amended."""
    made = of or record()
    base: dict[str, object] = {
        "record": made, "digest": digest_of(made.text),
        "signatures": (
            Signature(
                entry=13, name="Ada Keel", role="quality engineer",
                when="Wed 5 May 18:00", digest="ab" * 32, gaps=1,
            ),
        ),
        "amended": ("entry 14: P1-top: found dry",),
    }  # fmt: skip
    return SignedRecord.model_validate(base | fields)
