"""Arguments and options that several commands share."""

from pathlib import Path
from typing import Annotated

import typer

SiteFolder = Annotated[
    Path,
    typer.Argument(
        metavar="SITE",
        help="Site folder: site.toml, pours, weather.",
        show_default=False,
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print JSON, for scripts.")]
DrySide = Annotated[
    bool,
    typer.Option(
        "--dry-side", help="As if the forecast erred: warmer, windier, no rain."
    ),
]
