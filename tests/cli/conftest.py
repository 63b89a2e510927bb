"""Running a command line in this process."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from loomwright.cli import main


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """Run one command line; return its exit code and both streams."""

    def call(*arguments: object) -> tuple[int, str, str]:
        code = main([str(each) for each in arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return call
