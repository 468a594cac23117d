"""Feeds the book's readers with what a coverage-guided fuzzer finds, for a bounded time.

Optional, and no part of the test run: ``pip install atheris`` (Linux), then
``python tests/fuzz.py TARGET --seconds 600``. Targets: ``job`` (a job file is read), ``book`` (a
job file that can be read goes through every calculation, to text, screen and CSV), ``length``
(lengths and quantities), ``weather`` (the CSV forecast), ``value`` (``calcbook value``).

The book may answer, or refuse with an error of its own. All else is a finding: another exception,
a number that is none, more than ``SLOW`` seconds, more than ``MEGABYTES`` of memory. Findings are
told once each and kept in FOLDER/found; FOLDER/TARGET keeps the inputs that reached something new,
to go on from. A finding is mended in the product, and becomes a case in tests/hostile.
"""

import argparse
import contextlib
import datetime
import hashlib
import itertools
import math
import os
import random
import sys
import tempfile
import time
import tomllib
import traceback
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["calcbook", "tomllib"]):
    from calcbook.basis.formula import Choice
    from calcbook.basis.reading import read, read_feet_inches
    from calcbook.basis.units import TRADE_UNITS
    from calcbook.book.chapters import Book
    from calcbook.book.registry import load_formulas
    from calcbook.command import cli
    from calcbook.job.fields import Section
    from calcbook.job.file import Job, JobError
    from calcbook.job.forecast_csv import read_csv
    from calcbook.job.schema.sections import JobFile
    from calcbook.paper.screen import assumptions_html, headlines_html

    FORMULAS = load_formulas()

NOTEBOOKS = Path(__file__).parent.parent / "notebooks"
SCRATCH = Path(tempfile.mkdtemp(prefix="calcbook-fuzz-"))
SLOW, HANGS, MEGABYTES = 8, 60, 2000
UNITS, NAMES = sorted(TRADE_UNITS), sorted(FORMULAS)
NUMBERS = (
    "0", "-0", "1", "-1", "0.5", "2", "3", "5", "8", "12", "16", "24", "40", "99", "1000", "1e-12", "1e12", "1e308",
    "-1e308", "1e-308", "nan", "inf", "9" * 30, "0.000001", "3,500", "1/0", "7/8", "1 1/2", "24'-6 1/2",
)  # fmt: skip
WORDS = ("us", "si", "=1+1", "\u202e", "x" * 201, "", "É", "07:30", "2026-10-27", "2026-10-27 07:00")
HEADS = b"time,air (F),humidity (%),wind (mph),cloud (%)\n"
ROWS = b"2026-10-27 07:00,50,60,8,50\n2026-10-27 08:00,52,58,9,40\n2026-10-27 09:00,11 C,62,4 m/s,40\n"


# --- what a job file and a weather file are changed into -------------------------------------------------------


def _fields(model, place=""):
    """(heading, key, declaration) of every field of the job file."""
    for key, info in model.model_fields.items():
        inner = getattr(info.annotation, "__args__", (info.annotation,))[0]
        if isinstance(inner, type) and issubclass(inner, Section):
            many = getattr(info.annotation, "__origin__", None) is list
            name = f"{place}.{key}" if place else key
            for heading, *rest in _fields(inner, name):
                yield (f"[[{name}]]" if many and heading == f"[{name}]" else heading, *rest)
        elif place:
            yield f"[{place}]", key, info.json_schema_extra or {}


FIELDS = list(_fields(JobFile))
DECLARED = {(heading, key): declaration for heading, key, declaration in FIELDS}
KEYS = {key: declaration for _, key, declaration in FIELDS}


def _value(rng, declaration, gentle):
    """A value for a field as TOML text: mostly of its kind, with any number; gentle: one it takes."""
    for _ in range(8 if gentle else 1):
        found = _any_value(rng, declaration)
        try:
            declaration["reader"](tomllib.loads(f"x = {found}")["x"])
            return found
        except (ValueError, KeyError):
            continue
    return found


