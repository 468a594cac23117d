"""Faults of a live page that keep readers out, by axe; the contrast of each look of words is measured once, not in every cell."""

from axe_playwright_python.sync_playwright import Axe

# Marks the first and the last of all that show words in one look. What contrast rests on is its look: colors, size and
# weight of the letters, all that lies behind them, and whether they belong to a field that cannot be used.
_MARK_LOOKS = """() => {
  const looks = new Map();
  const off = (one) => Boolean(one.closest(':disabled, [aria-disabled=true]') || one.closest('label')?.control?.disabled);
  for (const one of document.querySelectorAll('body *')) {
    const words = [...one.childNodes].filter(n => n.nodeType === 3).map(n => n.data.trim()).join('');
    if (!(words || one.matches('input, select, textarea')) || !one.checkVisibility({visibilityProperty: true})) continue;
    const own = getComputedStyle(one);
    const look = [own.color, own.fontSize, own.fontWeight, own.textShadow, off(one), words.length < 2];
    for (let up = one; up; up = up.parentElement) {
      const { backgroundColor, backgroundImage, opacity, filter, position } = getComputedStyle(up);
      look.push([backgroundColor, backgroundImage, opacity, filter, position].join());
    }
    const key = look.filter((part, n) => n < 6 || part !== 'rgba(0, 0, 0, 0),none,1,none,static').join(';');
    looks.set(key, [(looks.get(key) || [one])[0], one]);
  }
  for (const [first, last] of looks.values()) { first.dataset.look = last.dataset.look = 'yes'; }
  return looks.size;
}"""


def faults(page):
    """(rule, element) of each serious fault of a page."""
    found = Axe().run(
        page, options={"resultTypes": ["violations"], "rules": {"color-contrast": {"enabled": False}}}
    ).response["violations"]  # fmt: skip
    assert page.evaluate(_MARK_LOOKS) > 3
    found += Axe().run(
        page, "[data-look]", {"resultTypes": ["violations"], "runOnly": ["color-contrast"]}
    ).response["violations"]  # fmt: skip
    return [(f["id"], f["nodes"][0]["html"]) for f in found if f["impact"] in ("serious", "critical")]
