"""The command: what it prints, what it writes, and its exit status."""

import functools
import json
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

import calcbook
from calcbook.basis.calculation import Calculation
from calcbook.basis.showing import ratio_text, show
from calcbook.basis.sources import cite
from calcbook.basis.units import Q
from calcbook.book.chapters import Book
from calcbook.book.registry import find_formula, load_formulas
from calcbook.command import cli
from calcbook.command.asked import asked
from calcbook.job.file import Job

ANSWER = """
[[answers]]
check = "Construction loads on the slab,  from walls, trusses and anchors"
by = "E. Novak, P.E. 0000 (invented)"
date = "2026-10-14"
words = "Walls from day 3, trusses from day 7."
"""


@pytest.fixture
def answered(demo_copy):
    """The demo with every question answered that it leaves to the engineer; without the plate, which asks none."""
    text = demo_copy.read_text(encoding="utf-8").replace("[slab]\n", "[slab]\nplate = false\n", 1)
    demo_copy.write_text(text, encoding="utf-8")
    checks = Book(Job.read(demo_copy)).checks
    asked = [(made.slab, c.title) for made, c in checks if c.status == "NEEDS ENGINEER"]
    others = [(slab, q) for slab, q in asked if slab or not q.startswith("Construction loads")]
    head, _, tail = ANSWER.partition("check = ")
    of_slab = head.replace("[[answers]]", "[[slabs.answers]]")  # of the one further slab
    answers = [
        f"{of_slab if slab else head}check = {json.dumps(q)}\n{tail.partition(chr(10))[2]}"
        for slab, q in others
    ]
    demo_copy.write_text("".join([text, ANSWER, *answers]), encoding="utf-8")
    return demo_copy


def run(capsys, *words):
    status = cli.main([str(w) for w in words])
    out = capsys.readouterr()
    return status, out.out, out.err


def test_new_writes_a_job_file_that_checks_and_never_over_another(tmp_path, capsys):
    path = tmp_path / "garage.toml"
    assert run(capsys, "new", path, "--blank")[0] == 0
    status, out, _ = run(capsys, "check", path)
    assert status in (0, 1) and "checks" in out
    before = path.read_text(encoding="utf-8")
    status, _, err = run(capsys, "new", path, "--blank")
    assert status == 2 and "already there" in err and path.read_text(encoding="utf-8") == before


def test_every_remark_of_the_starter_is_a_field_that_can_be_used(tmp_path, capsys):
    path = tmp_path / "all.toml"
    run(capsys, "new", path, "--blank")
    lines = path.read_text(encoding="utf-8").splitlines()
    code = re.compile(r"# (\[|\]|\s+\{|\w+ = )")  # a remark that is a line of the file
    used = [line.removeprefix("# ") if code.match(line) else line for line in lines]
    used = [line for line in used if not line.startswith("points")]
    path.write_text("\n".join(used), encoding="utf-8")
    status, _, err = run(capsys, "check", path)
    assert status in (0, 1), err


def test_check_shows_what_is_open_with_what_to_do_and_all_on_request(demo_copy, demo_book, capsys):
    book = demo_book
    status, out, _ = run(capsys, "check", demo_copy)
    assert status == (0 if book.status == "OK" else 1)
    lines = out.splitlines()
    found = [check for _, check in book.checks if check.status != "OK"]
    # each with what to do, then what was not asked for, the count and who comes first
    assert len(lines) == 2 * len(found) + sum(bool(k.remark) for k in found) + 2 + bool(book.left_out)
    assert book.left_out in out
    told = iter(lines)
    for check in found:
        line = next(told)
        assert line.startswith(check.status) and check.claim in line
        if check.remark:
            assert next(told).split() == check.remark.split()
        assert next(told).split() == f"To do: {check.to_do}".split()
    assert f"{len(book.checks)} checks, {len(found)} open" in lines[-2] and "--all" in lines[-2]
    status, out, _ = run(capsys, "check", demo_copy, "--all")
    for _, check in book.checks:
        assert check.claim in out
    assert "--all" not in out.splitlines()[-1]


def test_check_says_what_was_taken_for_something_else(demo_copy, capsys):
    text = demo_copy.read_text(encoding="utf-8").replace('dead = "3900 lbf"', 'dead = "3900 lb"')
    demo_copy.write_text(text, encoding="utf-8")
    assert (
        "read as         [[pads]] number 1 dead: '3900 lb' is taken as 3,900 lbf, a force"
        in run(capsys, "check", demo_copy)[1]
    )


