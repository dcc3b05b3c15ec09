"""Who may ask the page, how much, and what a browser may do with the answer."""

from __future__ import annotations

import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.routing import Route
from starlette.testclient import TestClient

from advisor.page.guard import MOST_BYTES, Guard, apology

OURS = "localhost:8642"


async def echo(request: Request) -> PlainTextResponse:
    """The length of what was sent."""
    return PlainTextResponse(str(len(await request.body())))


async def fault(_: Request) -> PlainTextResponse:
    """A fault of ours."""
    raise RuntimeError("secret of the inside")


@pytest.fixture
def client() -> TestClient:
    app = Starlette(
        routes=[Route("/", echo, methods=["GET", "POST"]), Route("/fault", fault)],
        exception_handlers={Exception: apology},
    )
    return TestClient(Guard(app, [OURS]), base_url=f"http://{OURS}", raise_server_exceptions=False)


def test_the_page_itself_may_ask(client: TestClient) -> None:
    assert client.get("/").status_code == 200
    assert client.post("/", content="ab", headers={"origin": f"http://{OURS}"}).text == "2"


@pytest.mark.parametrize("host", ["evil.example", "localhost:1", "127.0.0.1.evil.example:8642", ""])
def test_a_name_that_is_not_ours_is_refused(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("origin", ["http://evil.example", "null", f"http://{OURS}.evil.example", "http://localhost:1"])
def test_another_page_may_not_ask(client: TestClient, origin: str) -> None:
    assert client.get("/", headers={"origin": origin}).status_code == 403
    assert client.post("/", headers={"origin": origin}).status_code == 403


def test_a_form_of_another_page_without_origin_is_known_by_what_the_browser_says(client: TestClient) -> None:
    assert client.post("/", headers={"sec-fetch-site": "cross-site"}).status_code == 403
    assert client.post("/", headers={"sec-fetch-site": "same-origin"}).status_code == 200


def test_a_body_has_a_bound_told_or_not(client: TestClient) -> None:
    assert client.post("/", content=b"x" * (MOST_BYTES + 1)).status_code == 413
    pieces = (b"x" * 100_000 for _ in range(MOST_BYTES // 100_000 + 1))
    assert client.post("/", content=pieces).status_code == 413
    assert client.post("/", content=b"x", headers={"content-length": "many"}).status_code == 413


def test_every_answer_says_what_a_browser_may_do(client: TestClient) -> None:
    for answer in (
        client.get("/"),
        client.get("/nothing"),
        client.get("/fault"),
        client.get("/", headers={"host": "x"}),
    ):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"


def test_a_fault_of_ours_is_an_apology_without_a_trace(client: TestClient) -> None:
    answer = client.get("/fault")
    assert answer.status_code == 500
    assert answer.text == "Something went wrong here, not with your plan. Nothing was changed."
