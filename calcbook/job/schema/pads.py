"""The section of the job file for pads: size, place, and the posts that stand on each with their loads."""

from __future__ import annotations

import itertools

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import PRACTICE, Clash, Section, entries, pick, quantity, text
from calcbook.job.schema.bolts import SIZES
from calcbook.job.schema.placed import Placed
from calcbook.job.schema.structure import load


class PadPost(Section):
    """[[pads.posts]]: a further post on the same pad, with its loads and where it stands on it."""

    name: str = text("name of the pad or post")
    dead: Quantity | None = load("post, dead load")
    live: Quantity = quantity(
        "lbf", "post, floor live load", "0 lbf", "no floor on it", low=0, high=1e6
    )
    roof: Quantity = quantity(
        "lbf", "post, roof load (snow, live)", "0 lbf", "no roof on it", low=0, high=1e6
    )
    uplift: Quantity | None = load("post, net uplift at allowable level")
    hold_down: Quantity | None = quantity(
        "lbf", "post base, allowable uplift by its maker's sheet", None, "no base named", above=0, high=1e5
    )  # fmt: skip
    anchor: str | None = pick(
        "bolt that anchors the post base, cast in with a hexagonal head, in.", SIZES, None, "anchor not named"
    )  # fmt: skip
    anchor_depth: Quantity | None = quantity(
        "in", "its embedment, to the top of the head", None, "anchor not named", low=2.5, high=25
    )  # fmt: skip
    anchor_apart_x: Quantity = quantity(
        "in", "between its anchors along x, where it has two or four", "0 in", "one anchor", low=0, high=48
    )  # fmt: skip
    anchor_apart_y: Quantity = quantity(
        "in", "between its anchors along y, where it has two or four", "0 in", "one anchor", low=0, high=48
    )  # fmt: skip
    shear: Quantity | None = load("post, shear at its foot at allowable level, whichever way")
    post_length: Quantity = quantity(
        "in", "post, size along x", "5.5 in", f"6x6; {PRACTICE}", above=0, high=48
    )
    post_width: Quantity = quantity(
        "in", "post, size along y", "5.5 in", f"6x6; {PRACTICE}", above=0, high=48
    )
    offset_x: Quantity = quantity(
        "in", "post, off the pad's center along x", "0 in", "centered", low=-180, high=180
    )
    offset_y: Quantity = quantity(
        "in", "post, off the pad's center along y", "0 in", "centered", low=-180, high=180
    )

    @model_validator(mode="after")
    def _deep(self) -> PadPost:
        if self.anchor is not None and self.anchor_depth is None:
            raise Clash("anchor_depth", f"{self.name!r}: an anchor is named but not how deep it stands; give anchor_depth, to the "
                        "top of its head")  # fmt: skip
        return self

    @property
    def anchors(self) -> int:
        """How many bolts anchor the base: one, two in a row, or four at the corners of a rectangle."""
        return int(
            (1 + (self.anchor_apart_x.magnitude > 0)) * (1 + (self.anchor_apart_y.magnitude > 0))
        )

    @property
    def anchored(self) -> bool:
        """Whether post base and anchor are both named, so that what lifts the post is followed into the concrete."""
        return self.hold_down is not None and self.anchor is not None


class Pad(Placed, PadPost):
    """[[pads]]: a pad under a post, with its loads where the engineer gave them; further posts on it in [[pads.posts]]."""

    x: Quantity = quantity("ft", "center, along x", low=-1000, high=1000)
    y: Quantity = quantity("ft", "center, along y", low=-1000, high=1000)
    length: Quantity | None = quantity(
        "in", "pad size along x", None, "by its loads", above=0, high=360
    )
    width: Quantity | None = quantity("in", "pad size along y", None, "by its loads", above=0, high=360)
    depth: Quantity | None = quantity(
        "in", "pad depth below the slab's underside", None, "by its loads", above=0, high=120
    )
    slope: Quantity = quantity(
        "1", "slope of the sides, run per rise", 0.0, "dug with straight sides", low=0, high=4
    )
    posts: list[PadPost] = entries("further posts on the same pad", 5)

    @property
    def standing(self) -> tuple[PadPost, ...]:
        """Every post on the pad, the pad's own first."""
        return (self, *self.posts)

    @model_validator(mode="after")
    def _room_for_all(self) -> Pad:
        for post in self.standing:
            for key, side, off, between in (
                ("anchor_apart_x", self.length, post.offset_x, post.anchor_apart_x),
                ("anchor_apart_y", self.width, post.offset_y, post.anchor_apart_y),
            ):
                if between.magnitude and side is not None and abs(off) + between / 2 >= side / 2:
                    raise Clash(key, f"pad {self.name!r}: the anchors of {post.name!r} stand beyond it; give them less far apart, "
                                "or a larger pad")  # fmt: skip
        if not self.posts:
            return self
        for post in self.standing:
            if any(side is not None and abs(off) + size / 2 > side / 2 for off, size, side in (
                (post.offset_x, post.post_length, self.length), (post.offset_y, post.post_width, self.width),
            )):  # fmt: skip
                raise Clash("posts", f"pad {self.name!r}: {post.name!r} stands beyond it; give its offset_x and offset_y from the "
                            "middle of the pad, or a larger pad")  # fmt: skip
        for one, other in itertools.combinations(self.standing, 2):
            apart = [
                abs(one.offset_x - other.offset_x) - (one.post_length + other.post_length) / 2,
                abs(one.offset_y - other.offset_y) - (one.post_width + other.post_width) / 2,
            ]
            if max(apart).magnitude < 0:
                raise Clash("posts", f"pad {self.name!r}: {one.name!r} and {other.name!r} stand in one place; give offset_x or "
                            "offset_y of each, from the middle of the pad")  # fmt: skip
        return self
