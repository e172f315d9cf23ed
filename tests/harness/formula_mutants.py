"""Whether the table of published values notices a formula or a figure that is wrong.

``python -m tests.harness.formula_mutants [words] [--processes 2]`` takes the mutants of
``formula_mutants.toml`` (those that hold all the words in file or text), puts each into
a copy of the checkout of its own, works the reference table out there and tells which
were noticed: by a value that is independent of ours, by a regression only, or not at
all. No other test runs, nor the second march. This checkout is only read.

Packages are loaded once; each mutant is a process forked off that.
"""

import argparse
import multiprocessing
import re
import shutil
import sys
import tempfile
import tomllib
from collections import Counter
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # a copy's own is asked, not this one
    from tests.references.case import Case

ROOT = Path(__file__).parents[2]
MUTANTS = Path(__file__).with_suffix(".toml")
#: What the table needs of a checkout.
_NEEDED = ("models", "scheduler", "tests")
_LOADED_ONCE = (
    "CoolProp.CoolProp", "fipy", "iapws", "pandas", "psychrolib", "pvlib", "pydantic",
    "pyet", "refet", "scipy.optimize", "scipy.special", "structuralcodes.codes",
    "thermofeel",
)  # fmt: skip
#: Topics that take seconds.
_SLOW = ("evaporation_over_a_year", "heat_", "whole_clocks")
ENDS = ("noticed", "by a regression", "unnoticed")


@dataclass(frozen=True)
class FormulaMutant:
    """A text that stands once in a file, what is put in its place, and why."""

    file: str
    was: str
    now: str
    why: str

    def __str__(self) -> str:
        """Say it in a line."""
        name = self.file.removeprefix("models/")
        return f"{name}: {_line(self.was)} → {_line(self.now)}"


def listed() -> list[FormulaMutant]:
    """Read the mutants."""
    table = tomllib.loads(MUTANTS.read_text("utf-8"))
    return [FormulaMutant(file, **one) for file, ones in table.items() for one in ones]


def changed(text: str, mutant: FormulaMutant) -> str:
    """Put a mutant into the text of its file."""
    if text.count(mutant.was) != 1:
        raise SystemExit(f"{mutant}: stands {text.count(mutant.was)} times")
    return text.replace(mutant.was, mutant.now)


def end(mutant: FormulaMutant | None, checkout: Path) -> tuple[str, str]:
    """Tell how the table takes a mutant, or none, and the first case that notices."""
    with tempfile.TemporaryDirectory(prefix="formula-") as temporary:
        copy = Path(temporary)
        _copy(checkout, copy)
        if mutant is not None:
            path = copy / mutant.file
            text = changed(path.read_text("utf-8"), mutant)
            path.unlink()
            path.write_text(text, "utf-8")
            shutil.rmtree(path.parent / "__pycache__", ignore_errors=True)
        return _asked_in(copy, Path(mutant.file).stem if mutant else "")


def _copy(checkout: Path, folder: Path) -> None:
    for name in _NEEDED:
        shutil.copytree(checkout / name, folder / name)


def _asked_in(copy: Path, about: str) -> tuple[str, str]:
    """Work the table out with the modules of a copy, in a process of its own.

    Topics that name the file come first and those that take seconds last, since most
    mutants are noticed before.
    """
    sys.path[:] = [str(copy), *(p for p in sys.path if p not in ("", str(ROOT)))]
    for name in list(sys.modules):
        if name.partition(".")[0] in ("models", "scheduler", "exports", "tests"):
            del sys.modules[name]
    sys.dont_write_bytecode = True
    topics = {
        path.stem: re.search(rf"\b{about}\b", path.read_text("utf-8")) is None
        for path in sorted((copy / "tests/references/topics").glob("*.py"))
    }
    by_regression = ""
    for name in sorted(topics, key=lambda name: (topics[name], name.startswith(_SLOW))):
        try:
            topic = import_module(f"tests.references.topics.{name}")
            ended, case = noticed(topic.CASES)
        except Exception as error:  # whatever a wrong formula may raise
            return "noticed", f"{name}: {type(error).__name__}"
        if ended == "noticed":
            return ended, case
        by_regression = by_regression or case
    return ("by a regression", by_regression) if by_regression else ("unnoticed", "")


def noticed(cases: "Iterable[Case]") -> tuple[str, str]:
    """Tell the first case outside its tolerance; a regression only if no other is."""
    by_regression = ""
    for case in cases:
        if not abs(case.ours() - case.expected) <= case.allowed:  # NaN is outside, too
            if case.how != "regression":
                return "noticed", case.id
            by_regression = by_regression or case.id
    return ("by a regression", by_regression) if by_regression else ("unnoticed", "")


def ends(mutants: Sequence[FormulaMutant], processes: int) -> Counter[str]:
    """Ask the table about mutants, print each and count the ends.

    All of them are put into the checkout as it is now, whatever is written there
    meanwhile; without any the table has to hold.
    """
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([*_LOADED_ONCE, __name__])
    found: Counter[str] = Counter()
    with (
        tempfile.TemporaryDirectory(prefix="formula-") as temporary,
        ProcessPoolExecutor(
            processes, mp_context=context, max_tasks_per_child=1
        ) as pool,
    ):
        _copy(ROOT, Path(temporary))
        told = pool.map(partial(end, checkout=Path(temporary)), [None, *mutants])
        _, wrong = next(told)
        if wrong:
            raise SystemExit(f"the table does not hold without any mutant: {wrong}")
        for mutant, (ended, case) in zip(mutants, told, strict=True):
            found[ended] += 1
            print(f"{ended:16}{mutant}  [{case or mutant.why}]", flush=True)
    return found


def _line(text: str) -> str:
    return " ".join(text.split())


def main() -> None:
    """Read the command line, print every mutant and the shares."""
    parser = argparse.ArgumentParser(description="Does the table notice wrong figures?")
    parser.add_argument("words", nargs="*", help="only mutants that hold these")
    parser.add_argument("--processes", type=int, default=2)
    told = parser.parse_args()
    mutants = [m for m in listed() if all(word in str(m) for word in told.words)]
    found = ends(mutants, told.processes)
    shares = (f"{found[e]} {e} ({found[e] / len(mutants):.0%})" for e in ENDS)
    print(f"\n{len(mutants)} mutants: {', '.join(shares)}")


if __name__ == "__main__":
    main()
