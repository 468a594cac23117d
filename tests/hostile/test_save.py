"""Saving while something goes wrong: the job file is whole, and the user is told."""

import os
import signal
import subprocess
import sys
import threading

import pytest
from server import NOTEBOOKS

from calcbook.command import cli
from calcbook.job.file import Job, JobChanged, JobError
from calcbook.job.files import write_whole

DEMO = (NOTEBOOKS / "demo.toml").read_text(encoding="utf-8")


def test_killed_a_hundred_times_while_saving_the_file_is_the_old_or_the_new_one(tmp_path):
    """SIGKILL at a hundred moments, spread over the time of a save."""
    path = tmp_path / "demo.toml"
    texts = [f"# {n} " + "x" * 60_000 + "\n" + DEMO for n in range(2)]
    path.write_text(texts[0], encoding="utf-8")
    midway = 0
    for n in range(100):
        child = os.fork()
        if child == 0:
            try:
                while True:
                    for text in texts:
                        write_whole(path, text)
            finally:
                os._exit(1)
        threading.Event().wait(0.002 + 0.00013 * n)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        assert path.read_text(encoding="utf-8") in texts
        midway += any(p.name.startswith(".saving-") for p in tmp_path.iterdir())
    assert midway > 0  # some were killed between the first byte and the last
    write_whole(path, texts[0])
    assert [p.name for p in tmp_path.iterdir()] == ["demo.toml"]  # what they left is gone


def test_of_two_notebooks_that_save_the_second_is_told_and_nothing_is_lost(demo_copy):
    first, second = Job.read(demo_copy), Job.read(demo_copy)
    first.save({"slab.thickness": "6 in", "job.note": "by the first"})
    with pytest.raises(JobChanged, match=r"slab\.thickness was changed.*nothing was saved"):
        second.save({"slab.thickness": "7 in", "base.thickness": "5 in"})
    saved = second.save({"base.thickness": "5 in"})  # another field goes in beside the first's
    assert saved.slab.thickness.m_as("inch") == 6 and saved.job.note == "by the first"
    assert saved.base.thickness.m_as("inch") == 5


def test_a_full_disk_is_told_and_the_file_stays(demo_copy):
    code = (
        "import resource, signal, sys; from calcbook.job.file import Job, JobError\n"
        "job = Job.read(sys.argv[1]); signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000))\n"
        "try: job.save({'slab.thickness': '6 in'})\n"
        "except JobError as error: print(error)\n"
    )
    done = subprocess.run([sys.executable, "-c", code, demo_copy], capture_output=True, text=True)
    assert "could not be written" in done.stdout and done.stderr == ""
    assert demo_copy.read_text(encoding="utf-8") == DEMO
    assert [p.name for p in demo_copy.parent.iterdir()] == ["demo.toml"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder_is_told_and_the_file_stays(demo_copy):
    demo_copy.parent.chmod(0o555)
    try:
        with pytest.raises(JobError, match="could not be written"):
            Job.read(demo_copy).save({"slab.thickness": "6 in"})
    finally:
        demo_copy.parent.chmod(0o755)
    assert demo_copy.read_text(encoding="utf-8") == DEMO


def test_a_link_stays_a_link_and_the_file_behind_it_is_saved(demo_copy, tmp_path):
    link = tmp_path / "link.toml"
    link.symlink_to(demo_copy)
    Job.read(link).save({"slab.thickness": "6 in"})
    assert link.is_symlink() and Job.read(demo_copy).slab.thickness.m_as("inch") == 6


def test_line_ends_and_byte_order_mark_are_read_and_saved(tmp_path):
    path = tmp_path / "windows.toml"
    path.write_bytes(b"\xef\xbb\xbf" + DEMO.replace("\n", "\r\n").encode("utf-8"))
    saved = Job.read(path).save({"slab.thickness": "6 in"})
    assert saved.slab.thickness.m_as("inch") == 6
    assert "the weather to come; all values invented" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("kind", ["folder", "nothing", "utf-16", "binary", "loop", "fifo name"])
def test_what_is_no_job_file_is_refused_in_one_sentence(kind, tmp_path, capsys):
    path = tmp_path / "job.toml"
    if kind == "folder":
        path.mkdir()
    elif kind == "utf-16":
        path.write_bytes(DEMO.encode("utf-16"))
    elif kind == "binary":
        path.write_bytes(bytes(range(256)) * 40)
    elif kind == "loop":
        path.symlink_to(path)
    elif kind == "fifo name":
        path = tmp_path / "a\x1b[31m\n.toml"
    assert cli.main(["check", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == "" and len(err.splitlines()) == 1 and "\x1b" not in err, err


def test_stopped_while_printing_no_half_file_is_left(demo_copy, monkeypatch):
    def stop(*arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr("calcbook.paper.printout.compile_pdf", stop)
    assert cli.main(["print", str(demo_copy)]) == 130
    assert [p.name for p in demo_copy.parent.iterdir()] == ["demo.toml"]


def test_stopped_while_the_bytes_are_written_no_half_file_is_left(tmp_path, monkeypatch):
    def stop(handle):
        raise KeyboardInterrupt

    path = tmp_path / "p.pdf"
    path.write_bytes(b"old")
    monkeypatch.setattr("os.fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old" and [p.name for p in tmp_path.iterdir()] == ["p.pdf"]
