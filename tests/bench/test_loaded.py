"""The load of the machine changes nothing but the time."""

from scheduler.solver.search.effort import Effort
from tests.bench.instances import Size, instance
from tests.bench.loaded import every_core_busy, roster_bytes


def test_a_loaded_machine_writes_the_same_bytes() -> None:
    work, effort = instance(Size(3, days=1), 3), Effort(work=0.02)
    idle = roster_bytes(work, effort)
    with every_core_busy():
        assert roster_bytes(work, effort) == idle
