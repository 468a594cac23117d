"""The process behind a page: what it does before a page asks, and what only while it waits."""

from types import SimpleNamespace

import pytest

from calcbook.command import kernel


@pytest.mark.parametrize(("asked", "loads"), [(0, 1), (1, 0)])
def test_the_mathematics_of_derivations_is_loaded_only_where_no_page_has_asked(
    monkeypatch, asked, loads
):
    done = []
    monkeypatch.setattr(kernel, "rehearse_derivation", lambda: done.append(1))
    monkeypatch.setattr(kernel.gc, "freeze", lambda: None)
    kernel._while_it_waits(SimpleNamespace(shell=SimpleNamespace(execution_count=1 + asked)))
    assert len(done) == loads
