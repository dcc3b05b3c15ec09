"""What the page says is for somebody who has only the page: no command, no words of the plan file, no dead ends."""

from __future__ import annotations

import html
import re

import pytest
from page.serving import SMALL
from page.test_answers import DEMO

from advisor.page import answers
from advisor.page.sheets import file_name
from advisor.page.views import question_views
from advisor.plan import read_plan
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

COMMAND = re.compile(r"\badvisor (?:questions|supplies|vocabulary|review|order|accept)\b|house: \{|crew: \{")
CABINETS = (
    "Our house was built in 1955. I want to strip the old paint off the kitchen cabinet doors and repaint them. "
    "About 14 doors and 5 drawer fronts. I take the doors off and use a chemical stripper on them in the garage, "
    "sand them smooth, then prime and put on two coats of enamel."
)


@pytest.mark.parametrize("plan", [SMALL, DEMO], ids=["small", "demo"])
def test_no_command_line_on_the_page_and_its_prints(plan: str) -> None:
    texts = list(answers.look(plan)["parts"].values())
    texts += [answers.sheet(plan, what)["content"] for what in ("review", "summary", "checklist", "hazards", "order")]
    texts += [answers.sheet(plan, what)["content"] for what in ("exercise", "key")]

    assert [found[0] for text in texts for found in COMMAND.finditer(html.unescape(text))] == []


def test_the_terminal_keeps_its_commands() -> None:
    from advisor.reports.html import as_html
    from advisor.reports.text import as_text

    rulebase = load_rulebase()
    report = review_plan(read_plan(DEMO, rulebase.vocabulary, "demo.yaml"), rulebase)
    assert "advisor supplies" in as_text(report)
    assert "advisor questions demo.yaml" in as_html([report])


def test_an_amount_that_is_said_loosely_is_taken() -> None:
    for said in ("about 25 lb", "~25 lb", "25 lb or so", "I think about 25 lb", "maybe 25 pounds"):
        answer = answers.write(SMALL, "part", "lamp", "weight", said)
        assert answer["problems"] == [], said
        assert re.search(r"weight: 25 (?:lb|pounds)\b", answer["text"]), said
    assert answers.write(SMALL, "house", "house", "children_under_6", "about 2")["text"].startswith("house: {chi")
    assert "built: about 1978" in answers.write(SMALL, "house", "house", "built", "about 1978")["text"]


@pytest.mark.parametrize("said", ["about", "heavy", "about heavy", "about 25", "25 lb to 30 lb or so"])
def test_what_is_no_amount_is_refused_in_words_of_the_page(said: str) -> None:
    told = answers.write(SMALL, "part", "lamp", "weight", said)["problems"][0]["message"]

    assert told.startswith(f"'{said}' was not taken. Expected a weight, such as")
    assert "advisor" not in told


def test_a_room_that_is_seen_from_an_answer_is_added() -> None:
    assert "kitchen: {kind: kitchen}" in answers.write(SMALL, "part", "lamp", "room", "kitchen")["text"]
    assert "'" in answers.write(SMALL, "part", "lamp", "room", "nowhere")["problems"][0]["message"]


def test_a_question_about_several_takes_several_or_none() -> None:
    text = SMALL.replace("kind: hallway", "kind: garage")
    answer = answers.write(text, "room", "hall", "ignition_sources", "pilot light, switch")
    assert "ignition_sources: [pilot light, switch]" in answer["text"]
    assert "ignition_sources: none" in answers.write(text, "room", "hall", "ignition_sources", "none")["text"]


def test_a_question_shows_the_usual_words_and_takes_all_others() -> None:
    """Asphalt, metal, slate, clay and wood cover the roofs there are; common practice."""
    text = (
        "house: {built: 1978}\nrooms: {garage: {kind: garage}}\n"
        "parts: {roof: {kind: roof, room: garage}, top: {kind: worktop, room: garage, material: oak}}\n"
        "products: {stripper: {kind: stripper}}\nsteps:\n  - {id: cut, do: cut out, to: roof}\n"
        "  - {id: strip, do: strip, to: top, using: stripper}\n"
    )
    shown = answers.look(text)["parts"]["questions"]
    forms = dict(
        re.findall(r'<form class="ask" data-sort="\w+" data-own="\w+" data-attribute="(\w+)">(.*?)</form>', shown, re.S)
    )
    several = {name: body for name, body in forms.items() if 'type="checkbox"' in body}
    one = {name: body for name, body in forms.items() if 'type="radio"' in body}

    assert several
    assert one
    assert all("none of these" in body for body in several.values())
    assert all(body.count('name="q') <= 8 for body in forms.values())
    assert [n for n, body in forms.items() if 'class="own"' in body and "words-" not in body] == []
    lists = answers.words()["lists"]
    named = {name for body in forms.values() for name in re.findall(r'list="(words-[^"]+)"', body)}
    assert named
    assert [name for name in named if f'id="{name}"' not in lists] == []


