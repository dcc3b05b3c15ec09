"""What the page answers: the same as the commands, by requests as its script sends them."""

from __future__ import annotations

import html
import json
import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from advisor.page import answers
from advisor.page.app import make_app
from advisor.page.folder import Folder
from advisor.page.workers import SupersededError
from advisor.plan import read_plan
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

ROOT = Path(__file__).parents[2]
DEMO = (ROOT / "scenarios" / "galley-kitchen-faulty.yaml").read_text(encoding="utf-8")
SMALL = (
    "rooms: {hall: {kind: hallway}}\nparts:\n  lamp: {kind: light, room: hall}\n"
    "steps:\n  - {id: swap, do: replace, to: lamp}\n"
)
HOST = "localhost:8642"
HOSTILE = '"><script>alert(1)</script><img src=x onerror=alert(2)>\u202e\x1b[31m{{ 7*7 }}'


class Here:
    """Workers that do the work in this process, so that a test sees what goes wrong."""

    async def start(self) -> None:
        """Nothing to start."""

    def stop(self) -> None:
        """Nothing to stop."""

    async def do(self, task: Any, *args: Any, person: str = "", turn: int = 0) -> Any:
        """Do it now."""
        if person == "superseded":
            raise SupersededError
        return task(*args)


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    (tmp_path / "kept.yaml").write_text(SMALL, encoding="utf-8")
    app = make_app([HOST], Here(), Folder(tmp_path))  # type: ignore[arg-type]
    with TestClient(app, base_url=f"http://{HOST}", raise_server_exceptions=False) as one:
        yield one


def test_the_counts_are_those_of_the_review(client: TestClient) -> None:
    rulebase = load_rulebase()
    report = review_plan(read_plan(DEMO, rulebase.vocabulary, "demo"), rulebase)
    answer = client.post("/look", json={"text": DEMO}).json()
    for word in ("danger", "warning", "caution", "notice"):
        assert answer["counts"][word] == report.count(word)
    assert answer["counts"]["open"] == len(report.open)
    for finding in report.findings:
        if finding.signal == "danger":
            assert finding.what.split("{")[0][:20] in answer["parts"]["says"].replace("&#39;", "'")


def test_mistakes_come_with_their_lines(client: TestClient) -> None:
    answer = client.post("/look", json={"text": SMALL.replace("replace", "levitate")}).json()
    assert [one["line"] for one in answer["problems"]] == [5]
    assert "unknown action, 'levitate'" in answer["problems"][0]["message"]
    assert "parts" not in answer


def test_an_answer_is_written_and_told(client: TestClient) -> None:
    answer = client.post(
        "/write", json={"text": SMALL, "sort": "house", "own": "house", "attribute": "wiring", "value": "copper"}
    ).json()
    assert answer["problems"] == []
    assert "wiring: copper" in answer["text"]
    assert SMALL in answer["text"]  # every other byte stands
    assert answer["told"]


def test_an_answer_that_does_not_fit_changes_nothing(client: TestClient) -> None:
    answer = client.post(
        "/write", json={"text": SMALL, "sort": "house", "own": "house", "attribute": "built", "value": "soon"}
    ).json()
    assert answer["problems"]
    assert "text" not in answer
    answer = client.post(
        "/write", json={"text": SMALL, "sort": "part", "own": "nobody", "attribute": "weight", "value": "3 lb"}
    ).json()
    assert answer["problems"]


def test_advice_shows_what_it_changes_and_what_that_brings(client: TestClient) -> None:
    looked = client.post("/look", json={"text": SMALL}).json()
    assert 'data-finding="isolate-power@swap"' in looked["parts"]["advice"]
    answer = client.post("/take", json={"text": SMALL, "finding": "isolate-power@swap"}).json()
    assert any(line.startswith("+") and "shut off power" in line for line in answer["diff"])
    assert answer["said"][0] == "Adds a step before swap: shut off power lamp; for 10 min."
    assert "Gone: DANGER: Power off and tested dead" in answer["told"]
    after = client.post("/look", json={"text": answer["text"]}).json()
    assert after["counts"]["danger"] < looked["counts"]["danger"]


def test_a_step_is_moved(client: TestClient) -> None:
    two = SMALL + "  - {id: sweep, do: sweep, in: hall}\n"
    answer = client.post("/move", json={"text": two, "number": 1, "places": -1}).json()
    assert answer["text"].index("sweep") < answer["text"].index("swap")
    back = client.post("/move", json={"text": answer["text"], "number": 0, "places": 1}).json()
    assert back["text"] == two
    assert client.post("/move", json={"text": two, "number": 0, "places": -1}).json()["problems"]


def test_a_usual_job_becomes_a_plan(client: TestClient) -> None:
    answer = client.post("/begin", json={"jobs": ["faucet", "light"]}).json()
    assert client.post("/look", json={"text": answer["text"]}).json()["problems"] == []


def test_a_field_offers_the_words_of_its_own_attribute_alone(client: TestClient) -> None:
    """A question may ask for three things of a wire in one breath; each is a field with its own words."""
    vocabulary = load_rulebase().vocabulary
    shown = client.post("/look", json={"text": DEMO}).json()["parts"]["questions"]
    forms = re.findall(r'<form class="ask" data-sort="(\w+)"[^>]*data-attribute="(\w+)">(.*?)</form>', shown, re.DOTALL)
    wrong, seen = [], 0
    for sort, name, body in forms:
        attribute = vocabulary.attributes[sort][name]
        if attribute.type != "term":
            continue
        options = [
            html.unescape(one)
            for one in re.findall(r'<input type="(?:radio|checkbox)" name="[^"]+" id="[^"]+" value="([^"]+)"', body)
        ]
        seen += bool(options)
        wrong += [(name, one) for one in options if one not in vocabulary.taxonomies[attribute.of].terms]
    assert seen > 1
    assert wrong == []


