"""Fuse boxes on the bay map: in their corner, with nothing across them, and named."""

from __future__ import annotations

import re
from itertools import combinations
from typing import Any

import pytest

from generator.guide.bay_map import bay_map
from generator.trade.place import (
    BayCorner,
    seen_from,
)
from tests.guide.bay_drawings import WAYS, Small, drawings, engine, overlap, sensors, text_box


def fused(*corners: BayCorner | None, names: str = "123456") -> dict[str, Any]:
    """Sensors of bank 1, each on a fuse of its own, with the corner of its box."""
    fuses = {
        f"f{number}": {
            "box": "black box",
            "number": names[number - 1 :] if len(names) > 6 else str(number),
            "rating": {"value": "15 A", "source": "book"},
            **({"corner": corner.value} if corner else {}),
        }
        for number, corner in enumerate(corners, start=1)
    }
    fitted = sensors(*((1, number, "above") for number in range(1, len(corners) + 1)))
    return {
        "sources": {"book": {"title": "Workshop book", "kind": "maker"}},
        "fuses": fuses,
        "sensors": [each | {"fuse": f"f{n}"} for n, each in enumerate(fitted, start=1)],
    }


@pytest.mark.parametrize("corner", BayCorner)
@pytest.mark.parametrize("bay", ["front", "mid", "rear"])
@pytest.mark.parametrize("mounting", ["longitudinal", "transverse"])
def test_a_fuse_box_lies_in_its_corner_where_nothing_crosses_it(
    small: Small, corner: BayCorner, bay: str, mounting: str
) -> None:
    sides = ("left", "right") if mounting == "longitudinal" else ("front", "rear")
    for side in sides:
        vehicle = small(
            {
                **engine(bay=bay, mounting=mounting),
                "banks.1.side": side,
                **fused(corner, None, corner),
            }
        )
        end, hand = corner.sides
        for stand, drawing in drawings(vehicle):
            (box,) = drawing.boxes
            x, y = box[0] + box[2] / 2, box[1] + box[3] / 2
            right, down = WAYS[seen_from(end, stand)]
            assert x * right + y * down > 30
            right, down = WAYS[seen_from(hand, stand)]
            assert x * right + y * down > 30
            names = [text for text in drawing.texts if text.text == "fuses 1, 3"]
            assert [(name.x, name.anchor) for name in names] == [(round(x, 1), "middle")]
            edges = (box[0], box[1], box[0] + box[2], box[1] + box[3])
            left, top, right_edge, foot = text_box(names[0])
            assert edges[0] <= left and right_edge <= edges[2]
            assert edges[1] <= top and foot <= edges[3]
            others = [text_box(text) for text in drawing.texts if text not in names]
            others += [(m.x - 12, m.y - 12, m.x + 12, m.y + 12) for m in drawing.cylinders]
            others += [(m.x - 9, m.y - 10, m.x + 9, m.y + 10) for m in drawing.sensors]
            others += [(m.x - 13, m.y - 13, m.x + 13, m.y + 13) for m in drawing.wheels]
            others += [(a, b, a + c, b + d) for a, b, c, d in (*drawing.bars, drawing.engine)]
            assert not any(overlap(edges, other) for other in others), stand
            points = [
                (float(px), float(py))
                for piece in re.split("[ML]", drawing.pipes + drawing.leaders)
                if piece
                for px, py in [piece.split()]
            ]
            assert points
            for px, py in points:
                inside = edges[0] < px < edges[2] and edges[1] < py < edges[3]
                assert not inside, (stand, px, py)


def test_fuse_boxes_share_a_bay_and_one_that_is_elsewhere_is_not_drawn(small: Small) -> None:
    every = small(fused(*BayCorner))
    none = small(fused(None))
    for (stand, drawing), (_, bare) in zip(drawings(every), drawings(none), strict=True):
        assert len(drawing.boxes) == 4
        boxes = [(a, b, a + c, b + d) for a, b, c, d in drawing.boxes]
        assert not any(overlap(one, other) for one, other in combinations(boxes, 2)), stand
        assert bare.boxes == ()
        assert not any("fuse" in text.text for text in bare.texts)
    words = bay_map(every).bays.seen[0].description
    assert "In the rear right corner of the bay, as from the driver's seat: fuse 4." in words
    assert "fuse" not in bay_map(none).bays.seen[0].description


def test_a_long_list_of_fuses_does_not_widen_the_drawing(small: Small) -> None:
    many = small(fused(BayCorner.FRONT_LEFT, names="the one of the heaters"))
    few = small(fused(BayCorner.FRONT_LEFT))
    for (_, crowded), (_, plain) in zip(drawings(many), drawings(few), strict=True):
        assert "fuse box" in [text.text for text in crowded.texts]
        assert crowded.view_box.split()[2] == plain.view_box.split()[2]