def _any_value(rng, declaration):
    if declaration.get("choices") and rng.random() < 0.9:
        return f'"{rng.choice(declaration["choices"])}"'
    if "unit" in declaration and rng.random() < 0.9:
        number = f"{10 ** rng.uniform(-2, 4):.3g}" if rng.random() < 0.8 else rng.choice(NUMBERS)
        unit_name = declaration["unit"] if rng.random() < 0.9 else rng.choice(UNITS)
        return f'"{number} {unit_name}"'.replace(' 1"', '"')
    return rng.choice(
        ("true", "false", f"{rng.randint(0, 9)}", rng.choice(NUMBERS), f'"{rng.choice(WORDS)}"', "[]")
    )


def change_job(data, largest, seed, gentle=False):
    """One to four lines of a job file changed, taken out, repeated, copied or put in; or any bytes.

    gentle: values change into others that their fields take, and little else.
    """
    rng = random.Random(seed)
    if not gentle and rng.random() < 0.2:
        return atheris.Mutate(data, largest)
    lines = data.decode("utf-8", "replace").split("\n")
    for _ in range(rng.randint(1, 4)):
        n = rng.randrange(len(lines))
        heading = next((line.strip() for line in lines[n::-1] if line.startswith("[")), "")
        key = lines[n].partition("=")[0].strip()
        declaration = DECLARED.get((heading, key)) or (None if gentle else KEYS.get(key))
        if declaration and rng.random() < (0.9 if gentle else 0.6):
            lines[n] = f"{key} = {_value(rng, declaration, gentle)}"
            continue
        heading, key, declaration = rng.choice(FIELDS)
        new = f"{key} = {_value(rng, declaration, gentle)}"
        if gentle:
            _put_in(lines, heading, key, new)
        else:
            new = [heading] * (rng.random() < 0.6) + [new]
            ways = [], [lines[n], *new], [lines[n]] * 2, [rng.choice(lines)], new
            lines[n : n + 1] = rng.choice(ways)
        lines = lines or [""]
    return "\n".join(lines).encode("utf-8")[:largest]


def _put_in(lines, heading, key, new):
    """Put a line into the first section of that heading, which is made where it may stand alone."""
    if heading not in lines:
        if heading.count(".") == 0 and not heading.startswith("[["):
            lines += [heading, new]
        return
    first = lines.index(heading) + 1
    section = itertools.takewhile(lambda line: not line.startswith("["), lines[first:])
    if not any(line.partition("=")[0].strip() == key for line in section):
        lines.insert(first, new)


def change_book(data, largest, seed):
    """Mostly jobs that can be read."""
    return change_job(data, largest, seed, gentle=seed % 8 > 0)


CELLS = (*NUMBERS, *WORDS, "50 F", "11 C", "8 mph", "4 m/s", "0 %", "100 %", "300 W/m2", "10/27/2026 7 AM",
         "27.10.2026 07:00", "2026-10-27T07:00-05:00", "2026-10-27T12:00Z", "date", "sky", "solar (W/m2)", "dew point (F)")  # fmt: skip


def change_rows(data, largest, seed):
    """One to three cells or rows of a weather file changed, taken out or repeated; or any bytes.

    Seven times of eight only a number changes, and an hour is put in at the end.
    """
    rng = random.Random(seed)
    if seed % 8 and data.count(b"\n") > 1:
        lines = data.rstrip(b"\n").split(b"\n")
        lines.append(b",".join(_next_hour(lines[-1].split(b","))))
        n = rng.randrange(1, len(lines))
        cells = lines[n].split(b",")
        k = rng.randrange(len(cells))
        if cells[k].isdigit():
            cells[k] = b"%d" % max(0, int(cells[k]) + rng.randint(-9, 9))
            lines[n] = b",".join(cells)
        return b"\n".join(lines)[:largest]
    if rng.random() < 0.2:
        return atheris.Mutate(data, largest)
    separator = b";" if data.count(b";") > data.count(b",") else b","
    rows = [line.split(separator) for line in data.split(b"\n")]
    for _ in range(rng.randint(1, 3)):
        n = rng.randrange(len(rows))
        k = rng.randrange(len(rows[n]))
        if rng.random() < 0.7:
            rows[n][k] = rng.choice(CELLS).encode("utf-8")
        else:
            rows[n : n + 1] = rng.choice(([], [rows[n], _next_hour(rows[n])], [rows[n], list(rows[n])], [rng.choice(rows)]))  # fmt: skip
            rows = rows or [[b""]]
    if rng.random() < 0.05:
        separator = rng.choice((b",", b";", b"\t"))
    return b"\n".join(separator.join(row) for row in rows)[:largest]


