"""Files and moments that no one means: pipes and devices, names of many parts, a stop, a full disk, two who save."""

import functools
import os
import signal
import stat
import subprocess
import sys
import time
from types import SimpleNamespace

import pytest
from server import NOTEBOOKS

from calcbook.basis.text_table import csv_text
from calcbook.command import cli
from calcbook.command.outputs import write_out
from calcbook.job.file import Job, JobError
from calcbook.job.files import locked, write_whole

DEMO = str(NOTEBOOKS / "demo.toml")
SMALL = '[slab]\nlength = "20 ft"\nwidth = "16 ft"\n'
posix = pytest.mark.skipif(os.name != "posix", reason="pipes, masks and signals of POSIX")
linux = pytest.mark.skipif(sys.platform != "linux", reason="reads /proc or writes /dev/full")


@pytest.fixture(scope="module", autouse=True)
def stops_are_heard():
    """What is begun in the background of a shell ignores Ctrl-C, and so would every command that these tests start."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def start(*words, **options):
    return subprocess.Popen(
        [sys.executable, "-m", "calcbook", *map(str, words)],
        stdout=options.pop("stdout", subprocess.PIPE), stderr=subprocess.PIPE, text=True, **options,
    )  # fmt: skip


PEAK = """
import re
from pathlib import Path
from calcbook.__main__ import command
try:
    status = command()
finally:
    print(re.search(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())[1])
raise SystemExit(status)
"""


def measured(*words):
    """(exit status, errors, seconds of the processor, megabytes) of a run.

    Its own peak by /proc: what wait4 tells may be that of the process that started it.
    """
    process = subprocess.Popen(
        [sys.executable, "-c", PEAK, *map(str, words)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    out, err = process.stdout.read(), process.stderr.read()
    process.stdout.close(), process.stderr.close()
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return process.returncode, err, used.ru_utime + used.ru_stime, float(out.split()[-1]) / 1024


HARMFUL = {
    "10^5 keys with a dot": "\n".join(f"a{n}.b = 1" for n in range(60_000)),
    "a name of 10^5 parts": "a" + ".a" * 100_000 + " = 1\n",
    "many names of many parts": "\n".join(f"a{n}" + ".a" * 4900 + " = 1" for n in range(90)),
    "headings of many parts": "\n".join(f"[a{n}." + "a." * 400 + "a]" for n in range(1000)),
    "parts inside of braces": "a = {" + ", ".join(f"b{n}.c = 1" for n in range(70_000)) + "}",
    "60,000 keys": SMALL + "[crew]\n" + "\n".join(f"k{n} = 1" for n in range(60_000)),
    "a key of 100,000 letters": SMALL + "[crew]\n" + "k" * 100_000 + " = 1\n",
    "a section of 100,000 letters": SMALL + "[" + "k" * 100_000 + "]\nx = 1\n",
    "a number of 900,000 digits": SMALL + "[crew]\nsize = " + "9" * 900_000 + "\n",
    "a number of 100,000 hexadecimal digits": SMALL + "[crew]\nsize = 0x" + "f" * 100_000 + "\n",
    "a power of 10^9": SMALL + "[crew]\nsize = 1e999999999\n",
    "a length of 900,000 digits": SMALL.replace("20 ft", "9" * 900_000 + " ft"),
    "a sign that is no letter": SMALL + '[job]\nname = "a\ufffeb"\n',
    "a time of day for a date": SMALL + "[job]\ndate = 07:30:00\n",
    "a time of day in quotes for a date": SMALL + '[job]\ndate = "07:30"\n',
    "a time of day for a name": SMALL + "[job]\nname = 07:30:00\n",
    "a date for a time of day": SMALL + "[pour]\nstart = 2026-01-01\n",
}  # fmt: skip


@posix
@pytest.mark.parametrize("name", HARMFUL)
def test_a_harmful_file_is_refused_in_a_sentence_in_2_seconds_and_200_megabytes(name, tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(HARMFUL[name], encoding="utf-8")
    status, err, seconds, megabytes = measured("check", path)
    assert status == 2 and len(err.splitlines()) == 1 and len(err) < 300, err[:600]
    assert err.startswith("job.toml") and "int_max_str_digits" not in err
    assert seconds < 2 and megabytes < 200


@posix
@pytest.mark.parametrize("kind", ["pipe", "zero", "folder"])
@pytest.mark.parametrize("words", [("check",), ("weather", DEMO)], ids=["job", "weather"])
def test_what_never_ends_is_no_file_to_read(kind, words, tmp_path):
    path = tmp_path / "job.toml"
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "zero":
        path.symlink_to("/dev/zero")
    else:
        path.mkdir()
    status, err, seconds, megabytes = measured(*words, path)
    assert status == 2 and len(err.splitlines()) == 1 and "could not be read" in err
    assert seconds < 2 and megabytes < 200


@posix
def test_a_pipe_is_never_written_over(tmp_path):
    os.mkfifo(tmp_path / "out.csv")
    for write in (write_whole, functools.partial(write_out, inputs=())):
        with pytest.raises(JobError, match="no file that can be written over"):
            write(tmp_path / "out.csv", "x")
    with pytest.raises(JobError, match="no file that can be written over"):
        write_out("/dev/zero", "x", ())  # would be read for ever
    assert stat.S_ISFIFO((tmp_path / "out.csv").stat().st_mode)


# --- a stop, a crash, no place for output ----------------------------------------------------------


def loaded(process):
    """Wait until a process has loaded what it computes with."""
    for _ in range(3000):
        with open(f"/proc/{process.pid}/maps", encoding="utf-8") as maps:
            if "_multiarray_umath" in maps.read():
                return
        time.sleep(0.01)
    raise AssertionError("it never began")


@linux
@pytest.mark.parametrize("later", [0.0, 0.2, 0.7, 1.5])
@pytest.mark.parametrize("words", [
    ("print", DEMO, "-o", "demo.pdf"), ("sweep", DEMO, "slab.thickness=4:8:0.1in", "--processes", "2"),
], ids=["print", "sweep"])  # fmt: skip
def test_a_stop_ends_in_one_line_and_leaves_no_half_file(words, later, tmp_path):
    process = start(*words, cwd=tmp_path)
    loaded(process)
    time.sleep(later)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (130, "stopped\n")
    assert not list(tmp_path.iterdir())


SWALLOWS = """
import signal, sys, time
from calcbook import __main__ as book
from calcbook.command import desk, stop

