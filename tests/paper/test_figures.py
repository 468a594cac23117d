"""Figures of the printout: drawn aside or right here, they are the same; a failure is told."""

import sys
import threading

import pytest

from calcbook.basis.calculation import Calculation
from calcbook.book.chapters import run
from calcbook.paper.figures import begin_figures

needs_fork = pytest.mark.skipif(sys.platform != "linux", reason="only Linux draws aside")


def drawn(job, folder, monkeypatch, threads):
    folder.mkdir()
    monkeypatch.setattr(threading, "active_count", lambda: threads)
    found = begin_figures([run("volume", job)], folder, cover=job)()
    return found, {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.svg")}


@needs_fork
def test_drawn_aside_the_files_are_the_same(demo, tmp_path, monkeypatch):
    aside = drawn(demo, tmp_path / "aside", monkeypatch, threads=1)
    here = drawn(demo, tmp_path / "here", monkeypatch, threads=2)
    assert aside == here
    assert list(here[0]) == ["cover", "volume"] and len(here[0]["volume"]) == 3


@needs_fork
def test_a_figure_that_cannot_be_drawn_is_told(demo, tmp_path, monkeypatch, capfd):
    broken = Calculation("broken", "Broken", "?")
    broken.figure("never", lambda: 1 / 0)
    monkeypatch.setattr(threading, "active_count", lambda: 1)
    with pytest.raises(ZeroDivisionError):
        begin_figures([broken], tmp_path, cover=demo)()
    assert capfd.readouterr().err == ""