def _next_hour(row):
    """A row an hour later, where its first cell is a time."""
    with contextlib.suppress(ValueError):
        later = datetime.datetime.fromisoformat(row[0].decode()) + datetime.timedelta(hours=1)
        return [later.isoformat(" ", "minutes").encode(), *row[1:]]
    return list(row)


# --- targets: each takes bytes, and returns or raises --------------------------------------


def _written(name, data):
    path = SCRATCH / name
    path.write_bytes(data)
    return path


def job(data):
    Job.read(_written("job.toml", data))


def book(data):
    """Once a job is read, nothing is refused: what cannot be worked out is found on its line."""
    path = _written("job.toml", data)
    found = Book(Job.read(path))
    try:
        chapters = found.chapters
    except JobError as error:
        raise RuntimeError(f"a refusal that names no line: {error}") from error.__cause__
    texts = [chapter._repr_html_() for chapter in chapters]
    texts += [found.quote.text(), found.quote.csv(), found.quote.order.text()]
    texts += [headlines_html(found), assumptions_html(found.job)]
    assert not any(" nan " in text or "not a number" in text for text in texts), "no number is shown"


def length(data):
    fed = atheris.FuzzedDataProvider(data)
    name, text = UNITS[fed.ConsumeIntInRange(0, len(UNITS) - 1)], fed.ConsumeUnicode(80)
    for reader in (read_feet_inches, lambda text: read(text, name)):
        try:
            found = reader(text)
        except ValueError as error:
            _own(error)
        else:
            assert found is None or math.isfinite(found.magnitude), f"{text!r} is read as {found}"


def weather(data):
    read_csv(_written("weather.csv", data))


def value(data):
    fed = atheris.FuzzedDataProvider(data)

    def one_of(some):
        return some[fed.ConsumeIntInRange(0, len(some) - 1)]

    def seldom():
        return fed.ConsumeIntInRange(0, 15) == 15

    name = one_of(NAMES)
    entry = FORMULAS[name]
    words, chosen = ["value", name], entry
    if isinstance(entry, Choice):
        key = one_of(sorted(entry.formulas))
        words.append(f"{entry.keyword}={key}")
        chosen = entry.formulas[key]
    for key in chosen.signature.parameters:
        spec = chosen.arguments.get(key)
        if seldom():
            continue
        if spec is None:
            text = str(NOTEBOOKS / "demo.toml") if key == "job" else "1"
        elif spec.choices and not seldom():
            text = one_of(sorted(spec.choices))
        elif seldom():
            text = fed.ConsumeUnicode(30)
        else:
            usual = f"{fed.ConsumeIntInRange(1, 999) * 10.0 ** fed.ConsumeIntInRange(-5, 4):.6g}"
            text = one_of(NUMBERS) if fed.ConsumeBool() else usual
            unit_name = one_of(UNITS) if seldom() else spec.unit
            text = text if unit_name == "1" else f"{text} {unit_name}"
        words.append(f"{key}={text}")
    arguments = cli._parser().parse_args([*words, *["--json"][: fed.ConsumeIntInRange(0, 1)]])
    with open(os.devnull, "w", encoding="utf-8") as nowhere, contextlib.redirect_stdout(nowhere):
        arguments.run(arguments)


TARGETS = {target.__name__: target for target in (job, book, length, weather, value)}


# --- the run -------------------------------------------------------------------------------


