"""The command line: one group, one place where planned errors become exit codes."""

import sys

import typer

from exports.notices import PLANNING_AID
from models.errors import KeepdampError
from scheduler.cli import (
    advise,
    check,
    fleet,
    log,
    plan,
    publish,
    record,
    replan,
    schema,
    screen,
    tonight,
)

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    help="Plan, schedule and check the curing of a site's concrete pours.",
    epilog=PLANNING_AID,
)
app.command("check")(check.check)
app.command("plan")(plan.plan)
app.command("publish")(publish.publish)
app.command("log", epilog=log.EXAMPLES)(log.log)
app.command("replan")(replan.replan)
app.command("fleet")(fleet.fleet)
app.command("tonight")(tonight.tonight)
app.command("advise")(advise.advise)
app.command("record", epilog=record.EXAMPLES)(record.record)
app.command("schema")(schema.schema)


def main() -> None:
    """Run a command; a planned error is a message and a code, a bug a traceback."""
    try:
        app()
    except KeepdampError as error:
        screen.complain(error)
        sys.exit(error.exit_code)
