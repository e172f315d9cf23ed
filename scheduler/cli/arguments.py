"""Arguments and options that several commands share."""

from pathlib import Path
from typing import Annotated

import typer

from models.files.published import own_roster

SiteFolder = Annotated[
    Path,
    typer.Argument(
        metavar="SITE",
        help="Site folder: site.toml, pours, weather.",
        show_default=False,
    ),
]
StayNear = Annotated[
    bool,
    typer.Option(
        "--stay-near",
        help="Start from the roster already handed out, out/roster.json: keep its "
        "visits unless a change is worth its price.",
    ),
]
PublishedRoster = Annotated[
    Path | None,
    typer.Option(
        metavar="ROSTER",
        help="Published roster to stay near; default out/roster.json.",
        show_default=False,
    ),
]
Seconds = Annotated[
    float | None,
    typer.Option(
        min=1,
        help="Time limit of the search. Without it a fixed amount of work, so that the "
        "same folder gives the same roster.",
        show_default=False,
    ),
]
Seed = Annotated[int, typer.Option(min=0, help="Random seed.")]
Json = Annotated[bool, typer.Option("--json", help="Print JSON, for scripts.")]
DrySide = Annotated[
    bool,
    typer.Option("--dry-side", help="Assume warmer, windier weather without rain."),
]


def near_of(site: Path, stay_near: bool, published: Path | None) -> Path | None:
    """Give the published roster that the two options mean; None for neither."""
    return own_roster(site) if stay_near and published is None else published
