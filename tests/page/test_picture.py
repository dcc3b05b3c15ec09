"""The picture of the page in README is made here: with PICTURE=1 this writes docs/page.png."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from page.serving import serving
from reports.support import CHROMIUM, needs_chromium

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed here")
pytestmark = needs_chromium

PICTURE = Path(__file__).parents[2] / "docs" / "page.png"
WIDTH, HEIGHT = 1280, 900
WORDS = (
    "The house is from 1957. I sand the hall trim with a random orbit sander, it is painted pine. "
    "Then I prime it and paint it. My daughter is four. The trim is 22 square feet."
)


def size(picture: bytes) -> tuple[int, int]:
    """Width and height of a PNG: PNG specification, 11.2.2, the header comes first."""
    assert picture[:8] == b"\x89PNG\r\n\x1a\n"
    return int.from_bytes(picture[16:20], "big"), int.from_bytes(picture[20:24], "big")


def test_the_picture_is_of_the_page() -> None:
    with serving() as address, playwright.sync_playwright() as one:
        browser = one.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": WIDTH, "height": HEIGHT}, color_scheme="light")
        page.set_default_timeout(60_000)
        page.goto(address)
        page.locator("#words").fill(WORDS)
        page.get_by_role("button", name="Make a plan of it").click()
        page.locator("#says-body .finding").first.wait_for()
        page.locator("#sentences li").first.wait_for()
        made = page.screenshot()
        browser.close()
    if os.environ.get("PICTURE"):
        PICTURE.write_bytes(made)
    assert size(made) == (WIDTH, HEIGHT)
    assert size(PICTURE.read_bytes()) == (WIDTH, HEIGHT), "PICTURE=1 makes it anew"
