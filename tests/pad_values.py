"""A post and its pad for the tests of pads."""

from calcbook.basis.units import Q
from calcbook.footings.pads import check_pad, once

POST = {
    "t": Q(5, "in"), "c_1": Q(5.5, "in"), "c_2": Q(5.5, "in"), "P_a": Q(9000, "lbf"), "P_u": Q(12800, "lbf"),
    "q_a": Q(2000, "psf"), "f_c": Q(4000, "psi"), "gamma_c": Q(150, "pcf"),
}  # fmt: skip


def ratios(L, B, d, **changes):
    sizes = (Q(x, "in") for x in (L, B, d))
    return [check.ratio for check in check_pad(once, *sizes, **(POST | changes))]
