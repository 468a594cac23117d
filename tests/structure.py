"""A plain job for the tests of the engineer's chapters, and its checks by their question."""

import warnings

from calcbook.book.chapters import run
from calcbook.job.file import Job

POST = {"name": "P", "x": "10 ft", "y": "10 ft", "dead": "4000 lbf", "live": "5000 lbf"}
SIZE = {"length": "36 in", "width": "30 in", "depth": "9 in"}


def job(**sections):
    """A slab of 30 x 24 ft on sand, 5 in. thick, with other sections of the job file."""
    raw = {
        "slab": {"length": "30 ft", "width": "24 ft", "thickness": "5 in"},
        "concrete": {"strength": "4000 psi"},
    }
    return Job({**raw, "soil": {"kind": "sand"}, **sections})


def checks(name, job):
    """The checks of a chapter by question; a calculation flags what leaves a range, it never warns."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return {c.title: c for c in run(name, job).checks}
