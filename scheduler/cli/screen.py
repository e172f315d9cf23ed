"""The only printing: results to stdout, progress and complaints to stderr."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from rich.console import Console
from rich.padding import Padding
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn
from rich.table import Table
from rich.text import Text

from models.errors import InputError, KeepdampError
from scheduler.workflow import Listener


def out() -> Console:
    """Console of results; honours NO_COLOR and pipes."""
    return Console(highlight=False, soft_wrap=True)


def _err() -> Console:
    return Console(stderr=True, highlight=False, soft_wrap=True)


def say(text: str = "", style: str = "") -> None:
    """Print a line of results; brackets in it are text, not markup."""
    out().print(Text(text, style=style))


def say_wrapped(text: str, indent: int, style: str = "") -> None:
    """Print a line indented, as many lines as the terminal makes of it."""
    Console(highlight=False).print(
        Padding(Text(text, style=style), (0, 0, 0, indent), expand=False)
    )


def say_json(value: Any) -> None:  # noqa: ANN401 - whatever json takes
    """Print a result for scripts."""
    out().out(json.dumps(value, ensure_ascii=False, indent=2))


def say_table(table: Table) -> None:
    """Print a table as wide as the terminal allows."""
    Console(highlight=False).print(table)


def complain(error: KeepdampError) -> None:
    """Print a planned error; problems one a line, so that each can be ticked off."""
    console = _err()
    if not isinstance(error, InputError):
        console.print(Text(str(error)))
        return
    count = len(error.problems)
    console.print(Text(f"{count} problem{'' if count == 1 else 's'} found:", "bold"))
    for problem in error.problems:
        console.print(Text(f"  {problem}"))


@contextmanager
def progress() -> Iterator[Listener]:
    """Show stages as they run; nothing where stderr is not a terminal."""
    console = _err()
    if not console.is_terminal:
        yield lambda _name, _done: None
        return
    columns = (
        TextColumn("{task.description}"),
        BarColumn(bar_width=24),
        TimeElapsedColumn(),
    )
    with Progress(*columns, console=console, transient=True) as bar:
        task = bar.add_task("", total=1)
        yield lambda name, done: bar.update(task, description=name, completed=done)
