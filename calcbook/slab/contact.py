"""What a load stands on: the print of a tire or a base plate, taken as a circle."""

from numpy import pi, sqrt

from calcbook.basis.formula import arg, cite, formula, result


@formula(
    "Radius of a circle with the area of a rectangle",
    cite("geometry"),
    result("in", "radius of the loaded circle"),
    L=arg("in", "length of the loaded rectangle", above=0),
    B=arg("in", "width of the loaded rectangle", above=0),
)
def contact_radius(L, B):
    """The load circle that stands for a base plate or a tire print of L by B."""
    a = sqrt(L * B / pi)
    return a


@formula(
    "Contact area of a tire",
    cite("ACI 360R-10", "appendix 1"),
    result("in2", "contact area"),
    P=arg("lbf", "load on the wheel", above=0),
    p=arg("psi", "tire pressure", above=0),
)
def tire_area(P, p):
    """The ground pressure of a tire is about its air pressure."""
    A_c = P / p
    return A_c


@formula(
    "Radius of a loaded circle",
    cite("geometry"),
    result("in", "radius of the loaded circle"),
    A_c=arg("in2", "contact area", above=0),
)
def circle_radius(A_c):
    """Radius of the circle that a tire print of area A_c (in2) is taken as."""
    a = sqrt(A_c / pi)
    return a
