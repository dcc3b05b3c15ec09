"""Reports in which every string is hostile.

The reader of plans refuses most of this in names, and rules are not written by strangers; renderers must hold
all the same, so here every string of a report is replaced except the words that the program itself chooses from.
"""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from advisor.calculators import Result
from advisor.document import Node
from advisor.plan.model import Value
from advisor.review.model import Report
from reports.support import small_report

TEXTS = {
    "script": "<script>alert(1)</script>",
    "style": "</style></p><img src=x onerror=alert(1)>",
    "quotes": "\"'><svg onload=alert(1)> `x` ``y`` &amp; {{ 7 * 7 }} {% raw %} --> ]]>",
    "right to left": "safe \u202egnihton\u202c \u2066x\u2069 \u05e9\u05dc\u05d5\u05dd",
    "control": "bell\x07 escape\x1b[31m null\x00 c1\x9b line\u2028end\r\nnext\ud800",
    "markdown": "[link](javascript:alert(1)) ![i](http://e.example/x) **b** # h <http://e.example> | a | www.e.example",
    "start of line": "- [x] 1. > # item",
    "formula": '=HYPERLINK("http://evil.example")',
    "at": "@SUM(1+1)",
    "long": "W" * 10_000,
}
# Words that the program chooses from: a report with others cannot come to be.
_CHOSEN = {"kind", "signal", "units", "dimension", "how", "sort"}


def hostile_report(text: str) -> Report:
    """The small report with `text` at the start of every string, alike where strings were alike."""
    report = small_report()
    for name in report.__struct_fields__:
        setattr(report, name, _put(getattr(report, name), text, name))
    return report


def _put(value: Any, text: str, name: str = "") -> Any:
    if isinstance(value, str):
        return value if name in _CHOSEN or not value else f"{text} {value}"
    if isinstance(value, Node | Result):
        return value
    if isinstance(value, Struct):
        made = {n: _put(getattr(value, n), text, n) for n in value.__struct_fields__ if n != "drawn"}
        if isinstance(value, Value):
            made["plain"] = value.plain
        return type(value)(**made)
    if isinstance(value, dict):
        # The keys of `order` and of a step's values are names of the program.
        keys = name not in ("order", "values", "entities", "schedule")
        return {(_put(k, text) if keys else k): _put(v, text, name) for k, v in value.items()}
    if isinstance(value, list):
        return [_put(v, text, name) for v in value]
    if isinstance(value, tuple):
        if name == "controls":
            return tuple((level, _put(said, text)) for level, said in value)
        kept = (_put(v, text, name) for v in value)
        return type(value)(*kept) if hasattr(value, "_fields") else tuple(kept)
    return value
