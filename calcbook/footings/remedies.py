"""What mends a pad or an edge that does not hold, in words for the builder."""

HEAVIER_EDGE = "A heavier edge, or an engineer's anchorage into more of the slab."
WIDER_EDGE = "A wider or deeper edge."
WIDER_STRIP = "A wider or deeper strip."
MORE_BARS = "More or thicker bars along the edge, at top and bottom (edge.bars, edge.bar)."
DEEPER_PAD = "Deepen the pad."
HEAVIER_PAD = "A heavier pad, or an engineer's anchorage into more of the slab."
LARGER_PAD = "Make the pad wider or deeper; the smallest that passes is named above."
LARGER_SHARED_PAD = "A larger or deeper pad, posts nearer to its middle, or a pad for each post."
PAD_UNDER_WALL = (
    "A wider pad or edge below the wall, the wall nearer to the middle of the pad, or a thicker slab."
)
