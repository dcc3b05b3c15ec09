"""The page in Debian's Chromium: a first-timer's whole way, with the mouse, with keys alone, on a narrow screen."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from page.serving import SMALL, WAIT, serving
from reports.support import AXE, needs_axe, needs_chromium

pytestmark = needs_chromium

WORDS = "The kitchen faucet drips. I take the old faucet out and put a new faucet in."


def fill_plan(tab: Any, text: str = SMALL) -> None:
    tab.locator("#file summary").click()
    tab.locator("#text").fill(text)
    tab.locator("#says-body .finding").first.wait_for()


def axe(tab: Any) -> list[str]:
    tab.evaluate(AXE.read_text(encoding="utf-8"))
    found = tab.evaluate("() => axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']})")
    return [f"{one['id']}: {[node['target'] for node in one['nodes']]}" for one in found["violations"]]


def test_from_a_sentence_to_a_printed_checklist(tab: Any) -> None:
    tab.locator("#words").fill(WORDS)
    tab.get_by_role("button", name="Make a plan of it").click()
    tab.locator("#says-body .finding").first.wait_for()
    asked = tab.locator("#questions-body form")
    before = asked.count()
    assert before > 1
    first = asked.first
    field = first.locator("input").first
    if field.get_attribute("type") in ("radio", "checkbox"):
        field.check()
    else:
        field.fill("1990" if "year" in first.inner_text().lower() else "yes")
    first.get_by_role("button", name="Answer").click()
    tab.locator("#told", has_text="Written:").wait_for()
    tab.locator("#questions-body form").first.get_by_role("button", name="Don't know").click()
    tab.locator("#advice-body .take").first.click()
    tab.locator("#preview").wait_for(state="visible")
    if tab.locator("#do-it").count():
        tab.locator("#do-it").click()
    with tab.context.expect_page() as opened:
        tab.get_by_role("button", name="Checklist", exact=True).click()
    sheet = opened.value
    sheet.wait_for_load_state()
    assert "checklist" in sheet.url
    sheet.wait_for_url("**/sheet/checklist")
    assert sheet.locator("h1").inner_text()
    assert "Tick a box when it is true or done." in sheet.locator("body").inner_text()
    assert sheet.locator("section.finding").count() > 0
    assert sheet.evaluate("() => getComputedStyle(document.querySelector('h1')).fontWeight") in ("700", "bold")


def test_the_same_way_with_keys_alone_on_a_narrow_screen(browser: Any, address: str) -> None:
    context = browser.new_context(viewport={"width": 320, "height": 640})
    page = context.new_page()
    page.set_default_timeout(WAIT)
    page.goto(address)
    press(page, "#words")
    page.keyboard.type(WORDS)
    press(page, "#make")
    page.keyboard.press("Enter")
    page.locator("#says-body .finding").first.wait_for()
    assert page.evaluate("() => document.documentElement.scrollWidth <= 320")
    press(page, "#advice-body .take")
    page.keyboard.press("Enter")
    page.locator("#preview").wait_for(state="visible")
    assert page.evaluate("() => document.activeElement.closest('#preview') !== null")
    page.keyboard.press("Enter")
    page.locator("#preview").wait_for(state="hidden")
    context.close()


def press(page: Any, selector: str) -> None:
    """Tab till the element has the focus, as somebody without a mouse does."""
    for _ in range(400):
        page.keyboard.press("Tab")
        if page.evaluate("s => document.activeElement.matches(s)", selector):
            return
    raise AssertionError(f"{selector} cannot be reached with the Tab key")


def test_undo_back_to_the_start_gives_the_first_plan(tab: Any) -> None:
    fill_plan(tab)
    tab.locator("#advice-body .take").first.click()
    tab.locator("#do-it").click()
    tab.wait_for_function("first => document.getElementById('text').value !== first", arg=SMALL)
    tab.get_by_role("button", name="Undo").click()
    assert tab.locator("#text").input_value() == SMALL
    tab.get_by_role("button", name="Redo").click()
    assert tab.locator("#text").input_value() != SMALL


def test_what_was_not_sure_is_one_key_and_a_word_of_a_sentence_is_a_field(tab: Any) -> None:
    tab.locator("#words").fill(
        "The house is from 1962. I sand the kitchen shelf with a random orbit sander. The shelf has 40 inches."
    )
    tab.get_by_role("button", name="Make a plan of it").click()
    offer = tab.locator("#heard .offer", has_text="shelf: length 40 in")
    offer.focus()
    tab.keyboard.press("Enter")
    tab.wait_for_function("() => document.getElementById('text').value.includes(', length: 40 in}')")
    tab.locator("#heard .offer", has_text="length 40 in").first.wait_for(state="detached")
    assert tab.locator("#heard .offer", has_text="length 40 in").count() == 0
    field = tab.get_by_label("built", exact=True).first
    assert field.input_value() == "1962"
    field.fill("1996")
    field.press("Tab")
    tab.wait_for_function("() => document.getElementById('text').value.includes('built: 1996')")
    tools = tab.locator("#lists datalist")
    assert tools.count() > 0


def test_a_plan_is_kept_over_a_reload(tab: Any) -> None:
    fill_plan(tab)
    tab.reload()
    tab.locator("#says-body .finding").first.wait_for()
    assert tab.locator("#text").input_value() == SMALL


def test_mistakes_are_shown_and_lead_to_their_line(tab: Any) -> None:
    fill_plan(tab)
    tab.locator("#text").fill(SMALL.replace("replace", "levitate"))
    tab.get_by_role("button", name="Show the line").click()
    assert "levitate" in tab.evaluate(
        "() => { const t = document.activeElement; return t.value.slice(t.selectionStart, t.selectionEnd); }"
    )


def test_a_step_moves_with_keys_and_the_focus_stays(tab: Any) -> None:
    fill_plan(tab, SMALL + "  - {id: sweep, do: sweep, in: hall}\n")
    tab.locator("#up-sweep").focus()
    tab.keyboard.press("Enter")
    tab.locator("#told", has_text="Moved.").wait_for()
    tab.wait_for_function("() => document.querySelector('.steps li strong').textContent === 'sweep'")
    assert tab.evaluate("() => document.activeElement.id || document.activeElement.tagName") in (
        "down-sweep",
        "plan-head",
    )


def test_hostile_text_in_every_field_is_inert(tab: Any) -> None:
    tab.on("dialog", lambda dialog: pytest.fail("a script of the plan ran"))
    evil = '<img src=x onerror="alert(1)"><script>alert(2)</script>'
    tab.locator("#words").fill(evil)
    tab.get_by_role("button", name="Make a plan of it").click()
    tab.locator("#told:not(:empty)").wait_for()
    fill_plan(tab, SMALL + f"title: '{evil}'\nnote: '{evil}'\n")
    assert tab.locator("#says-body img").count() == 0
    assert tab.locator("#cards img").count() == 0


@needs_axe
def test_axe_finds_nothing(seen_by_axe: Any) -> None:
    page = seen_by_axe
    assert axe(page) == []
    page.locator("#words").fill("I sand the kitchen shelf. The shelf has 40 inches.")
    page.get_by_role("button", name="Make a plan of it").click()
    page.locator("#heard .offer").first.wait_for()
    fill_plan(page)
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    page.locator("#advice-body .take").first.click()
    page.locator("#preview").wait_for(state="visible")
    assert axe(page) == []


def test_two_tabs_on_one_file(browser: Any, tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(SMALL, encoding="utf-8")
    with serving(tmp_path) as there:
        context = browser.new_context()
        tabs = [context.new_page(), context.new_page()]
        for number, page in enumerate(tabs):
            page.set_default_timeout(WAIT)
            page.goto(there)
            page.locator("#which").select_option("plan.yaml")
            page.locator("#told", has_text="Opened").wait_for()
            page.locator("#file summary").click()
            page.locator("#text").fill(f"# tab {number}\n{SMALL}")
        for page in tabs:
            page.get_by_role("button", name="Save").click()
        tabs[0].locator("#told", has_text="Saved").wait_for()
        tabs[1].locator("#clash").wait_for(state="visible")
        assert "# tab 0" in tabs[1].locator("#clash").inner_text()
        assert (tmp_path / "plan.yaml").read_text(encoding="utf-8") == f"# tab 0\n{SMALL}"
        tabs[1].get_by_role("button", name="Save mine in its place").click()
        tabs[1].locator("#told", has_text="Saved").wait_for()
        assert (tmp_path / "plan.yaml").read_text(encoding="utf-8") == f"# tab 1\n{SMALL}"
        context.close()
