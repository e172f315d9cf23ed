"""``keepdamp replan``: the rest of a published week, from what has happened so far."""

from typing import Annotated

import typer

from models.errors import InputError, Place, Problem
from scheduler.cli import screen
from scheduler.cli.arguments import DrySide, Json, Seconds, Seed, SiteFolder
from scheduler.cli.ledgers import published_so_far
from scheduler.cli.plan import say_handed_out
from scheduler.hand_out import hand_out
from scheduler.workflow import PlanOptions


def replan(
    site: SiteFolder,
    at: Annotated[
        str,
        typer.Option(
            metavar="TIME",
            help='What starts before has begun and stays: 17:00, "Mon 17:00" or a full '
            "date.",
            show_default=False,
        ),
    ],
    seconds: Seconds = None,
    seed: Seed = 1,
    on_dry_side: DrySide = False,
    as_json: Json = False,
) -> None:
    """Plan the rest of a published week from what has happened.

    What began before stays as it was written down, or as it was planned where nobody
    wrote. Slips, readings, conditions found, crews and water that are out are taken up
    with the newest forecast; the rest stays near the newest issue.
    """
    so_far = published_so_far(site, at)
    if so_far is None:
        hint = "Plan and publish the week first: keepdamp plan, keepdamp publish"
        problem = Problem(Place(str(site)), "", "nothing was published yet", hint=hint)
        raise InputError([problem])
    options = PlanOptions(seconds, seed, on_dry_side)
    with screen.progress() as listener:
        handed = hand_out(site, options, listener, so_far)
    say_handed_out(handed, as_json=as_json)
