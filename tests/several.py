"""Jobs of several slabs, for tests; names and figures are invented."""

GARAGE = {
    "slab": {"length": "30 ft", "width": "24 ft", "thickness": "5 in", "name": "garage"},
    "edge": {"depth": "8 in"},
    "soil": {"kind": "sand"},
    "prices": {"concrete": "$168 / yd3", "isolation": "$0.90 / ft", "forms": "$2 / ft", "dowel": "$3"},
}
APRON = {
    "name": "apron", "length": "16 ft", "width": "4 ft", "x": "4 ft", "y": "-4 ft", "thickness": "5 in",
    "edge": {"depth": "0 in"}, "slope": {"fall": "1/8 in/ft", "side": 1},
}  # fmt: skip
PORCH = {"name": "porch", "length": "8 ft", "width": "6 ft", "x": "30 ft", "y": "4 ft", "driven": False}


def job_of(*slabs, **sections):
    """A Job of the garage and further slabs."""
    from calcbook.job.file import Job

    job = Job({**GARAGE, "slabs": [dict(one) for one in slabs], **sections})
    assert len(job.others) == len(slabs)
    return job