def test_the_numbers_of_a_check_have_sense(demo_copy, capsys):
    """Three figures beside three, no odds of a thousandth of a percent, no ratio that reads as 1 and is not."""
    out = run(capsys, "check", demo_copy, "--all")[1]
    assert "×10^" not in out
    calculation = Calculation("x", "x", "x")
    calculation.check("?", Q(304.8, "in"), Q(304.6, "in"), "in", cite("common practice"))
    calculation.check("?", Q(549.25, "psi"), Q(97145.3, "psi"), "psi", cite("common practice"))
    assert (calculation.checks[1].demand, calculation.checks[1].capacity) == ("549 psi", "97,100 psi")
    assert (calculation.checks[0].demand, calculation.checks[0].capacity) == ("304.8 in.", "304.6 in.")
    assert [ratio_text(r) for r in (0.36, 1.0, 1.002, 1.0001, 1.056, 250.0)] == [
        "0.36",
        "1.00",
        "1.002",
        "just over 1",
        "1.06",
        "over 100",
    ]
    assert (
        show(Q(4.11e-63, "%"), "%", exact=False) == "less than 0.01 %"
        and show(Q(0.1524, "%"), "%", exact=False) == "0.1524 %"
    )
    assert (
        show(Q(97145.3, "psi"), "psi", exact=False) == "97,100 psi"
        and show(Q(112.5, "psi"), "psi") == "112.5 psi"
    )


def test_quote_prints_and_writes_csv_and_the_clients_page(answered, tmp_path, capsys):
    status, out, _ = run(
        capsys, "quote", answered, "--csv", tmp_path / "q.csv", "--client", tmp_path / "c.pdf"
    )
    assert status == 0 and "price" in out
    assert (tmp_path / "q.csv").read_text(encoding="utf-8").startswith("line,amount,unit,price,cost")
    assert (tmp_path / "c.pdf").read_bytes().startswith(b"%PDF")


def test_a_quote_with_a_missing_price_ends_with_1(demo_copy, capsys):
    text = demo_copy.read_text(encoding="utf-8").replace('stone = "$31 / ton"\n', "")
    demo_copy.write_text(text, encoding="utf-8")
    status, out, _ = run(capsys, "quote", demo_copy)
    assert status == 1 and "PRICE MISSING" in out


@pytest.mark.parametrize(
    "options", [("--csv",), ("--client",), ("--odds",), ("--csv", "--client", "--odds")]
)
def test_with_a_price_missing_what_can_be_written_is_and_the_key_is_named(
    answered, tmp_path, options, capsys
):
    text = answered.read_text(encoding="utf-8").replace('stone = "$31 / ton"\n', "")
    answered.write_text(text, encoding="utf-8")
    paths = {"--csv": [tmp_path / "q.csv"], "--client": [tmp_path / "c.pdf"], "--odds": []}
    status, out, err = run(capsys, "quote", answered, *(w for o in options for w in (o, *paths[o])))
    assert status == 1 and out.startswith("Quote for")
    assert (tmp_path / "q.csv").exists() is ("--csv" in options) and not (tmp_path / "c.pdf").exists()
    for option, words in (("--client", "the client's page"), ("--odds", "the odds")):
        assert (words in err) is (option in options)
    assert ("Add them to [prices]: stone" in err) is (options != ("--csv",))
    assert "Add them to [prices]: stone" in out


def test_order_prints_the_slip(answered, capsys):
    status, out, _ = run(capsys, "order", answered)
    assert status == 0 and "Deliver to" in out and "Open" not in out


@pytest.mark.parametrize("change", ["", "no go"])
def test_quote_and_order_name_what_is_open_as_check_does(demo_copy, change, capsys):
    if change:  # a crew that cannot keep up with the set
        text = demo_copy.read_text(encoding="utf-8").replace("finishers = 4", "finishers = 1")
        demo_copy.write_text(text, encoding="utf-8")
    found = [x for x in run(capsys, "check", demo_copy)[1].splitlines() if x.startswith("N")]
    checked = [x for x in found if "The slab as a plate" not in x]  # that chapter comes late
    for command in ("quote", "order"):
        status, out, _ = run(capsys, command, demo_copy)
        told = out.splitlines()
        assert status == 1 and checked and all(line in told for line in checked)
        assert "Not counted here: the slab as a plate on the ground" in out
        assert f"Open: {len(checked)} of " in out
        assert ("NO GO " in out) is bool(change)
    assert (Book(Job.read(demo_copy)).calculation("go").results["go"] is False) is bool(change)


