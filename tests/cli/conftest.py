"""What several tests of commands need."""

import pytest
from reports.support import tiny_rules


@pytest.fixture
def tiny(monkeypatch):
    """Only the tiny rules, so that the numbers below can be counted by hand."""
    monkeypatch.setattr("advisor.review.reviewing.load_rulebase", lambda own: tiny_rules())
