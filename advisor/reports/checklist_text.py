"""Checklists as text and as a page, with the words explained that are not everyday."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from advisor.reports.answered import EXPLAINED, HEADING
from advisor.reports.begin import BEGIN
from advisor.reports.checklist import (
    ASKED,
    EXERCISE,
    KEY,
    NOTHING,
    ROOM,
    TASKS,
    Checked,
    ChecklistItem,
    many_checked,
)
from advisor.reports.clean import legible
from advisor.reports.data import made_by_words
from advisor.reports.html import render
from advisor.reports.not_yours import HEADING as NOT_YOURS
from advisor.reports.notes import short_meanings, word_block, words_used
from advisor.review.model import Report

WIDTH = 80
_BLANK = "_" * 72
_SIGNED = f"Name {'_' * 25}  Date {'_' * 13}  Signed {'_' * 20}"


def as_checklist_text(reports: Sequence[Report], by: str = "step", form: str = "list") -> str:
    """The checklist at 80 columns; `form` is list, exercise, answers or job."""
    lines = _lines(many_checked(reports, by, form), form)
    lines += word_block(_words(reports, lines), WIDTH)
    lines += ["", made_by_words(reports[0])] if reports else []
    return "\n".join(legible(line) for line in lines) + "\n"


def _words(reports: Sequence[Report], lines: list[str]) -> list[tuple[str, str]]:
    """What the sheet says that is not everyday, in the words of any of its plans."""
    found = dict(pair for report in reports for pair in words_used(lines, report.plan.units, report.name))
    return sorted(found.items(), key=lambda pair: pair[0].casefold())


def _in_short(words: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """The same in the fewest letters: a class gets one sheet of paper."""
    short = short_meanings()
    return [(word, short.get(word, meaning)) for word, meaning in words]


def _lines(plans: Sequence[Checked], form: str) -> list[str]:
    """The sheet without its words."""
    lines: list[str] = []
    for one in plans:
        lines += [*([""] if lines else []), *textwrap.wrap(one.title, WIDTH), *textwrap.wrap(TASKS[form], WIDTH)]
        lines += ["", _SIGNED] if form != "answers" else []
        lines += [line for text in one.missed for line in _wrap(text, "", "")]
        if form == "exercise":
            for title, said in one.plan:
                lines += ["", title.upper()]
                lines += [line for text in said for line in _wrap(text, "  ", "    ")]
        if one.begin and form != "exercise":
            lines += ["", BEGIN.upper(), "-" * len(BEGIN)]
            lines += [line for text in one.begin for line in _wrap(text, "     [ ] ", " " * 9)]
        if one.asked:
            lines += ["", ASKED.upper(), "-" * len(ASKED)]
            lines += [line for text in one.asked for line in (*_wrap(text, "   ? ", "     "), f"     {_BLANK}")]
            lines += ["", *_wrap(one.left, "", "")] if one.left else []
        if one.theirs:
            lines += ["", NOT_YOURS.upper(), "-" * len(NOT_YOURS)]
            lines += [line for text in one.theirs for line in _wrap(text, "     [ ] ", " " * 9)]
        if one.holds and form != "exercise":
            lines += ["", HEADING.upper(), "-" * len(HEADING)]
            lines += [line for view in one.holds for line in _wrap(view.line, "     [ ] ", " " * 9)]
        for group in one.groups:
            lines += ["", group.title.upper(), "-" * min(len(group.title), WIDTH)]
            if form == EXERCISE:
                lines += _blanks(group.number)
            elif form == KEY and not group.items:
                lines += _wrap(NOTHING, f"{group.number:>3}. ", " " * 5)
            else:
                for item in group.items:
                    lines += _item(item, form)
            for text in group.work:
                lines += _wrap(f"Done: {text}.", "     [ ] ", " " * 9)
        if not one.groups:
            lines += ["", "No rule speaks. That is no proof: see the cautions."]
    changes = sorted({text for one in plans for text in one.changes})
    lines += ["", *(line for text in changes for line in _wrap(text, "- ", "  "))]
    lines += [*(line for text in (plans[0].cautions if plans else ()) for line in _wrap(text, "- ", "  "))]
    return lines


def _wrap(text: str, first: str, rest: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)


def _blanks(number: int) -> list[str]:
    room = [f"     {_BLANK}"] * ROOM
    return [f"{number:>3}. What can go wrong?", *room, "     What must be true first?", *room]


def _item(item: ChecklistItem, form: str) -> list[str]:
    view = item.view
    mark = "[ ]" if view.hold else " ! "
    where = f" ({', '.join(item.where)})" if item.where else ""
    lines = _wrap(f"{view.signal.upper()}: {view.what}{where}", f"{item.mark:>3}. {mark} ", " " * 9)
    if form == "answers":
        lines += _wrap(view.because, " " * 9, " " * 9)
        for level, text in view.controls:
            lines += _wrap(f"{level}: {text}", " " * 9 + "- ", " " * 11)
    who = f"Who: {view.who}. " if view.grave and view.who else ""
    rule = f" {view.rule}" if form == "answers" else ""
    return [*lines, *_wrap(f"{who}[{view.source_line}]{rule}", " " * 9, " " * 9)]


def as_checklist_html(reports: Sequence[Report], by: str = "step", form: str = "list") -> str:
    """The checklist as one HTML file, a plan a section."""
    plans = many_checked(reports, by, form)
    title = plans[0].title if len(plans) == 1 else "Checklists"
    return render(
        "checklist.html.j2",
        title=title,
        sheet="sheet",
        plans=plans,
        form=form,
        task=TASKS[form],
        made_by=made_by_words(reports[0]) if reports else "",
        words=_in_short(_words(reports, _lines(plans, form))),
        holds_heading=HEADING,
        holds_told=EXPLAINED,
        asked_heading=ASKED,
        room=ROOM,
        nothing=NOTHING,
        not_yours=NOT_YOURS,
    )
