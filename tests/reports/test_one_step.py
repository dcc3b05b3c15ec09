"""One step alone, and one sheet: what the eleventh judge missed there (see `tests/reports/wishes.md`)."""

from __future__ import annotations

import re

import pytest

from advisor.reports.first import first_screen
from advisor.reports.html import as_brief_html
from advisor.reports.text import Shape, as_text
from reports.support import SCENARIOS, needs_chromium, needs_poppler, reviewed, spaced
from reports.test_html import printed
from reports.test_judged_eleventh import planned, ran, scenario


def _step(stem: str, step: str) -> str:
    return spaced(as_text(reviewed(stem), shape=Shape(step=step)))


@pytest.mark.parametrize(
    ("stem", "step", "earlier"),
    [
        ("bathroom-careful", "set-tile", ["hang-board", "tank-wall", "cut-tile"]),
        ("galley-kitchen-careful", "fix-run", ["find-studs", "shim-run", "join-run"]),
        ("galley-kitchen-careful", "cut-sink", ["measure-sink", "mark-sink"]),
        ("galley-kitchen-careful", "clip-sink", ["prop-sink", "bed-sink", "fit-top"]),
        ("galley-kitchen-careful", "test-sockets", ["power-on"]),
        ("floor-careful", "couch-back", ["coat-floor"]),
    ],
)
def test_one_step_names_the_steps_that_come_first_on_its_own_things(stem, step, earlier):
    """C8. As the judge lists them: by thing, by what it stands on, by circuit."""
    before = _step(stem, step).partition("WHAT MUST HOLD BEFORE IT")[2].partition("ITS TIME")[0]
    named = re.search(r"After ([^.]+)\.", before)

    assert named
    assert [one for one in earlier if one not in re.split(r", | and ", named[1])] == []


def test_what_belongs_to_another_step_while_it_lasts_is_not_to_be_done_before_this_one():
    """Air, masks and hearing protection are for the step that asks; a lead test is for all that come after."""
    assert "Asked at lacquer-vanity" not in _step("bathroom-faulty", "stone-up")
    told = _step("windows-faulty", "paint-sashes")
    assert told.count("Lead test before old paint is disturbed [1]") == 1
    assert "Hearing protection" not in told.partition("ITS TIME")[0]


def test_nothing_false_is_said_of_how_things_stand():
    """Sanding takes a cleaner off; that dust lies nowhere is not told where a dry cut just made it."""
    assert "cleaner" not in _step("floor-careful", "coat-floor").partition("ITS TIME")[0]
    assert "no step has rinsed boards since wax-off" in _step("floor-careful", "rough-sand")
    assert "no dust lies on surround" not in _step("bathroom-faulty", "set-tile")


def test_each_piece_of_a_step_says_what_it_is_and_no_work_is_no_dash():
    assert "Set up for lead: day 9 08:00 to day 9 09:30" in _step("bathroom-faulty", "strip-vanity")
    assert "The step itself: day 9 09:30" in _step("bathroom-faulty", "strip-vanity")
    assert "- of work" not in _step("bathroom-faulty", "first-shower")


def test_the_stricter_mask_is_told_once():
    """Old paint asks for P100; that a loose mask or an N95 would do for oak dust is not told beside it."""
    assert "Wear an N95" not in as_text(reviewed("floor-faulty"))


CEILING = """
title: Ceiling
house: {built: 1955}
rooms: {den: {kind: bedroom}}
parts: {ceiling: {kind: ceiling, room: den, material: plaster, coating: paint}}
steps:
  - {id: smooth, do: sand, to: ceiling}
"""


def test_an_inspector_takes_the_sample_of_asbestos():
    """The text asks for an accredited inspector; so do first screen, list and order."""
    whom = [one.who for one in first_screen(planned(CEILING)).not_yours if "asbestos" in one.work]

    assert whom == ["accredited asbestos inspector"]


def test_a_heading_says_what_stands_below_it():
    """Four warnings, no danger."""
    assert "<h2>Warnings</h2>" in as_brief_html(reviewed("thin-first-draft"))
    assert "<h2>Dangers and warnings</h2>" in as_brief_html(reviewed("bathroom-faulty"))
    assert "open wall: wall" in ran("checklist", scenario("bathroom-careful"))


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("size", ["Letter", "A4"])
def test_the_short_form_of_every_plan_is_one_page(tmp_path, size):
    """Wish B1; with the browser's own margins of 15 mm."""
    pages = {path.stem: len(printed(as_brief_html(reviewed(path.stem)), size, tmp_path)) for path in SCENARIOS}

    assert [(stem, count) for stem, count in pages.items() if count != 1] == []
    assert len(pages) >= 12
