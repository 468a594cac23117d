"""The words of steps: each a sentence of its own, under the term that an engineer looks for."""

import pytest


@pytest.mark.parametrize("job", ["demo", "demo_si"])
def test_no_sentence_runs_over_two_steps(job, request):
    for chapter in request.getfixturevalue(f"{job}_book").chapters:
        for step in chapter.steps:
            if step.words != step.term:
                assert step.words.rstrip().endswith((".", "!", "?")), (chapter.name, step.words)
                first = step.words.partition(" ")[0]
                assert not first[0].islower() or ":" in step.words or first in NAMES, step.words


NAMES = {"ridge"}  # a pad of the demo, whose name begins the sentence


@pytest.mark.parametrize(
    ("formula", "term"),
    [
        # the terms of ACI 318-19 (19.2.2, 19.2.3, 17.6.2, 17.6.3, 17.7.3, 14.5), from memory
        ("modulus_of_rupture", "Modulus of rupture of concrete"),
        ("steel_tension", "Tensile strength of the bolt steel"),
        ("maturity_rate", "Maturity rate at a temperature (equivalent age)"),
        ("bearing_pressure", "Bearing pressure under a pad"),
    ],
)
def test_steps_are_headed_by_the_term_of_the_standard(formula, term):
    from calcbook.book.registry import load_formulas

    assert load_formulas()[formula].title == term
