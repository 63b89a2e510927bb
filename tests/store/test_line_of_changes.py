"""Any mix of saving, undoing and redoing, against two plain stacks of texts."""

import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from sqlalchemy import event

from loomwright.invalid import InvalidInput
from loomwright.store.opening import open_store
from loomwright.store.rig_values import EditConflict

TEXTS = st.sampled_from(["", "a = 1\n", "a = 2\n", "a = \n", "b = 1\n"])


class LineOfChanges(RuleBasedStateMachine):
    """One rig under edit; `done` and `undone` are what every editor keeps."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.store = open_store(Path(self.folder.name) / "shop.db")
        self.statements: list[str] = []
        event.listen(self.store.access.engine, "before_cursor_execute", self.note)
        self.rig = self.store.rigs.create("", "Kim").id
        self.done, self.undone, self.written = [""], [], [""]  # type: list[str], list[str], list[str]

    def note(self, *said: Any) -> None:
        """Remember what the database is told."""
        self.statements.append(said[2])

    @rule(text=TEXTS)
    def save(self, text: str) -> None:
        """Save a text on the newest version."""
        saved = self.store.rigs.save(self.rig, text, len(self.written), "Kim")
        assert saved.text == text
        if text != self.done[-1]:
            self.done.append(text)
            self.undone.clear()
            self.written.append(text)

    @rule(text=TEXTS, data=st.data())
    @precondition(lambda self: len(self.written) > 1)
    def save_on_an_old_version(self, text: str, data: st.DataObject) -> None:
        """Save a text on a version that is not the newest."""
        old = data.draw(st.integers(1, len(self.written) - 1))
        if text == self.done[-1]:
            self.store.rigs.save(self.rig, text, old, "Kim")
        else:
            with pytest.raises(EditConflict):
                self.store.rigs.save(self.rig, text, old, "Kim")

    @rule()
    def undo(self) -> None:
        """Step back, if there is a step."""
        if len(self.done) == 1:
            with pytest.raises(InvalidInput):
                self.store.rigs.undo(self.rig, "Kim")
            return
        self.undone.append(self.done.pop())
        assert self.store.rigs.undo(self.rig, "Kim").text == self.done[-1]
        self.written.append(self.done[-1])

    @rule()
    def redo(self) -> None:
        """Step forward, if there is a step."""
        if not self.undone:
            with pytest.raises(InvalidInput):
                self.store.rigs.redo(self.rig, "Kim")
            return
        self.done.append(self.undone.pop())
        assert self.store.rigs.redo(self.rig, "Kim").text == self.done[-1]
        self.written.append(self.done[-1])

    @invariant()
    def history_is_all_that_was_ever_written(self) -> None:
        """Nothing is overwritten: versions only grow, numbered from 1."""
        history = self.store.rigs.history(self.rig)
        assert [each.text for each in history] == self.written
        assert [each.number for each in history] == list(range(1, len(self.written) + 1))
        assert self.store.rigs.entry(self.rig).version == len(self.written)
        assert not [each for each in self.statements if each.startswith("UPDATE versions")]
        assert not [each for each in self.statements if each.startswith("DELETE")]

    def teardown(self) -> None:
        """Let go of the store."""
        self.store.close()
        self.folder.cleanup()


def test_saving_undoing_and_redoing_are_as_in_every_editor() -> None:
    run_state_machine_as_test(
        LineOfChanges, settings=settings(max_examples=25, stateful_step_count=25)
    )