def test_print_writes_the_pdf_beside_the_job(tmp_path, capsys):
    """Of a small job: the demo's printout is read in tests/paper."""
    path = tmp_path / "shed.toml"
    path.write_text('[slab]\nlength = "20 ft"\nwidth = "16 ft"\nplate = false\n', encoding="utf-8")
    status, out, _ = run(capsys, "print", path)
    assert status in (0, 1) and path.with_suffix(".pdf").read_bytes().startswith(b"%PDF")
    assert str(path.with_suffix(".pdf")) in out


def test_demo_ends_with_the_pdf_and_says_where(tmp_path, capsys, monkeypatch):
    """The real PDF is written where the wheel works through the demo, in test_package.py."""
    monkeypatch.setattr("calcbook.paper.printout.compile_pdf", lambda *_: b"%PDF-")
    status, out, _ = run(capsys, "demo", tmp_path / "here")
    assert (
        status == 0 and str(tmp_path / "here" / "demo.pdf") in out and "Order for the dispatcher" in out
    )
    assert (tmp_path / "here" / "demo.pdf").read_bytes().startswith(b"%PDF")


def test_value_shows_steps_result_and_source(capsys):
    # 16 ft x 20 ft x 4 in. = 3.95 yd3: a ready-mix producer's ordering text (read in a reprint)
    status, out, _ = run(capsys, "value", "slab_volume", "A=320 ft2", "t=4 in")
    assert status == 0 and "3.95" in out and "V = A · t" in out and "source: geometry" in out


def test_value_as_json_is_for_machines(capsys):
    status, out, _ = run(capsys, "value", "slab_volume", "A=320 ft2", "t=4 in", "--json")
    data = json.loads(out)
    assert (
        status == 0
        and data["value"] == pytest.approx(320 / 81)
        and data["unit"] == "yd3"
        and data["flags"] == []
    )


def test_value_runs_a_procedure_on_a_job(demo_copy, demo, capsys):
    """The command against the call it makes."""
    from calcbook.plan.dug import dig_volume

    status, out, _ = run(capsys, "value", "dig_volume", f"job={demo_copy}", "--json")
    assert status == 0 and json.loads(out)["value"] == pytest.approx(dig_volume(demo).m)


def test_value_lists_all_formulas(capsys):
    status, out, _ = run(capsys, "value")
    assert status == 0 and "slab_volume" in out and len(out.splitlines()) > 100
    assert "by method=menzel or uno" in next(
        x for x in out.splitlines() if x.startswith("evaporation_rate")
    )
    titles = json.loads(run(capsys, "value", "--json")[1])
    assert len(titles) == len(out.splitlines()) and titles["slab_volume"] == "Volume of the slab"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["slab_volum"], "did you mean slab_volume"), (["--list", "no such word"], "no formula has 'no such word'"), (["slab_volume", "A=3"], "missing a required"),
        (["slab_volume", "A=3 lb", "t=4 in"], "is a mass, not an area"), (["slab_volume", "A", "t=4 in"], "not key=value"),
        (["slab_volume", "A=320 ft2", "t=4 in", "x=1"], "has no argument"), (["slab_volume", "A=-3 ft2", "t=4 in"], "above 0"),
        (["sheet_layout", "outline=x", "roll_width=3 ft", "roll_length=90 ft", "lap=6 in"], "cannot be typed here"),
        (["dig_volume", "job=nowhere.toml"], "could not be read"),
    ],
)  # fmt: skip
def test_value_refuses_bad_input_in_words_with_status_2(words, said, capsys):
    status, out, err = run(capsys, "value", *words)
    assert status == 2 and out == "" and said in err and len(err.splitlines()) == 1, err


def test_value_without_inputs_says_what_a_formula_takes(capsys):
    status, out, _ = run(capsys, "value", "evaporation_rate")
    assert status == 0
    for words in (
        "menzel or uno; else menzel",
        "T_c",
        "°F",
        "at least 32 °F and at most 130 °F",
        "example: calcbook value",
    ):
        assert words in out
    data = json.loads(run(capsys, "value", "slab_volume", "--json")[1])
    assert [a["name"] for a in data["arguments"]] == ["A", "t"] and data["arguments"][0][
        "unit"
    ] == "ft²"


