"""The best order of checks against a published rule.

W. E. Smith, "Various optimizers for single-stage production", Naval Research Logistics Quarterly
3 (1956) 59-66 (rule from memory): jobs with weights and times cost the least weighted sum of
finishing times in the order of falling weight over time. Checks that each reveal causes of their
own, with no access in common, are such jobs; the chances are the weights.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.first_checks import Cause, Check, Search, best_plan

jobs = st.lists(st.tuples(st.integers(1, 50), st.integers(1, 60)), min_size=1, max_size=9)


@given(jobs)
def test_smiths_ratio_rule(jobs: list[tuple[int, int]]) -> None:
    causes = tuple(Cause(f"cause {n}", weight) for n, (weight, _) in enumerate(jobs))
    checks = tuple(
        Check(f"check {n}", minutes, frozenset({f"cause {n}"}))
        for n, (_, minutes) in enumerate(jobs)
    )
    finished, weighted_sum = 0, 0
    for weight, minutes in sorted(jobs, key=lambda job: job[0] / job[1], reverse=True):
        finished += minutes
        weighted_sum += weight * finished

    plan = best_plan(Search(causes, checks))

    total = sum(weight for weight, _ in jobs)
    assert plan.expected_minutes == pytest.approx(weighted_sum / total)
    ratios = [step.chance_found / step.check.minutes for step in plan.steps]
    assert ratios == pytest.approx(sorted(ratios, reverse=True))
