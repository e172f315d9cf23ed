"""Sites over a cluster of machines that see the same folders (dask.distributed).

The cluster is somebody else's: its workers are started elsewhere, one thread each,
with keepdamp installed and the site folders mounted at the same path. A site whose
worker dies is given to another by the scheduler, as often as that allows. Sites that
run when the command is stopped are finished and written there.
"""

from collections import deque
from collections.abc import Generator, Sequence
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

from models.errors import InputError, Place, Problem
from scheduler.fleet.mapper import SitePlanner
from scheduler.fleet.outcome import Outcome, Unplanned

_CONNECT_S = 10


@dataclass(frozen=True)
class Cluster:
    """The workers of the scheduler at an address."""

    address: str

    def map(
        self, planner: SitePlanner, folders: Sequence[Path]
    ) -> Generator[Outcome, None, None]:
        """Plan every folder; outcomes as they arrive.

        Raises
        ------
        InputError
            If dask.distributed is not installed or nobody answers at the address.
        """
        distributed = _distributed()
        waiting = deque(folders)
        given: dict[Any, Path] = {}
        with self._client(distributed) as client:
            arriving = distributed.as_completed()
            while waiting or given:
                try:
                    # No more than can run: a worker's death counts against every site
                    # in its queue, not only against the one that it was at.
                    threads = sum(client.nthreads().values())
                except OSError as error:
                    left = [*given.values(), *waiting]
                    yield from (_given_up(folder, error) for folder in left)
                    return
                while waiting and len(given) < max(1, threads):
                    folder = waiting.popleft()
                    future = client.submit(planner, folder, pure=False)
                    given[future] = folder
                    arriving.add(future)
                future = next(arriving)
                yield _outcome(future, given.pop(future))

    def _client(self, distributed: ModuleType) -> Any:  # noqa: ANN401 - untyped there
        try:
            return distributed.Client(self.address, timeout=_CONNECT_S)
        except (OSError, ValueError) as error:
            raise _problem(
                f"{self.address!r}: {error}",
                "the address of a running scheduler, such as tcp://host:8786",
            ) from None


def _distributed() -> ModuleType:
    # Imported only here: it is not among what every user installs.
    try:
        return import_module("distributed")
    except ImportError:
        raise _problem(
            "no dask.distributed installed here",
            "the package that speaks to clusters",
            "Install it: pip install 'keepdamp[cluster]'",
        ) from None


def _outcome(future: Any, folder: Path) -> Outcome:  # noqa: ANN401 - untyped there
    """Take the outcome, or tell what the cluster says became of it."""
    try:
        outcome: Outcome = future.result()
    except Exception as error:
        return _given_up(folder, error)
    return outcome


def _given_up(folder: Path, error: Exception) -> Unplanned:
    return Unplanned(folder, 1, fault=f"the cluster gave it up: {error}")


def _problem(found: str, wanted: str, hint: str = "") -> InputError:
    return InputError([Problem(Place("fleet"), "--scheduler", found, wanted, hint)])
