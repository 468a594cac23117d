"""For tests that lay a metric job beside its US twin: the same figures where both leave a field out."""

from calcbook.job.metric import left_out

# checks against a code's least length in whole inches, which is 25 mm to the inch in a metric job
LEAST_LENGTHS = (
    "Depth of the edge below the ground", "Width of the edge", "Thickness of the edge", "below the ground outside",
)  # fmt: skip


def us_defaults(job):
    """The US default of every field that a metric job leaves out and has a figure of its own for."""
    return left_out(job.file, "us")
