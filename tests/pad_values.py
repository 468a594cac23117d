"""A post and its pad for the tests of pads."""

from calcbook.basis.units import Q
from calcbook.footings.pads import check_pad, plain_inputs, unshown

POST = {
    "t": Q(5, "in"), "c_1": Q(5.5, "in"), "c_2": Q(5.5, "in"), "P_a": Q(9000, "lbf"), "P_u": Q(12800, "lbf"),
    "q_a": Q(2000, "psf"), "f_c": Q(4000, "psi"), "gamma_c": Q(150, "pcf"),
}  # fmt: skip


def ratios(L, B, d, **changes):
    return [check.ratio for check in checked(L, B, d, **changes)]


def checked(L, B, d, **changes):
    sizes = {"L": Q(L, "in"), "B": Q(B, "in"), "d": Q(d, "in")}
    return check_pad(unshown, **plain_inputs(sizes | POST | changes))
