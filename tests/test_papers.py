"""The papers name what there is: every module, every command, every file that they link to."""

import re
from pathlib import Path

from calcbook.command import cli

ROOT = Path(__file__).parent.parent


def test_the_layout_table_names_every_module():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = re.findall(r"^\| `(\w+\.py)` \|", text, re.MULTILINE)
    assert sorted(named) == sorted(path.name for path in (ROOT / "calcbook").rglob("*.py"))


def test_the_readme_names_every_command(capsys):
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"^    (\w+) ", cli._parser().format_help(), re.MULTILINE)
    assert len(commands) >= 11
    assert [name for name in commands if f"`calcbook {name}" not in text] == []


def test_linked_files_exist():
    for paper in ("README.md", "DEVELOPERS.md"):
        for target in re.findall(r"\]\(([\w./-]+)\)", (ROOT / paper).read_text(encoding="utf-8")):
            assert (ROOT / target).exists(), target
