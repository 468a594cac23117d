"""The papers name what there is: every package, every command, every file that they name."""

import re
from pathlib import Path

from test_imports import ORDER

from calcbook.command import cli

ROOT = Path(__file__).parent.parent


def test_the_table_of_packages_names_each_in_the_order_of_imports():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = re.findall(r"^\| `(\w+)` \| .+\. \|$", text, re.MULTILINE)
    assert named == ORDER


def test_developers_md_names_modules_and_commands_that_exist():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    paths = re.findall(r"`((?:[a-z]+/)+\w*(?:\.\w+)?)`", text)
    assert len(paths) >= 10
    for path in paths:
        assert (ROOT / path).exists() or (ROOT / "calcbook" / path).exists(), path
    for module in re.findall(r"python -m (calcbook[\w.]+)", text):
        assert (ROOT / module.replace(".", "/")).with_suffix(".py").exists(), module


def test_the_readme_names_every_command(capsys):
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"^    (\w+) ", cli._parser().format_help(), re.MULTILINE)
    assert len(commands) >= 11
    assert [name for name in commands if f"`calcbook {name}" not in text] == []


def test_linked_files_exist():
    for paper in ("README.md", "DEVELOPERS.md"):
        for target in re.findall(r"\]\(([\w./-]+)\)", (ROOT / paper).read_text(encoding="utf-8")):
            assert (ROOT / target).exists(), target