def test_words_become_a_plan_with_their_doubts(client: TestClient) -> None:
    words = "I paint the kitchen cabinet doors. The doors are oak. My uncle has a flurgle."
    answer = client.post("/draft", json={"words": words, "into": ""}).json()
    assert client.post("/look", json={"text": answer["text"]}).json()["problems"] == []
    assert "flurgle" in answer["heard"]


@pytest.mark.parametrize(
    "what", ["checklist", "summary", "supplies", "hazards", "exercise", "key", "order", "review", "plan"]
)
def test_every_sheet_can_be_taken_away(client: TestClient, what: str) -> None:
    answer = client.post(f"/sheet/{what}", data={"text": SMALL})
    assert answer.status_code == 200
    assert len(answer.text) > 100
    assert "unsafe" not in answer.headers["content-security-policy"]


def test_a_calendar_needs_a_first_day(client: TestClient) -> None:
    assert "needs a first day" in client.post("/sheet/calendar", data={"text": SMALL}).text
    dated = client.post("/sheet/calendar", data={"text": "crew: {start: 2027-03-01}\n" + SMALL})
    assert dated.headers["content-type"].startswith("text/calendar")
    assert dated.text.startswith("BEGIN:VCALENDAR")


def test_without_script_a_pasted_plan_is_reviewed(client: TestClient) -> None:
    shell = client.get("/").text
    assert '<form method="post" action="/review">' in shell
    assert "DANGER" in client.post("/review", data={"text": SMALL}).text
    assert "unknown action" in client.post("/review", data={"text": SMALL.replace("replace", "levitate")}).text


def test_hostile_text_is_inert_everywhere(client: TestClient) -> None:
    evil, lamp = json.dumps(HOSTILE), json.dumps(f"lamp {HOSTILE}")
    plan = (
        f"title: {evil}\nrooms: {{hall: {{kind: hallway, note: {evil}}}}}\n"
        f"parts:\n  {lamp}: {{kind: light, room: hall}}\nsteps:\n  - {{do: replace, to: {lamp}}}\n"
    )
    # What is put into the page as it comes; messages go in as text alone (see page.js), and the browser tests look.
    texts = list(client.post("/look", json={"text": SMALL + f"title: {evil}\n"}).json()["parts"].values())
    texts.append(client.post("/draft", json={"words": HOSTILE, "into": ""}).json()["heard"])
    texts += [client.post(f"/sheet/{what}", data={"text": plan}).text for what in ("review", "checklist", "hazards")]
    for text in texts:
        assert "<script>alert" not in text
        assert "<img src=x" not in text.replace("\\u003c", "<")
        assert "49" not in text or "7*7" in text


def test_a_plan_of_the_folder_is_read_saved_and_not_written_over(client: TestClient) -> None:
    read = client.get("/plans/kept.yaml").json()
    assert read["text"] == SMALL
    saved = client.put("/plans/kept.yaml", json={"text": SMALL + "# mine\n", "mark": read["mark"]})
    assert saved.status_code == 200
    clash = client.put("/plans/kept.yaml", json={"text": SMALL + "# late\n", "mark": read["mark"]})
    assert clash.status_code == 409
    assert clash.json()["text"] == SMALL + "# mine\n"


@pytest.mark.parametrize("name", ["..%2Fkept.yaml", "%2Fetc%2Fpasswd", "nothing.yaml", "kept.yaml%00"])
def test_no_path_leads_out_of_the_folder(client: TestClient, name: str) -> None:
    assert client.get(f"/plans/{name}").status_code == 404
    assert client.put(f"/plans/{name}", json={"text": "x", "mark": "y"}).status_code == 404


def test_what_is_superseded_is_said(client: TestClient) -> None:
    assert client.post("/look", json={"text": SMALL, "person": "superseded", "turn": 1}).status_code == 409


ADDRESSES = [
    "/look",
    "/write",
    "/take",
    "/name",
    "/move",
    "/draft",
    "/begin",
    "/sheet/checklist",
    "/sheet/x",
    "/review",
    "/plans/kept.yaml",
    "/static/x",
    "/",
]
REQUESTS = int(os.environ.get("REQUESTS", "100"))  # 1,000 in full
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=40) | st.just(SMALL),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
FIELDS = [
    "text",
    "sort",
    "own",
    "attribute",
    "value",
    "finding",
    "number",
    "places",
    "words",
    "into",
    "jobs",
    "person",
    "turn",
    "mark",
    "title",
    "start",
]
BODIES = st.binary(max_size=200) | st.dictionaries(st.sampled_from(FIELDS), VALUES, max_size=8).map(
    lambda d: json.dumps(d).encode()
)


@settings(max_examples=REQUESTS, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(["GET", "POST", "PUT", "DELETE"]), st.sampled_from(ADDRESSES), BODIES)
def test_no_request_however_malformed_brings_a_fault(
    client: TestClient, method: str, address: str, body: bytes
) -> None:
    answer = client.request(method, address, content=body)
    assert answer.status_code < 500, answer.text
    assert "Traceback" not in answer.text


def test_prepare_needs_no_plan() -> None:
    answers.prepare()
