"""A browser on the page, for tests that go the way of a person."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from page.serving import WAIT, serving
from reports.support import CHROMIUM


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed here")
    with playwright.sync_playwright() as one:
        started = one.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield started
        started.close()


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with serving() as one:
        yield one


@pytest.fixture
def tab(browser: Any, address: str) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 1200, "height": 900})
    page = context.new_page()
    page.set_default_timeout(WAIT)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(address)
    yield page
    context.close()
    assert said == []
