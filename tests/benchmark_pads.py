"""10,000 pads checked through the book's own formulas, against the same sum written out in numpy.

``python tests/benchmark_pads.py`` prints both times and their ratio (limit 2).
"""

import statistics
import time

import numpy as np

from calcbook.footings.pads import check_pad, unshown

PADS = 10_000
RANDOM = np.random.default_rng(11)
L, B = RANDOM.uniform(18, 96, PADS), RANDOM.uniform(18, 96, PADS)  # in.
DEPTH, P_A = RANDOM.uniform(4, 24, PADS), RANDOM.uniform(1e3, 2e4, PADS)  # in., lbf
P_U = 1.5 * P_A
T, C_1, C_2, Q_A, F_C, GAMMA = 5.0, 5.5, 5.5, 2000.0, 4000.0, 150.0


def by_the_book():
    """Ratios of all checks, through the formulas that the printout shows."""
    checks = check_pad(
        unshown, L, B, DEPTH, t=T, c_1=C_1, c_2=C_2, P_a=P_A, P_u=P_U, q_a=Q_A / 144, f_c=F_C,
        gamma_c=GAMMA / 1728,
    )  # fmt: skip
    return [check.ratio for check in checks]


def by_hand():
    """The same ratios as a numpy programmer writes them, in inches and pounds."""
    area, gamma = L * B, GAMMA / 1728
    pressure = P_A / area + gamma * DEPTH + gamma * T
    whole = T + DEPTH
    counted = whole - 2
    factored = P_U / area
    reach = np.maximum(np.maximum(L - C_1, B - C_2), 0) / 2
    moment = factored * 12 * reach**2 / 2
    moment_strength = 0.6 * 5 * np.sqrt(F_C) * 12 * counted**2 / 6
    shear = factored * 12 * (np.maximum(reach, counted) - counted)
    shear_strength = 0.6 * 4 / 3 * np.sqrt(F_C) * 12 * counted
    perimeter = 2 * (C_1 + counted) + 2 * (C_2 + counted)
    punching = factored * (area - np.minimum(C_1 + counted, L) * np.minimum(C_2 + counted, B))
    beta = max(C_1, C_2) / min(C_1, C_2)
    punching_strength = 0.6 * min(4 / 3 * (1 + 2 / beta), 8 / 3) * np.sqrt(F_C) * perimeter * counted
    post = C_1 * C_2
    spread = np.minimum((C_1 + 4 * whole) / C_1, (C_2 + 4 * whole) / C_2)
    like = np.maximum(np.minimum(np.minimum(L / C_1, B / C_2), spread), 1)
    under = 0.6 * np.minimum(np.sqrt(post * like**2 / post), 2) * 0.85 * F_C * post
    return [
        pressure * 144 / Q_A, moment / moment_strength, shear / shear_strength,
        punching / punching_strength, P_U / under, 8 / whole,
    ]  # fmt: skip


def seconds(work, times=60):
    """Median seconds of several runs."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return statistics.median(found)


def main():
    for ours, written in zip(by_the_book(), by_hand(), strict=True):
        np.testing.assert_allclose(ours, written, rtol=1e-9)
    book, hand = seconds(by_the_book), seconds(by_hand)
    print(f"{PADS:,} pads: book {book * 1e3:.2f} ms, hand-written numpy {hand * 1e3:.2f} ms, "
          f"ratio {book / hand:.2f} (limit 2)")  # fmt: skip


if __name__ == "__main__":
    main()
