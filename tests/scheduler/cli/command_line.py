"""The command as a person runs it: words in, screen and exit code out."""

import json
from dataclasses import dataclass
from typing import Any

import pytest

from scheduler.cli.app import main


@dataclass(frozen=True)
class Ran:
    """What a run left on the screen."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:  # noqa: ANN401 - whatever was printed
        """The output as JSON."""
        return json.loads(self.out)


def run(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: str
) -> Ran:
    """Run ``keepdamp WORDS``."""
    monkeypatch.setattr("sys.argv", ["keepdamp", *words])
    with pytest.raises(SystemExit) as left:  # noqa: PT012 - main leaves or falls through
        main()
        raise SystemExit(0)
    captured = capsys.readouterr()
    code = left.value.code
    return Ran(code if isinstance(code, int) else 0, captured.out, captured.err)