def test_the_usual_words_are_words_of_the_vocabulary() -> None:
    rulebase = load_rulebase()
    wrong = []
    for row in rulebase.usual["first"]:
        terms = rulebase.vocabulary.taxonomies[rulebase.vocabulary.attributes[row["sort"]][row["say"]].of].terms
        wrong += [word for word in row["words"] if word not in terms]
    assert rulebase.usual["first"]
    assert wrong == []


def test_what_was_understood_stands_ticked_among_the_choices() -> None:
    heard = answers.draft(CABINETS, "")["heard"]
    sand = next(item for item in heard.split("<li")[1:] if '<q dir="auto">sand</q>' in item)

    assert re.findall(r'value="([^"]+)"( checked)?', sand) == [("doors", " checked"), ("drawer-fronts", "")]
    assert "sand: the drawer fronts" in sand
    assert "to of sand" not in heard


def test_a_doubt_of_the_draft_goes_when_it_is_answered() -> None:
    drafted = answers.draft(CABINETS, "")["text"]
    assert "steps.sand.to:" in drafted
    written = answers.write(drafted, "step", "sand", "to", "doors, drawer-fronts")["text"]
    assert "to: [doors, drawer-fronts]" in written
    assert "steps.sand.to:" not in written
    assert "steps.strip.to:" in written


def test_advice_that_details_a_thing_does_not_tell_to_buy_it() -> None:
    text = (
        "rooms: {hall: {kind: hallway}}\nparts:\n  fan: {kind: ceiling fan, room: hall}\n"
        "steps:\n  - {id: hang, do: install, to: fan}\n"
    )
    told = answers.take(text, "fan-on-ordinary-box@hang")
    assert told["problems"] == []
    assert told["said"] == ["Puts on the list of things to get, for hang: for fan: box kind fan box."]


def test_a_plan_has_a_name_for_sheets_and_files() -> None:
    named = answers.name(SMALL, "  Ben:  the bath ")["text"]
    assert named == f'title: "Ben: the bath"\n{SMALL}'
    assert answers.name(named, "Ann")["text"] == f"title: Ann\n{SMALL}"
    assert answers.look(named)["title"] == "Ben: the bath"
    sheet = answers.sheet(named, "checklist")
    assert sheet["name"] == "ben-the-bath-checklist.html"
    assert "<title>Ben: the bath</title>" in sheet["content"]
    assert file_name("../..", "plan", "application/yaml") == "plan.yaml"
    assert file_name("Ann", "plan", "application/yaml") == "ann.yaml"


def test_the_first_day_may_come_with_the_form() -> None:
    made = answers.sheet(SMALL, "calendar", "2027-03-01")
    assert made["content"].startswith("BEGIN:VCALENDAR")
    assert "advisor" not in answers.sheet(SMALL, "calendar")["problems"][0]["message"]
    assert answers.sheet(SMALL, "calendar", "soon")["problems"]


def test_a_thing_of_the_plan_is_not_told_to_be_bought_again() -> None:
    text = (
        "rooms: {hall: {kind: hallway}}\nparts:\n  fan: {kind: ceiling fan, room: hall}\n"
        "steps:\n  - {id: hang, do: install, to: fan}\n"
        "to_get:\n  - {what: fan, as: {box_kind: [fan box]}, for: [hang]}\n"
    )
    sheet = answers.sheet(text, "checklist")["content"]
    assert "get: for fan: box kind fan box." in sheet
    assert "get: fan (" not in sheet


def test_a_question_for_several_things_may_be_answered_with_none() -> None:
    rulebase = load_rulebase()
    plan = read_plan(DEMO, rulebase.vocabulary, "demo.yaml")
    asked = question_views(DEMO, plan, review_plan(plan, rulebase, walking=True), rulebase, 400)
    things = [f for f in asked if f.many and rulebase.vocabulary.attributes[f.sort][f.attribute].type == "ref"]
    assert things
    for one in things:
        assert one.nothing == "none"
        assert f"{one.attribute}: none" in answers.write(DEMO, one.sort, one.own, one.attribute, "none")["text"]


def test_a_reason_of_the_order_is_told_once_and_without_the_name_of_a_rule() -> None:
    shown = answers.look(DEMO)["parts"]["order"]
    assert "Moved" in shown
    assert re.findall(r" \([a-z]+(?:-[a-z]+)+\)</li>", shown) == []
