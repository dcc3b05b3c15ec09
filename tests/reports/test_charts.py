"""Charts say what their tables say, and the tables say what the handbooks say."""

import xml.etree.ElementTree as ET  # of our own drawings, nothing foreign

import pytest

from advisor.reports.charts import charts_of
from advisor.reports.vapour_chart import vapour_drawing
from reports.support import small_report

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def charts():
    report = small_report()
    return {chart.kind: chart for finding in report.findings for chart in charts_of(finding, "us")}


def words(chart):
    return [node.text for node in ET.fromstring(chart.svg).iter(f"{SVG}text")]


def test_every_kind_of_chart_is_drawn(charts):
    assert sorted(charts) == ["noise", "shims", "tiles", "vapour"]


def test_shims_fill_up_to_the_high_point(charts):
    """Geometry: drops of 3/8, 0 and 1-1/4 in below the level line are the shims themselves, the high point at 0."""
    assert charts["shims"].rows == (("0 ft", "3/8 in"), ("3 ft", "0 in"), ("8 ft", "1-1/4 in"))
    assert {"3/8 in", "0 in", "1-1/4 in"} <= set(words(charts["shims"]))


def test_noise_of_94_dba_makes_a_day_in_one_hour(charts):
    """NIOSH 98-126, Table 1-1: 94 dBA for 1 h is a full day; 5 h are five days' worth."""
    assert charts["noise"].rows == (("94 dBA", "5 h", "1 h", "500 %"), ("all together", "", "", "500 %"))


def test_vapor_ends_at_the_volume_made_over_the_room(charts):
    """ACGIH: a pound-mole makes 386.8 cuft at 70 °F, so 1/2 qt of mineral spirits (62.43 lb/cuft x 0.78, 140 lb a
    pound-mole) makes 2.25 cuft; in 936 cuft that is 2,400 ppm. Fire limit of mineral spirits 0.8 % (NIOSH Pocket
    Guide) = 8,000 ppm, a quarter of it 2,000."""
    made = 386.8 / 140 * 0.78 * 62.43 * 0.5 / 4 * 0.133681
    rows = dict(charts["vapour"].rows)
    peak = float(rows["1 h"].removesuffix(" ppm").replace(",", ""))

    assert peak == pytest.approx(made / 936 * 1e6, rel=0.005)
    assert rows["30 min"] == "1,201 ppm"  # half of the hour, half of the vapor
    assert [rows[k] for k in rows if k.startswith("limit")] == ["8,000 ppm", "2,000 ppm", "100 ppm"]


def test_vapor_falls_by_e_for_each_change_of_air():
    """V dC = -Q C dt: after one change of air 1/e is left (ACGIH, rate of purging)."""
    parts = {"room_volume": 30.0, "evaporation_time": 3600.0, "vapour": 0.03, "lel": 0.01, "airflow": 30 / 3600,
             "generation": 0.03 / 3600}  # fmt: skip
    _, _, _, rows = vapour_drawing(parts, None, "metric")
    at = {row[0]: float(row[1].removesuffix(" ppm").replace(",", "")) for row in rows[:8]}

    # The drying hour ends at 1000 ppm x (1 - 1/e); an hour later 1/e of that is left.
    assert at["1 h"] == pytest.approx(632.1, abs=0.6)
    assert at["2 h"] == pytest.approx(632.1 * 0.3679, abs=0.6)


def test_tile_cuts_are_those_of_the_drawing_board(charts):
    """Geometry: 50 in of 6 in tile with 1/8 in joints. A tile in the middle leaves 25 - 3 - 1/8 - 3 x 6-1/8 = 3-1/2 in
    at both ends; begun at one end eight tiles and joints are 49 in and 1 in is left."""
    assert charts["tiles"].rows == (
        ("from the middle", "7", "3-1/2 in", "3-1/2 in"),
        ("from one end", "8", "6 in", "1 in"),
    )


@pytest.mark.parametrize("kind", ["noise", "shims", "tiles", "vapour"])
def test_a_chart_is_drawn_inside_its_frame(charts, kind):
    picture = ET.fromstring(charts[kind].svg)
    _, _, wide, tall = map(float, picture.get("viewBox").split())
    spots = [(float(n.get("x")), float(n.get("y"))) for tag in ("rect", "text") for n in picture.iter(SVG + tag)]
    for node in picture.iter(f"{SVG}polyline"):
        spots += [tuple(map(float, pair.split(","))) for pair in node.get("points").split()]

    assert [spot for spot in spots if not (0 <= spot[0] <= wide and 0 <= spot[1] <= tall)] == []


@pytest.mark.parametrize("kind", ["noise", "shims", "tiles", "vapour"])
def test_a_chart_says_in_words_what_it_shows(charts, kind):
    picture = ET.fromstring(charts[kind].svg)

    assert (picture.get("role"), picture.get("aria-label")) == ("img", charts[kind].summary)


def test_charts_are_in_black_and_grey_only(charts):
    shades = {
        node.get(name)
        for chart in charts.values()
        for node in ET.fromstring(chart.svg).iter()
        for name in ("fill", "stroke")
        if node.get(name)
    }

    assert shades <= {"none", "#000", "#fff", "#d9d9d9", "#bdbdbd"}