def _own(error):
    """Let an error of the book pass, and words that argparse refuses; raise all else."""
    if not (type(error).__module__.startswith("calcbook") and isinstance(error, ValueError)):
        raise error


class Watch:
    """Runs a target and keeps count; findings are told once, by where they arose."""

    def __init__(self, target, folder):
        self.target, self.folder = target, folder
        self.runs = self.refused = 0
        self.slowest, self.found = 0.0, {}

    def __call__(self, data):
        self.runs += 1
        begun = time.process_time()
        try:
            self.target(data)
        except SystemExit as stopped:  # argparse, where a word looks like an option
            self.refused += stopped.code == 2
        except Exception as error:
            try:
                _own(error)
                self.refused += 1
            except Exception:
                self._finding(data, f"{type(error).__name__}: {error}", error)
        took = time.process_time() - begun
        self.slowest = max(took, self.slowest)
        if took > SLOW:
            self._finding(data, f"took {took:.1f} s", None)

    def _finding(self, data, words, error):
        error = getattr(error, "__cause__", None) or error
        frames = traceback.extract_tb(error.__traceback__) if error else []
        ours = [f for f in frames if "calcbook" in f.filename] or frames[-1:]
        where = f"{Path(ours[-1].filename).name}:{ours[-1].lineno}" if ours else words.split(" ")[0]
        key = f"{words.split(':')[0]} at {where}"
        self.found[key] = self.found.get(key, 0) + 1
        if self.found[key] == 1:
            path = self.folder / f"{self.target.__name__}-{hashlib.sha1(key.encode()).hexdigest()[:8]}"
            path.write_bytes(data)
            path.with_suffix(".txt").write_text(
                f"{key}\n{words}\n" + "".join(traceback.format_list(frames)), encoding="utf-8"
            )
            print(f"FOUND {key}: {words[:300]!r}, kept as {path}", flush=True)

    def told(self):
        lines = [f"  {count} times: {key}" for key, count in sorted(self.found.items())]
        return "\n".join([
            f"{self.target.__name__}: {self.runs:,} runs, {self.refused:,} refused in words, "
            f"slowest {self.slowest:.2f} s, {len(self.found)} findings", *lines,
        ])  # fmt: skip


def _seeds(name, folder):
    """The inputs to start from: the demo jobs, small jobs, weather rows; none for made-up inputs."""
    demo = [(NOTEBOOKS / f"{n}.toml").read_bytes() for n in ("demo", "demo-si")]
    small = b'[slab]\nlength = "20 ft"\nwidth = "16 ft"\n'
    given = {
        "job": [*demo, small],
        "book": [*demo, small],
        "weather": [HEADS + ROWS, (HEADS + ROWS).replace(b",", b";"), ROWS],
    }
    for number, data in enumerate(given.get(name, [])):
        (folder / f"seed-{number}").write_bytes(data)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("target", choices=TARGETS)
    parser.add_argument("--seconds", type=int, default=600)
    parser.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "calcbook-fuzz")
    given = parser.parse_args()
    kept, found = given.folder / given.target, given.folder / "found"
    for folder in (kept, found):
        folder.mkdir(parents=True, exist_ok=True)
    _seeds(given.target, kept)
    watch = Watch(TARGETS[given.target], found)
    mutator = {"job": change_job, "book": change_book, "weather": change_rows}.get(given.target)
    changed = {"custom_mutator": mutator} if mutator else {}
    options = [
        f"-max_total_time={given.seconds}", f"-timeout={HANGS}", f"-rss_limit_mb={MEGABYTES}", "-max_len=20000",
        f"-artifact_prefix={found}/{given.target}-", "-print_final_stats=1", "-use_value_profile=0", str(kept),
    ]  # fmt: skip
    end = time.monotonic() + given.seconds

    def one(data):
        watch(data)
        if time.monotonic() > end and not watch.ended:
            watch.ended = True
            print(watch.told(), flush=True)

    watch.ended = False
    atheris.Setup([sys.argv[0], *options], one, **changed)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
