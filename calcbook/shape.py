"""From the sections of a job file to its plan geometry."""

from calcbook.outline import EdgeRing, OutlineError, Plan, Thickening, disc, read_outline, rectangle


def build_plan(file):
    """The Plan of a checked job file (schema.JobFile). Raises OutlineError with its ``place``."""
    system = file.job.units
    return Plan(
        _outline(file.slab, system),
        openings=_named("openings", file.openings, lambda o: (o.name, _opening(o, system))),
        thickenings=_named("pads", file.pads, _pad),
        edge=_edge(file.edge),
    )


def _outline(slab, system):
    if slab.points is not None:
        return read_outline(slab.points, system=system)
    return rectangle(slab.length, slab.width)


def _opening(opening, system):
    if opening.diameter is not None:
        return disc(opening.x, opening.y, opening.diameter)
    points = opening.points or _corners(opening)
    return read_outline(points, f"opening {opening.name!r}", "openings", smallest=1 / 144, system=system)


def _corners(box):
    x, y, right, top = box.x, box.y, box.x + box.length, box.y + box.width
    return [(x, y), (right, y), (right, top), (x, top)]


def _pad(pad):
    return Thickening.pad(pad.name, pad.x, pad.y, pad.length, pad.width, pad.depth, pad.slope.m_as(""))


def _edge(edge):
    if edge.depth.magnitude == 0:
        return None
    return EdgeRing(edge.depth.m_as("foot"), edge.width.m_as("foot"), edge.slope.m_as(""))


def _named(place, entries, make):
    """Make a shape of every entry; a mistake is pinned to the entry it stands in."""
    found = []
    for index, entry in enumerate(entries):
        try:
            found.append(make(entry))
        except OutlineError as error:
            raise OutlineError(str(error), f"{place}.{index}") from None
    return found