@pytest.fixture
def read_once(monkeypatch):
    """The modules in which formulas are looked for, one after the other, are read once."""
    monkeypatch.setattr(Path, "read_text", functools.cache(Path.read_text))


def test_every_example_line_works(capsys, read_once):
    """Run as it stands; only what cannot be typed (drawn shapes, lists) has none."""
    without = []
    for name, entry in load_formulas().items():
        line = asked(name, entry).example
        if not line:
            without.append(name)
        elif "job=" not in line:
            program, *words = shlex.split(line)
            status, out, _ = run(capsys, *words)
            assert program == "calcbook" and status == 0, line
            assert "outside its range" not in out, line
    for name in without:
        one, parameters = load_formulas()[name], load_formulas()[name].signature.parameters
        assert any(p.default is p.empty and k not in one.arguments for k, p in parameters.items()), name


def test_the_list_is_searched_by_words(capsys):
    _, out, _ = run(capsys, "value", "--list", "volume slab")
    names = [line.split()[0] for line in out.splitlines()]
    assert "slab_volume" in names and "bolt_length" not in names and len(names) < 10
    assert run(capsys, "value", "--list")[1] == run(capsys, "value")[1]


def test_the_version_is_told(capsys):
    with pytest.raises(SystemExit) as ended:
        cli.main(["--version"])
    assert ended.value.code == 0 and capsys.readouterr().out == f"calcbook {calcbook.__version__}\n"


def test_without_a_command_the_usage_is_told_and_the_status_is_2(capsys):
    with pytest.raises(SystemExit) as ended:
        cli.main([])
    assert ended.value.code == 2 and "usage" in capsys.readouterr().err


def test_every_formula_is_found_by_its_name_alone(read_once):
    """A formula is looked for in its own module first, so that its answer comes quickly."""
    for name, entry in load_formulas().items():
        assert find_formula(name) is entry
    for name in ("", "no_such_formula", "x" * 1000, "a(b", "__init__", "\0"):
        assert find_formula(name) is None


def test_one_formula_loads_no_drawing():
    code = (
        "import sys; from calcbook.command import cli; cli.main(['value', 'concrete_modulus', 'f_c=3000 psi']); "
        "print([m for m in ('matplotlib', 'pandas') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_an_answered_question_is_closed_and_check_print_and_compare_can_end_with_0(answered, capsys):
    old = answered.with_name("old.toml")
    old.write_text(answered.read_text(encoding="utf-8").partition(ANSWER)[0], encoding="utf-8")
    assert [
        run(capsys, *words)[0]
        for words in (("check", old), ("print", old, "--chapter", "base"), ("compare", old, old))
    ] == [1, 1, 1]
    status, out, _ = run(capsys, "check", answered)
    assert status == 0 and ", none open" in out
    assert run(capsys, "print", answered, "--chapter", "base")[0] == 0
    assert run(capsys, "compare", old, answered)[0] == 0
    asked = [c for _, c in Book(Job.read(answered)).checks if c.title.startswith("Construction loads")]
    assert len(asked) == 2 and {c.status for c in asked} == {"OK"}  # of the floor and of the apron
    assert (
        asked[0].remark
        == "Answered by E. Novak, P.E. 0000 (invented) on 2026-10-14: Walls from day 3, trusses from day 7."
    )


def test_an_answer_to_a_question_that_no_check_asks_is_named(demo_copy, capsys):
    text = ANSWER.replace("Construction", "Konstruction")
    demo_copy.write_text(demo_copy.read_text(encoding="utf-8") + text, encoding="utf-8")
    status, out, _ = run(capsys, "check", demo_copy)
    assert status == 1 and "no check is called 'Konstruction loads on the slab" in out


def test_an_answer_closes_no_check_that_lacks_a_number(tmp_path, capsys):
    path = tmp_path / "bare.toml"
    question = "Depth of the edge against frost"
    path.write_text(
        f'[slab]\nlength = "20 ft"\nwidth = "20 ft"\n{ANSWER.replace(ANSWER.splitlines()[2], f"check = {question!r}")}',
        encoding="utf-8",
    )
    checks = {c.title: c for _, c in Book(Job.read(path)).checks}
    assert checks[question].status == "NEEDS ENGINEER" and "[soil]" in checks[question].to_do
