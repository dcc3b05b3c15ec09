"""A message stands beside the field or button where somebody acts, and nothing that was made is lost unasked."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from page.serving import SMALL
from page.test_browser import axe, fill_plan
from page.test_plain_words import CABINETS, DEMO
from reports.support import needs_axe, needs_chromium

pytestmark = needs_chromium
GARAGE = (
    "house: {built: 1978}\nrooms: {garage: {kind: garage}}\nparts:\n"
    "  top: {kind: worktop, room: garage, material: oak}\n"
    "products: {stripper: {kind: stripper}}\nsteps:\n  - {id: strip, do: strip, to: top, using: stripper}\n"
)


def seen(tab: Any, selector: str) -> bool:
    """Whether it stands on the screen without scrolling."""
    return bool(
        tab.evaluate(
            "s => { const r = document.querySelector(s).getBoundingClientRect();"
            " return r.top >= 0 && r.bottom <= innerHeight; }",
            selector,
        )
    )


def question(tab: Any, attribute: str) -> Any:
    return tab.locator(f"#questions-body form[data-attribute={attribute}]")


def test_a_wrong_answer_is_told_beside_its_field(tab: Any) -> None:
    tab.set_viewport_size({"width": 360, "height": 740})
    fill_plan(tab)
    form = question(tab, "weight")
    form.locator("input").fill("heavy")
    form.get_by_role("button", name="Answer").click()
    form.locator("#beside[role=alert]", has_text="'heavy' was not taken. Expected a weight").wait_for()
    assert seen(tab, "#beside")
    assert form.locator("input").get_attribute("aria-describedby") == "beside"
    assert form.locator("input").get_attribute("aria-invalid") == "true"
    assert form.locator("input").input_value() == "heavy"
    form.locator("input").fill("about 25 lb")
    form.get_by_role("button", name="Answer").click()
    tab.locator("#questions-body #beside", has_text="Written: 25 lb.").wait_for()
    form.wait_for(state="detached")
    assert seen(tab, "#beside")
    assert tab.evaluate("() => document.activeElement.closest('#questions') !== null")
    assert tab.locator("#questions-body [aria-invalid]").count() == 0
    form = tab.locator("#questions-body form").first
    form.get_by_role("button", name="Answer").click()
    form.locator("#beside[role=alert]", has_text="Choose or write an answer").wait_for()


def test_a_change_of_the_plan_is_confirmed_beside_its_button(tab: Any) -> None:
    fill_plan(tab, SMALL + "  - {id: sweep, do: sweep, in: hall}\n")
    tab.locator("#advice-body .take").first.click()
    preview = tab.locator("#preview")
    preview.wait_for()
    assert preview.locator("p").first.inner_text().startswith("Adds a step before swap: shut off power")
    assert not preview.locator("pre").is_visible()
    assert preview.evaluate("e => e.closest('.advised > li') !== null")
    tab.locator("#do-it").click()
    tab.locator("#advice #beside", has_text="Done. Gone: DANGER").wait_for()
    tab.wait_for_function("() => !document.body.hasAttribute('aria-busy')")
    assert tab.evaluate("() => document.activeElement.closest('#advice') !== null")
    tab.locator("#up-sweep").click()
    tab.locator("#cards li #beside[role=status]", has_text="Moved.").wait_for()


def test_several_choices_none_and_other_words(tab: Any) -> None:
    fill_plan(tab, GARAGE)
    tools = question(tab, "with")
    tools.get_by_label("brush", exact=True).check()
    tools.get_by_label("scraper", exact=True).check()
    tools.get_by_label("Others").fill("sponge")
    tools.get_by_label("none of these").check()
    assert tools.locator("input:checked").count() == 1
    tools.get_by_label("brush", exact=True).check()
    tools.get_by_label("scraper", exact=True).check()
    assert not tools.get_by_label("none of these").is_checked()
    tools.get_by_label("Others").fill("putty knife")
    tools.get_by_role("button", name="Answer").click()
    tab.wait_for_function("() => document.getElementById('text').value.includes('with: [scraper, brush, putty knife]')")
    flames = question(tab, "ignition_sources")
    flames.get_by_label("none of these").check()
    flames.get_by_role("button", name="Answer").click()
    tab.wait_for_function("() => document.getElementById('text').value.includes('ignition_sources: none')")


def test_what_is_meant_may_be_both_and_keeps_what_was_heard(tab: Any) -> None:
    tab.locator("#words").fill(CABINETS)
    tab.get_by_role("button", name="Make a plan of it").click()
    item = tab.locator("#heard .several[data-own=prime][data-attribute=to]")  # with what it primes is asked too
    item.wait_for()
    assert item.get_by_label("prime: the kitchen cabinet doors").is_checked()
    item.get_by_label("prime: the drawer fronts").check()
    item.get_by_role("button", name="Take what is ticked").click()
    tab.wait_for_function(
        "() => /id: prime,.*to: \\[kitchen-cabinet-doors, drawer-fronts\\]/.test(document.getElementById('text').value)"
    )
    tab.locator("#heard #beside", has_text="Written: kitchen-cabinet-doors, drawer-fronts.").wait_for()


def test_a_plan_is_replaced_only_when_asked_and_comes_back_after_a_reload(tab: Any) -> None:
    fill_plan(tab)
    tab.locator("#words").fill("I paint the wall of the bedroom.")
    tab.get_by_role("button", name="Make a plan of it").click()
    tab.get_by_role("button", name="Leave it").click()
    assert tab.locator("#text").input_value() == SMALL
    tab.get_by_role("button", name="Make a plan of it").click()
    tab.get_by_role("button", name="Put the new one in its place").click()
    tab.wait_for_function("() => document.getElementById('text').value.includes('bedroom')")
    tab.reload()
    tab.locator("#cards .card").first.wait_for()
    assert tab.locator("#words").input_value() == "I paint the wall of the bedroom."
    tab.get_by_role("button", name="Undo").click()
    assert tab.locator("#text").input_value() == SMALL


def test_ticks_are_kept_and_stay_with_their_words(tab: Any) -> None:
    fill_plan(tab)
    box = tab.get_by_label("Switch lamp off at the breaker", exact=False).first
    words = box.evaluate("e => document.querySelector(`label[for='${e.id}']`).textContent")
    box.check()
    tab.reload()
    tab.locator("#says-body .finding").first.wait_for()
    checked = (
        "() => [...document.querySelectorAll('#says-body input:checked')]"
        ".map((e) => document.querySelector(`label[for='${e.id}']`).textContent)"
    )
    assert tab.evaluate(checked) == [words]
    tab.locator("#text").evaluate(
        "(e, v) => { e.value = v; e.dispatchEvent(new Event('input')); }", SMALL.replace("replace", "sweep")
    )
    tab.wait_for_function("w => !document.querySelector('#says-body').textContent.includes(w)", arg=words)
    assert tab.evaluate(checked) == []


def test_an_opened_file_takes_the_words_of_the_last_plan_away(tab: Any, tmp_path: Path) -> None:
    tab.locator("#words").fill("I paint the wall of the bedroom.")
    tab.get_by_role("button", name="Make a plan of it").click()
    tab.locator("#heard .text").wait_for()
    (tmp_path / "ben.yaml").write_text(f"title: Ben's hall\n{SMALL}", encoding="utf-8")
    tab.locator("#open").set_input_files(tmp_path / "ben.yaml")
    tab.wait_for_function("() => document.getElementById('title').value === \"Ben's hall\"")
    assert tab.locator("#words").input_value() == ""
    assert tab.locator("#heard").inner_text() == ""
    tab.locator("#title").fill("Ben, second go")
    tab.locator("#title").press("Tab")
    tab.wait_for_function("() => document.getElementById('text').value.startsWith('title: ')")
    tab.locator("#named + #beside, #named #beside", has_text="Named.").wait_for()
    with tab.expect_download() as saved:
        tab.get_by_role("button", name="Save a plan file").click()
    assert saved.value.suggested_filename == "ben-second-go.yaml"


def test_the_calendar_asks_its_first_day_beside_its_button(tab: Any) -> None:
    fill_plan(tab)
    tab.get_by_role("button", name="Calendar file").click()
    tab.locator("#take #beside[role=alert]", has_text="Choose the first day").wait_for()
    assert tab.evaluate("() => document.activeElement.id") == "start"
    assert len(tab.context.pages) == 1
    tab.locator("#start").fill("2027-03-01")
    with tab.expect_event("popup"), tab.context.pages[0].expect_popup():
        tab.get_by_role("button", name="Calendar file").click()
    tab.wait_for_function("() => document.getElementById('text').value.includes('start: 2027-03-01')")


def test_without_a_plan_there_is_nothing_to_press_in_vain(tab: Any) -> None:
    for name in ("Add it to my plan", "Save a plan file"):
        assert tab.get_by_role("button", name=name).is_disabled()
    for heading in ("Questions", "Advice", "Order and days", "Take away"):
        assert tab.get_by_role("heading", name=heading).count() == 0
        assert tab.get_by_role("link", name=heading).count() == 0
    fill_plan(tab)
    assert tab.get_by_role("heading", name="Take away").is_visible()


@pytest.mark.parametrize("width", [360, 1200])
def test_lettering_is_not_cut_and_words_are_not_broken(tab: Any, width: int) -> None:
    """The lettering of the calendar lies in its picture; no cell is narrower than its longest word."""
    tab.set_viewport_size({"width": width, "height": 800})
    fill_plan(tab, DEMO)
    tab.locator("#order svg").wait_for()
    cut = tab.evaluate(
        "() => [...document.querySelectorAll('#order svg text')].filter((t) => { const b = t.getBBox();"
        " return b.x + b.width > t.ownerSVGElement.viewBox.baseVal.width; }).map((t) => t.textContent)"
    )
    assert cut == []
    broken = tab.evaluate(
        "() => [...document.querySelectorAll('#order th')].filter((c) => { const r = document.createRange();"
        " r.selectNodeContents(c); return !c.textContent.includes(' ') && r.getClientRects().length > 1; })"
        ".map((c) => c.textContent)"
    )
    assert broken == []
    gap = tab.evaluate(
        "() => { const [a, b] = ['make', 'add'].map((i) => document.getElementById(i).getBoundingClientRect());"
        " return Math.max(b.left - a.right, b.top - a.bottom); }"
    )
    assert gap >= 8


@needs_axe
def test_axe_finds_nothing_where_one_acts(seen_by_axe: Any) -> None:
    page = seen_by_axe
    page.locator("#words").fill(CABINETS)
    page.get_by_role("button", name="Make a plan of it").click()
    page.locator("#says-body .finding").first.wait_for()
    page.locator("#heard .several input:checked").first.uncheck()
    page.locator("#heard .these").first.click()
    page.locator("#heard #beside[role=alert]").wait_for()
    page.get_by_role("button", name="Make a plan of it").click()
    page.locator("#asking").wait_for()
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    assert axe(page) == []
    form = page.locator("#questions-body form").first
    form.get_by_role("button", name="Answer").click()
    form.locator("#beside[role=alert]").wait_for()
    assert axe(page) == []


SWEPT = SMALL + "  - {id: sweep, do: sweep, in: hall}\n"


def test_what_an_advice_would_change_stays_while_its_plan_does(tab: Any) -> None:
    """An answer that comes late draws the advice anew: the preview of the same plan is hung up again."""
    held: list[Any] = []
    fill_plan(tab, SWEPT)
    tab.wait_for_function("() => !document.body.hasAttribute('aria-busy')")
    tab.route("**/look", lambda one: held.append(one))
    tab.locator("#text").fill(SWEPT + "  - {id: sweep-again, do: sweep, in: hall}\n")
    tab.wait_for_function("() => document.body.hasAttribute('aria-busy')")
    tab.locator("#advice-body .take").first.click()
    tab.locator("#do-it").wait_for()
    held[0].continue_()
    tab.wait_for_function("() => !document.body.hasAttribute('aria-busy')")
    assert tab.locator(".advised > li > #preview").count() == 1
    assert tab.evaluate("() => document.activeElement.id") == "do-it"
    tab.locator("#do-it").click()
    tab.locator("#advice #beside", has_text="Done. Gone: DANGER").wait_for()


def test_what_an_advice_would_change_is_not_shown_of_another_plan(tab: Any) -> None:
    held: list[Any] = []
    fill_plan(tab, SWEPT)
    tab.route("**/take", lambda one: held.append(one))
    tab.locator("#advice-body .take").first.click()
    tab.locator("#up-sweep").click()
    tab.locator("#cards li #beside", has_text="Moved.").wait_for()
    held[0].continue_()
    tab.locator("#advice #beside.bad", has_text="The plan was changed meanwhile").wait_for()  # said aloud once
    assert tab.locator("#preview").count() == 0
