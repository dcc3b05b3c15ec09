"""Where the house stands, as reports tell it: one line at the head, what is known of the country at the end, data."""

from __future__ import annotations

from typing import Any

from advisor.review.model import Report
from advisor.rulebase.countries import HOME, Country, country

HEADING = "Where the house stands"
COUNTRY = "house.country"  # the name of its question
WRITE = "house: {country: …}"
EDITIONS = ("electrical", "residential", "plumbing")


def there(report: Report) -> Country:
    """The country whose words and tables count."""
    return report.country or country(HOME)


def place_line(report: Report, write: str = WRITE) -> str:
    """What is presumed of the country, or whose law was not looked at and whom to ask; empty for nothing.

    `write` is how another country is said; empty where a field for it stands beside.
    """
    place, own = report.plan.place, there(report)
    if place.code == HOME:
        elsewhere = f" Elsewhere, say {write}." if write else ""
        return f"Presumed country: {own.name}.{elsewhere}" if place.how == "presumed" else ""
    told = f"Not looked at: {_laws(own)}. Ask {own.ask}."
    if place.how == "stated":
        return told
    if place.code:
        elsewhere = f" If it stands elsewhere, write {write}." if write else ""
        return f"Presumed: {own.name}, as {place.because}. {told}{elsewhere}"
    how = f": write {write}" if write else ""
    return f"In which country does the house stand? Nothing says it, as {place.because}{how}. {told}"


def place_rows(report: Report) -> list[tuple[str, str, str]]:
    """What is known of another country: what it is, the value, the source. Nothing of the country of the rules.

    Every report for people tells these, under HEADING, and `place_asked` after them.
    """
    if report.plan.place.code == HOME:
        return []
    rows = there(report).rows.values()
    return [(_begun(row.meaning), row.value, f"{row.cite} ({row.verified})") for row in rows]


def place_asked(report: Report) -> str:
    """What is not known of another country, as questions to ask there; empty for nothing."""
    own = there(report)
    if report.plan.place.code == HOME or not own.missing:
        return ""
    return f"Not known here, so ask: {' '.join(ask for _, ask in own.missing)}"


def place_data(report: Report) -> dict[str, Any]:
    """The place by the contract: country, region, and the editions of its codes, used or presumed."""
    place, own = report.plan.place, there(report)
    code = report.plan.entities.get("code", {}).get("code")  # a file of waivers has none
    stated = code.values if code is not None and place.code == HOME else {}
    return {
        "country": place.code or None,
        "name": own.name if place.code else None,
        "region": place.region or None,
        "how": place.how,
        "because": place.because or None,
        "editions": {name: stated[name].text if name in stated else "presumed" for name in EDITIONS}
        if place.code == HOME
        else {},
        "known": {row.name: row.value for row in own.rows.values()} if place.code != HOME else {},
        "unknown": [name for name, _ in own.missing] if place.code != HOME else [],
        **(_asked_there(own) if place.code != HOME else {}),
    }


def _asked_there(own: Country) -> dict[str, Any]:
    """Of another country: whose law was not looked at, whom to ask, where each value was read, what to ask there."""
    return {
        "not_looked_at": _laws(own),
        "ask": own.ask,
        "sources": {row.name: f"{row.cite} ({row.verified})" for row in own.rows.values()},
        "asks": [ask for _, ask in own.missing],
    }


def _laws(own: Country) -> str:
    return own.laws.replace("{{ country }}", own.name)


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]
