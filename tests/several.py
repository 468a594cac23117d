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


def large_job():
    """A slab of 60 sides with 40 pads, and three more slabs along it; without plates."""
    points = [(0, 0), (60, 0), (60, 40)]
    for right in range(58, 2, -4):
        points += [(right, 40), (right, 43), (right - 2, 43), (right - 2, 40)]
    points.append((0, 40))
    pads = [
        {"name": f"P{n}", "x": f"{4 + 5 * (n % 10)} ft", "y": f"{5 + 8 * (n // 10)} ft", "length": "30 in", "width": "30 in",
         "depth": "9 in", "dead": f"{2000 + 300 * (n % 7)} lbf", "live": "2000 lbf"}
        for n in range(40)
    ]  # fmt: skip
    more = [
        {"name": f"walk {n}", "length": "12 ft", "width": "6 ft", "x": f"{2 + 14 * n} ft", "y": "-6 ft", "thickness": "5 in",
         "edge": {"depth": "0 in"}, "slope": {"fall": "1/8 in/ft", "side": 1}, "plate": False}
        for n in range(3)
    ]  # fmt: skip
    return job_of(
        *more, slab={"points": [[f"{x} ft", f"{y} ft"] for x, y in points], "thickness": "5 in", "plate": False}, pads=pads,
        soil={"kind": "sand", "bearing": "2000 psf"}, vehicle={"axle": "3600 lbf"}, edges=[{"side": 1, "width": "18 in"}],
    )  # fmt: skip
