"""What the finds in a ledger teach of the site's covers: ``keepdamp log --fit``."""

from pathlib import Path

from rich.table import Table

from models.drying.covers import cover_properties
from models.errors import InputError, Place, Problem
from models.files.site_folder import read_folder
from models.records import LearnedCover, LearnedFactor
from scheduler.cli import screen
from scheduler.cli.ledgers import published_so_far
from scheduler.happened.carried import week_of_issue


def say_fit(folder: Path, *, as_json: bool) -> None:
    """List each kind of cover with what was thought of it, and what its finds say."""
    so_far = published_so_far(folder)
    if so_far is None:
        hint = "Finds tell something once a roster is published: keepdamp publish"
        problem = Problem(
            Place(str(folder)), "", "nothing was published yet", hint=hint
        )
        raise InputError([problem])
    learned = so_far.learned_on(week_of_issue(so_far, read_folder(folder)))
    if as_json:
        screen.say_json([one.model_dump(mode="json") for one in learned])
        return
    if not learned:
        screen.say(
            "Nothing was found yet: no covers were looked at under a known clock."
        )
        return
    labels = {work.surface_id: work.label for work in so_far.issue.surfaces}
    screen.say_table(_table(learned, labels))
    screen.say(
        "Factors on what the covers table says; in brackets where nine tenths lie. The "
        "next plan uses the middle."
    )


def _table(learned: tuple[LearnedCover, ...], labels: dict[str, str]) -> Table:
    table = Table(box=None, pad_edge=False)
    for heading in (
        "Cover",
        "Finds",
        "Dries, thought",
        "found",
        "Holds, thought",
        "found",
    ):
        table.add_column(heading)
    for one in learned:
        where = "" if one.surface_id is None else f" on {labels[one.surface_id]}"
        table.add_row(
            f"{cover_properties(one.cover).title}{where}",
            f"{one.finds}, {one.refills} refilled",
            _words(one.loss_prior),
            _words(one.loss),
            _words(one.held_prior),
            _words(one.held),
        )
    return table


def _words(factor: LearnedFactor) -> str:
    low, high = factor.low_factor, factor.high_factor
    return f"{factor.median_factor:.2f} ({low:.2f}–{high:.2f})"
