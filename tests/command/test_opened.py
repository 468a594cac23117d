"""The jobs that one server has open: which files it takes for one, and how many it follows."""

import pytest

from calcbook.command.opened import Jobs, Opened
from calcbook.paper.chooser import link_to, others_beside

SMALL = '[slab]\nlength = "20 ft"\nwidth = "16 ft"\n'


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "jobs").mkdir()
    for name in ("first", "my slab", "broken"):
        (tmp_path / "jobs" / f"{name}.toml").write_text(SMALL, encoding="utf-8")
    (tmp_path / "jobs" / "broken.toml").write_text(f"{SMALL}width = ", encoding="utf-8")
    (tmp_path / "jobs" / "settings.toml").write_text('[tool]\nname = "other"\n', encoding="utf-8")
    (tmp_path / "elsewhere.toml").write_text(SMALL, encoding="utf-8")
    (tmp_path / "jobs" / "linked.toml").symlink_to(tmp_path / "elsewhere.toml")
    return tmp_path / "jobs"


def test_only_a_job_file_of_the_same_folder_is_opened(folder):
    jobs = Jobs(Opened(folder / "first.toml", folder.parent / "drafts" / "first.json"))
    assert jobs.named(None) is jobs.named("first") is jobs.first
    found = jobs.named("my slab")
    assert (found.path, found.base) == (folder / "my slab.toml", "/of/my%20slab")
    assert found.draft.parent == jobs.first.draft.parent and found.draft != jobs.first.draft
    assert jobs.named("my slab") is found
    assert jobs.named("broken").state.problem(), "it is opened, and its page says what is wrong"
    for name in ("settings", "linked", "none", "../elsewhere", "..", "/etc/passwd", "first.toml"):
        assert jobs.named(name) is None


def test_the_two_jobs_looked_at_last_are_followed(folder, monkeypatch):
    begun, ended = [], []
    monkeypatch.setattr(Opened, "end", lambda job: ended.append(job.path.stem))
    jobs = Jobs(
        Opened(folder / "first.toml", folder / "draft.json"), lambda job: begun.append(job.path.stem)
    )
    for name in ("", "", "my slab", "", "broken"):
        jobs.looked_at(jobs.named(name))
    assert begun == ["first", "my slab", "first", "broken"] and ended == ["my slab"]


def test_a_page_names_the_other_jobs_of_the_folder_by_links_to_their_pages(folder):
    told = others_beside(folder / "first.toml")
    assert link_to(folder / "my slab.toml", "my slab") in told and "broken" in told
    assert "first" not in told and "settings" not in told and "linked" not in told
    assert others_beside(folder.parent / "elsewhere.toml") == ""
