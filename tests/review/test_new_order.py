"""The order of work keeps constraints that only the new order would break."""

from pathlib import Path

from advisor.review.reviewing import review

OWN = """pack: trial
title: Trial
kinds: {}
rules:
  - id: wash-first
    title: Wash before sanding
    when:
      - step: {id: $sand, do: sand, to: $part}
      - step: {id: $wash, do: degrease, to: $part, later_than: $sand}
    precede: {signal: notice, first: $wash, then: $sand, what: Wash first., because: Grease.}
    sources: [{common_practice: yes}]
    serves: [surface-preparation-1]
  - id: mask-before-wash
    title: Masking before washing
    when:
      - step: {id: $wash, do: degrease, to: $part}
      - step: {id: $mask, do: mask, to: $part, later_than: $wash}
    precede: {signal: notice, first: $mask, then: $wash, what: Mask first., because: Splashes.}
    sources: [{common_practice: yes}]
    serves: [surface-preparation-1]
"""
PLAN = """title: x
house: {built: 2003}
rooms: {shed: {kind: workshop}}
parts: {doors: {kind: cabinet doors, room: shed, new: yes}}
steps:
  - {id: smooth, do: sand, to: doors}
  - {id: cover, do: mask, to: doors}
  - {id: wash, do: degrease, to: doors}
"""


def test_a_move_takes_along_what_it_would_break(tmp_path: Path) -> None:
    """Washing moves up before sanding; masking stood before washing, so it must move up too."""
    (tmp_path / "trial.yaml").write_text(OWN)
    report = review(PLAN, tmp_path)
    order = [row.step for row in report.order]

    assert order.index("cover") < order.index("wash") < order.index("smooth")
    assert "mask-before-wash@wash" not in [f.id for f in report.findings]