def run(_arguments):
    try:
        signal.raise_signal(signal.SIGINT)
    except KeyboardInterrupt:
        pass  # as a library does that takes every error for a missing part
    time.sleep(GOES_ON)
    return 1

stop.AGAIN = 0.2
desk.run_demo = run
sys.argv[1:] = ["demo"]
sys.exit(book.command())
"""


@linux
@pytest.mark.parametrize("goes_on", [0.0, 60.0], ids=["ends at once", "works on"])
def test_a_stop_that_a_library_swallows_is_a_stop_all_the_same(goes_on):
    script = SWALLOWS.replace("GOES_ON", str(goes_on))
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, timeout=30, check=False
    )
    assert (done.returncode, done.stderr) == (130, "stopped\n")


def test_a_stop_while_a_library_loads_is_a_stop_though_it_tells_it_as_an_error(monkeypatch, capsys):
    def loads(arguments):
        try:
            raise KeyboardInterrupt
        except KeyboardInterrupt as stop:
            raise ImportError("initialization failed") from stop

    parser = cli._parser()
    monkeypatch.setattr(cli, "_parser", lambda: parser)
    monkeypatch.setattr(parser, "parse_args", lambda argv: SimpleNamespace(run=loads))
    assert cli.main(["demo"]) == 130 and capsys.readouterr().err == "stopped\n"


@linux
def test_a_full_disk_behind_the_output_is_told_in_a_line():
    with open("/dev/full", "w", encoding="utf-8") as full:
        process = start("fields", "slab", stdout=full)
        _, err = process.communicate(timeout=60)
    assert process.returncode == 2
    assert err == "it could not be written (No space left on device)\n"


@posix
def test_a_closed_output_is_told_in_a_line():
    process = start("fields", "slab", stdout=None, preexec_fn=lambda: os.close(1))
    _, err = process.communicate(timeout=60)
    assert process.returncode == 2 and err == "there is no output to write to: it is closed\n"


def test_a_fault_of_the_book_is_no_open_check(monkeypatch, capsys):
    def broken(job, volume):
        return job.slab + 1

    monkeypatch.setattr("calcbook.pour.mix_order.chapter", broken)
    assert cli.main(["quote", DEMO]) == 3
    _, err = capsys.readouterr()
    assert len(err.splitlines()) == 1 and "a fault of the book" in err and "TypeError" in err


# --- files as the system has them ------------------------------------------------------------------


@posix
@pytest.mark.parametrize(("mask", "mode"), [(0o022, 0o644), (0o077, 0o600), (0o002, 0o664)])
def test_a_new_file_follows_the_mask_and_an_old_one_keeps_its_mode(mask, mode, tmp_path):
    path, before = tmp_path / "a.toml", os.umask(mask)
    try:
        write_whole(path, SMALL)
        assert stat.S_IMODE(path.stat().st_mode) == mode
        path.chmod(0o640)
        write_whole(path, SMALL)
        assert stat.S_IMODE(path.stat().st_mode) == 0o640
    finally:
        os.umask(before)


@posix
def test_a_lock_frees_itself_when_its_holder_is_killed(tmp_path):
    path = tmp_path / "a.toml"
    child = os.fork()
    if child == 0:
        with locked(path):
            os.kill(os.getpid(), signal.SIGKILL)
    os.waitpid(child, 0)
    begun = time.monotonic()
    with locked(path):
        assert time.monotonic() - begun < 1
    assert not list(tmp_path.iterdir())


RACES = int(os.environ.get("CALCBOOK_RACES", "12"))  # 500 of each for the long run


@posix
def test_of_two_who_save_again_and_again_nothing_is_lost(demo_copy):
    """Each adds one supplier at a time to what stands on disk; all of them are there in the end."""
    children = []
    for who in ("a", "b"):
        child = os.fork()
        if child == 0:
            try:
                for n in range(RACES):
                    with locked(demo_copy):
                        text = demo_copy.read_text(encoding="utf-8")
                        write_whole(demo_copy, f"{text}# {who}{n}\n")
                    Job.read(demo_copy)
            except BaseException:
                os._exit(1)
            os._exit(0)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0, 0]
    lines = demo_copy.read_text(encoding="utf-8").splitlines()
    assert {f"# {who}{n}" for who in "ab" for n in range(RACES)} <= set(lines)
    assert [p.name for p in demo_copy.parent.iterdir()] == ["demo.toml"]


@pytest.mark.parametrize(
    "sign", ["=", "＝", "﹦", "＋", "﹢", "－", "﹣", "−", "＠", "﹫", " ＝", "\t=", "\u3000＝"]
)
def test_what_looks_like_the_sign_of_a_formula_is_text_in_a_table(sign):
    assert csv_text(["a"], [[f"{sign}1+1"]]).splitlines()[1].lstrip('"').startswith("'")


def test_nothing_is_kept_that_could_run(tmp_path):
    """A cache of pickles would run whatever another has put there."""
    done = subprocess.run(
        [sys.executable, "-m", "calcbook", "value", "slab_volume", "A=100 ft2", "t=4 in"],
        env={**os.environ, "XDG_CACHE_HOME": str(tmp_path), "HOME": str(tmp_path)}, capture_output=True, check=True,
    )  # fmt: skip
    assert b"ft" in done.stdout and not [
        p for p in tmp_path.rglob("*") if p.suffix in (".pickle", ".pkl")
    ]
