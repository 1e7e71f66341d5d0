"""The fault codes of a vehicle: complete, each once, leading to sections that are there."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from generator.guide.check_words import cause_words, check_words, reason_words
from generator.guide.code_groups import codes_told
from generator.guide.code_words import listed_runs, noticed_words, symptom_words
from generator.guide.codes_page import banks_of, codes, fitted_sensors
from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.trade.default_checks import CheckName
from generator.trade.fault_code_table import FAULT_CODES
from generator.trade.first_checks import Reason
from generator.trade.likely_causes import DEFAULT_CAUSES

PageOf = Callable[[Vehicle, str], Any]
Small = Callable[..., Vehicle]

ONE_WIRE = {"sensors.0.wires": 1}
CARROW = "fenwright-carrow-3-2-v6"


def group_of(vehicle: Vehicle, code: str) -> Any:
    (found,) = (
        group
        for sensor in codes(vehicle).sensors
        for group in sensor.groups
        if code in [row.code for row in group.told.codes]
    )
    return found


def texts(element: Any) -> str:
    return " ".join("".join(element.itertext()).split())


def test_every_code_of_every_sensor_has_one_place(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    for vehicle in demo.values():
        page = page_of(vehicle, "codes.html")
        anchors = [each.get("id") for each in page.iter() if each.get("id") in FAULT_CODES]
        assert len(anchors) == len(set(anchors))
        assert set(anchors) == codes_told(banks_of(vehicle), fitted_sensors(vehicle))
        places = {(sensor.bank, sensor.position) for sensor in vehicle.sensors}
        for anchor in anchors:
            assert set(FAULT_CODES[anchor].sensors) <= places, anchor


def test_every_link_leads_to_a_place_that_is_there(
    demo: dict[str, Vehicle], html: Callable[[Page], str]
) -> None:
    for vehicle in demo.values():
        pages = {page.path.rpartition("/")[2]: html(page) for page in vehicle_pages(vehicle)}
        ids = {name: set(re.findall(r' id="([^"]+)"', text)) for name, text in pages.items()}
        for href in re.findall(r'href="([^"]+)"', pages["codes.html"]):
            file, _, anchor = href.partition("#")
            if file.startswith("../"):
                code = file.removeprefix("../../codes/").removesuffix(".html")
                assert code in FAULT_CODES or not file.startswith("../../codes/P"), href
                continue
            assert (file or "codes.html") in pages, href
            assert not anchor or anchor in ids[file or "codes.html"] | {"content"}, href


def test_the_first_tap_after_a_heater_code_is_the_test_page(demo: dict[str, Vehicle]) -> None:
    group = group_of(demo[CARROW], "P0135")
    assert group.number.href == "bank-1-position-1-test.html"
    assert "2.1–" in group.number.title
    assert "between terminals 1 and 2" in group.number.detail
    assert group.order.rows[0].href.startswith("bank-1-position-1-test.html")


def test_a_rule_of_thumb_is_called_one(small: Small) -> None:
    number = group_of(small(), "P0135").number
    assert "a rule of thumb" in number.title


def test_without_a_heater_there_is_no_word_of_one(small: Small, page_of: PageOf) -> None:
    vehicle = small(ONE_WIRE)
    assert [group.number for sensor in codes(vehicle).sensors for group in sensor.groups] == [
        None
    ] * len(codes(vehicle).sensors[0].groups)
    page = page_of(vehicle, "codes.html")
    said = texts(page.find(".//table")) + " ".join(texts(each) for each in page.iter("details"))
    assert "heater" not in said.lower()
    assert not [each for each in page.iter() if each.get("id") == "P0135"]


def test_a_sensor_beyond_the_standards_places_gets_a_sentence(
    small: Small, page_of: PageOf
) -> None:
    page = page_of(small({"sensors.0.position": 4}), "codes.html")
    assert "no code for a sensor at this bank and position" in texts(page)


def test_only_in_the_way_counts_once_and_untimed_is_said(small: Small) -> None:
    told = codes(small()).sensors[0].getting_there.replace("\u00a0", " ")
    assert told.startswith(
        "Nothing is in the way. To fit a new one: 30 min, as it has not been timed"
    )
    timed = (
        codes(small({"sensors.0.minutes": "10 to 20"}))
        .sensors[0]
        .getting_there.replace("\u00a0", " ")
    )
    assert "To fit a new one: 30 min; to prove it: 15 min" in timed
    obstacles = {
        "cover": {"name": "cover", "minutes": "2 to 4"},
        "tray": {"name": "tray", "under": ["cover"]},
    }
    vehicle = small({"obstacles": obstacles, "sensors.0.behind": ["cover", "tray"]})
    told = codes(vehicle).sensors[0].getting_there.replace("\u00a0", " ")
    assert (
        "its plug: 8 min, counted once" in told
    )  # 3 for the cover, 5 for the tray that is not timed
    assert "not been timed counts as 5 min (common practice, no source)" in told
    rows = group_of(vehicle, "P0130").order.rows
    behind = [row for row in rows if "8 of them to get there" in row.minutes]
    assert len(behind) == 1, "the way is opened once"


def test_the_averages_add_up_on_the_page(small: Small) -> None:
    order = group_of(small(), "P0135").order
    # 5 + 0.32 x 5 + 0.06 x 8 = 7.1; a new sensor at once: 15 out, 15 in, 15 proof, then
    # 0.32 x 5 + 0.06 x 8
    assert order.average.startswith("On average 7 min to the cause")
    assert "a new sensor at once, 47." in order.average


def test_likelihoods_of_the_vehicle_are_used_and_name_their_source(
    small: Small, page_of: PageOf
) -> None:
    own = {
        "sources": {"book": {"title": "Fault book", "kind": "measurement"}},
        "likelihoods": {"heater-circuit": {"causes": {"fuse": 9000}, "source": "book"}},
    }
    vehicle = small(own)
    order = group_of(vehicle, "P0135").order
    assert order.rows[0].text == check_words(vehicle.t)[CheckName.FUSE]
    assert order.basis == "Likelihoods stated for this vehicle: Fault book, measured."
    assert order.basis in texts(page_of(vehicle, "codes.html"))
    assert group_of(vehicle, "P0130").order.basis == ""


def test_stuck_lean_has_a_second_order_for_after_exhaust_work(demo: dict[str, Vehicle]) -> None:
    group = group_of(demo[CARROW], "P2195")
    assert group.after_work is not None
    assert group.after_work != group.order
    assert group_of(demo[CARROW], "P0135").after_work is None


def test_what_a_code_is_not(demo: dict[str, Vehicle]) -> None:
    mistaken = group_of(demo[CARROW], "P0030").told.mistaken
    assert ("P0050–P0052, P0059, P0155", "bank 2, position 1") in mistaken
    assert ("P0033–P0035", "turbocharger bypass valve") in mistaken


def test_exchanged_sensors_need_both(demo: dict[str, Vehicle], small: Small) -> None:
    told = [group.told.codes[0].code for group in codes(demo[CARROW]).exchanged]
    assert told == ["P0040", "P0041"]
    assert codes(small()).exchanged == []


def test_a_lean_bank_leads_to_the_checks_of_its_first_sensor(demo: dict[str, Vehicle]) -> None:
    first, second = codes(demo[CARROW]).mixture
    ways = [("#P2195", "Lean: as for P2195"), ("#P2196", "Rich: as for P2196")]
    assert first.told.onward == ways
    assert second.told.onward[0][0] == "#P2197"


def test_the_catalyst_comes_last_on_the_sensor_behind_it(demo: dict[str, Vehicle]) -> None:
    for bank, of_bank in enumerate(codes(demo[CARROW]).mixture, 1):
        group = of_bank.catalyst
        assert group
        assert [row.code for row in group.told.codes] == [("P0420", "P0430")[bank - 1]]
        named = [row.text.partition(" ")[0] + " " + (row.href or "") for row in group.order.rows]
        sensor = f"bank-{bank}-position-2"
        assert named == [
            "Read ",
            f"Watch {sensor}-test.html#live-data",
            f"Look {sensor}-refit.html#proof",
            f"No {sensor}-test.html#live-data",
        ]


def test_what_can_hurt_on_this_vehicle_stands_before_each_order(
    small: Small, page_of: PageOf
) -> None:
    page = page_of(small({"vehicle.hazards": ["high-voltage"]}), "codes.html")
    groups = list(page.iter("details"))
    orders = [each for each in groups if "group" in (each.get("class") or "")]
    assert len(orders) > 3
    for group in orders:
        said = texts(group)
        assert said.index("DANGER") < said.index("Check in this order")


def test_without_a_sensor_behind_it_a_catalyst_has_no_order(small: Small) -> None:
    (only,) = codes(small()).mixture
    assert only.catalyst is None
    assert "P0420" not in [row.code for row in only.told.codes]
    assert "P0171" in [row.code for row in only.told.codes]


def test_likelihoods_are_called_common_practice(demo: dict[str, Vehicle], page_of: PageOf) -> None:
    for vehicle in demo.values():
        said = texts(page_of(vehicle, "codes.html"))
        assert "Likelihoods and minutes are common practice, no source" in said


def test_everything_has_its_words(small: Small) -> None:
    t = small().t
    causes = {cause.name for causes in DEFAULT_CAUSES.values() for cause in causes}
    assert set(cause_words(t)) == causes
    assert set(check_words(t)) == set(CheckName)
    assert set(reason_words(t)) == set(Reason)
    words: Iterator[str] = iter([*noticed_words(t).values(), *symptom_words(t).values()])
    assert all(word.strip() for word in words)


@pytest.mark.parametrize(
    ("codes_", "listed"),
    [
        (["P0059", "P0060", "P0061"], "P0059–P0061"),
        (["P0030", "P0031", "P0053"], "P0030, P0031, P0053"),
        (["P2A00", "P2A01", "P2A02"], "P2A00, P2A01, P2A02"),
        (["P0139", "P013A", "P0138", "P0137"], "P0137–P0139, P013A"),
    ],
)
def test_codes_that_follow_one_another_are_drawn_together(codes_: list[str], listed: str) -> None:
    assert listed_runs(FAULT_CODES[code] for code in codes_) == listed
