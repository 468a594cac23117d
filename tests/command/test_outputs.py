"""What the command writes: never over an input, never over what the book did not make."""

import pytest

from calcbook.command import cli


def run(capsys, *words):
    status = cli.main([str(w) for w in words])
    out = capsys.readouterr()
    return status, out.out, out.err


@pytest.fixture
def light(tmp_path):
    """A small job that is soon worked out."""
    path = tmp_path / "shed.toml"
    path.write_text(
        '[job]\nname = "Shed"\n[slab]\nlength = "12 ft"\nwidth = "10 ft"\n[prices]\nconcrete = "$170 / yd3"\n'
    )
    return path


@pytest.mark.parametrize(
    "words",
    [
        ("print", "JOB", "-o", "JOB"),
        ("print", "JOB", "--chapter", "volume", "-o", "JOB"),
        ("quote", "JOB", "--csv", "JOB"),
        ("quote", "JOB", "--client", "JOB"),
        ("sweep", "JOB", "slab.thickness=4:5:0.5in", "--csv", "JOB"),
        ("sweep", "JOB", "slab.thickness=4:5:0.5in", "--chart", "JOB"),
        ("compare", "JOB", "JOB", "--csv", "JOB"),
    ],
)
def test_no_command_writes_over_the_job_file_that_it_reads(light, capsys, words):
    before = light.read_bytes()
    status, _, err = run(capsys, *(str(light) if w == "JOB" else w for w in words))
    assert status == 2 and light.read_bytes() == before
    assert "read as an input" in err and err.count("\n") == 1


def test_a_link_to_the_job_file_is_no_way_around(light, capsys):
    link = light.with_name("copy.csv")
    link.symlink_to(light)
    status, _, err = run(capsys, "quote", light, "--csv", link)
    assert status == 2 and "read as an input" in err and link.read_bytes() == light.read_bytes()


def test_a_file_of_someone_elses_is_left_as_it_is(light, capsys):
    letter = light.with_name("letter.pdf")
    letter.write_bytes(b"%PDF-1.7 a letter")
    status, _, err = run(capsys, "print", light, "--chapter", "volume", "-o", letter)
    assert status == 2 and "not of the book's making" in err
    assert letter.read_bytes() == b"%PDF-1.7 a letter"


def test_papers_of_the_book_are_written_anew(light, capsys):
    table, paper = light.with_suffix(".csv"), light.with_suffix(".pdf")
    for _ in range(2):
        assert run(capsys, "quote", light, "--csv", table)[0] in (0, 1)
        assert run(capsys, "print", light, "--chapter", "volume", "-o", paper)[0] in (0, 1)
    assert paper.read_bytes()[:5] == b"%PDF-" and table.read_text().startswith("line,")
    table.write_text("name,telephone\nA. Client,555-0100\n")
    status, _, err = run(capsys, "quote", light, "--csv", table)
    assert status == 2 and "555-0100" in table.read_text() and "not of the book's making" in err
