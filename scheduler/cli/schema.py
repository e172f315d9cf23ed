"""``keepdamp schema``: JSON Schema of every input and of the roster."""

from typing import Annotated

import typer

from models.files.schema import schemas
from scheduler.cli import screen


def schema(
    name: Annotated[
        str, typer.Argument(help="Name of a schema; leave it out to list them.")
    ] = "",
) -> None:
    """Print the JSON Schema of an input file or of the roster."""
    known = schemas()
    if not name:
        for one in known:
            screen.say(one)
    elif name in known:
        screen.say_json(known[name])
    else:
        raise typer.BadParameter(f"found {name}; expected one of {', '.join(known)}")
