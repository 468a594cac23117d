"""A job whose every text is meant to do harm, for the tests of what the book writes."""

import tomllib

from server import NOTEBOOKS

# words that would mean something to HTML, Typst, TeX, a spreadsheet or a terminal
NASTY = (
    '=1+1 #eval("1+") *b* _i_ $x^2$ $ @no-such-label <no-label> <script>alert(1)</script> '
    "\\frac{1}{2} `raw` //c /*d [x](y) & &lt; {{z}} %s {0} 'q' \"r\" ~"
)
UNBALANCED = "$ a_b^ \\undefined{ #let <b> ]] } )"
LONG = "W" * 200


def nasty_job():
    """The demo's data with hostile text in every free text, beside its own openings, pads and walls."""
    raw = tomllib.loads((NOTEBOOKS / "demo.toml").read_text(encoding="utf-8"))
    for key in ("address", "client", "preparer", "contact", "note"):
        raw["job"][key] = NASTY
    raw["job"]["name"] = UNBALANCED
    raw["job"]["date"] = NASTY
    for section in ("openings", "pads", "walls"):
        for number, entry in enumerate(raw[section]):
            entry["name"] = (NASTY, UNBALANCED, LONG)[number % 3]
    raw["base"]["material"] = raw["retarder"]["product"] = NASTY
    raw["prices"]["rental"][0]["name"] = "@SUM(A1)"
    raw["prices"]["extra"] = [
        {"name": name, "price": "$1"} for name in ("=cmd|' /C calc'!A0", "+1", "-1", " =1", NASTY, LONG)
    ]
    return raw
