"""The drawing of a flow: everything is on it, nothing runs out of it, and a misreading is seen."""

from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree

import pypdfium2
import pytest
from hand_flows import RIGHT, WRONG
from hypothesis import given, settings
from hypothesis import strategies as st

import labeler
from labeler.flow_diagram import FlowPicture, flow_pdf, flow_picture, flow_svg
from labeler.flow_diagram.connectors import with_connectors
from labeler.flow_diagram.draw import draw_flow
from labeler.flow_diagram.lanes import place_in_lanes
from labeler.flow_diagram.model import (
    Box,
    DishPicture,
    Inflow,
    Kind,
    Load,
    Missing,
    Move,
    Origin,
    Outflow,
    PartPicture,
    Remark,
)
from labeler.flow_diagram.pen import WARNING
from labeler.label.drawing import Drawing, Patch, RuledLine, Shape, Text
from labeler.label.typesetting import text_width
from labeler.types import Interval

NAMES = [*RIGHT, *(f"{name}, misread" for name in WRONG)]


@cache
def pictured(name: str) -> FlowPicture:
    made = WRONG[name.removesuffix(", misread")]() if name.endswith("misread") else RIGHT[name]()
    return flow_picture(made.weighed, made.dish, made.flow, made.carried)


def load(dry: float) -> Load:
    return Load(Interval(3 * dry, 2 * dry, 4 * dry), dry, ("flour & water", "<salt>"))


WORDS = st.text(st.characters(codec="utf-8"), max_size=60) | st.sampled_from(
    ["", "W" * 200, "stir the flour in " * 20, 'a&b <c> "d"', "Käse", "酱油"]
)
DRY = st.floats(0.0, 2000.0)


@st.composite
def parts(draw: st.DrawFn, at: int = 0) -> PartPicture:
    """Any part that a flow can have: every box takes of earlier ones, of lines, or of nothing."""
    count = draw(st.integers(0, 7))
    boxes = tuple(
        Box(str(one + 1), draw(WORDS), (draw(WORDS),), draw(WORDS), draw(st.booleans()), draw(WORDS))
        for one in range(count)
    )
    moves = []
    for source in range(count):
        for off in (False, True):
            targets = draw(st.sets(st.integers(source + 1, count), max_size=3))
            moves += [Move(source, off, to if to < count else None, load(draw(DRY)), draw(WORDS)) for to in targets]
    places = [*range(count), None]
    inflows = [
        Inflow(draw(st.sampled_from(places)), draw(WORDS), load(draw(DRY)), draw(st.none() | st.floats(0.0, 1.0)),
               draw(st.sampled_from(Origin)), draw(st.sampled_from([None, *range(at)])), draw(st.booleans()))
        for _ in range(draw(st.integers(0, 8)))
    ]  # fmt: skip
    outflows = [
        Outflow(draw(st.sampled_from(places)), draw(WORDS), load(draw(DRY)), draw(st.sampled_from(Kind)), draw(WORDS))
        for _ in range(draw(st.integers(0, 4)))
    ]
    remarks = tuple(Remark(draw(st.integers(0, count)), draw(WORDS)) for _ in range(draw(st.integers(0, 2))))
    return PartPicture(
        draw(WORDS), boxes, tuple(inflows), tuple(moves), tuple(outflows), load(draw(DRY)), remarks,
        draw(st.booleans()),
    )  # fmt: skip


@st.composite
def pictures(draw: st.DrawFn) -> FlowPicture:
    """Any flow diagram."""
    made = tuple(draw(parts(at)) for at in range(draw(st.integers(1, 3))))
    heaviest = tuple((draw(WORDS), draw(DRY)) for _ in range(draw(st.integers(0, 10))))
    missing = tuple(
        Missing(draw(WORDS), draw(st.none() | st.floats(0.0, 1.0)), draw(st.sampled_from([Kind.FOOD, Kind.SPENT])))
        for _ in range(draw(st.integers(0, 6)))
    )
    dish = DishPicture(load(draw(DRY)), heaviest, draw(st.integers(0, 5)), missing)
    return FlowPicture(draw(WORDS), made, dish, load(draw(DRY)), load(draw(DRY)), draw(DRY))


def corners(mark: Text | RuledLine | Patch | Shape) -> tuple[float, float, float, float]:
    """Left, top, right and lower edge of a mark."""
    if isinstance(mark, Text):
        wide = text_width(mark.text, mark.face) * mark.size
        return mark.x, mark.y - 0.75 * mark.size, mark.x + wide, mark.y + 0.2 * mark.size
    if isinstance(mark, RuledLine):
        return min(mark.x0, mark.x1), min(mark.y0, mark.y1), max(mark.x0, mark.x1), max(mark.y0, mark.y1)
    if isinstance(mark, Shape):
        xs, ys = [x for x, _ in mark.points], [y for _, y in mark.points]
        return min(xs), min(ys), max(xs), max(ys)
    return mark.x, mark.y, mark.x + mark.width, mark.y + mark.height


def overlap(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> tuple[float, float]:
    """How far two frames lie on each other across and down."""
    return min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])


def has_every_arrow(picture: FlowPicture, drawing: Drawing) -> None:
    """Each arrow has marks of its own, whose names say which it is."""
    blocks = {mark.block for mark in drawing.marks}
    for at, part in enumerate(picture.parts):
        for place in {one.to for one in part.inflows}:
            for which in range(sum(one.to == place for one in part.inflows)):
                assert f"in {at}.{'made' if place is None else place}.{which}" in blocks
        heaps: dict[tuple[int, bool], int] = {}
        for move in part.moves:
            which = heaps.get((move.source, move.off), 0)
            heaps[move.source, move.off] = which + 1
            assert f"move {at}.{move.source}.{'off' if move.off else 'kept'}.{which}" in blocks
        for which in range(len(part.outflows)):
            assert f"out {at}.{which}" in blocks
        for box in range(len(part.boxes)):
            assert f"box {at}.{box}" in blocks


@given(pictures())
@settings(max_examples=40, deadline=None)
def test_every_arrow_is_drawn_and_nothing_runs_out_of_the_page(picture: FlowPicture) -> None:
    """Whatever the flow and its words, each arrow and box has its marks, all of them inside the page."""
    drawing, breaks = draw_flow(picture)
    has_every_arrow(picture, drawing)
    for mark in drawing.marks:
        left, top, right, low = corners(mark)
        assert left >= 0 and top >= 0 and right <= drawing.width + 0.01 and low <= drawing.height, mark
    assert list(breaks) == sorted(breaks) and all(0 < one <= drawing.height for one in breaks)


@given(pictures())
@settings(max_examples=30, deadline=None)
def test_boxes_and_words_do_not_lie_on_each_other(picture: FlowPicture) -> None:
    """No box touches another, no arrow runs through a box, and no two texts share a place."""
    drawing, _ = draw_flow(picture)
    frames: dict[str, tuple[float, float, float, float]] = {}
    for mark in drawing.marks:
        if isinstance(mark, Patch) and mark.block.startswith(("box ", "made ", "connector ")):
            frames.setdefault(mark.block, corners(mark))
    boxes = list(frames.values())
    for at, one in enumerate(boxes):
        assert all(min(overlap(one, other)) <= 0.01 for other in boxes[at + 1 :])
    for mark in drawing.marks:
        if isinstance(mark, Patch) and mark.block.startswith(("in ", "out ", "move ", "heap ", "link ")):
            assert all(min(overlap(corners(mark), one)) <= 0.6 for one in boxes), mark
    texts = [corners(mark) for mark in drawing.marks if isinstance(mark, Text) and mark.text.strip()]
    for at, one in enumerate(texts):
        assert all(min(overlap(one, other)) <= 0.3 for other in texts[at + 1 :])


@given(parts())
@settings(max_examples=100, deadline=None)
def test_two_heaps_never_share_a_lane(part: PartPicture) -> None:
    """At every row a lane holds one heap, and a box stands where no heap passes by."""
    lanes = place_in_lanes(part)
    assert len(lanes.of_box) == len(part.boxes)
    for at, one in enumerate(lanes.heaps):
        assert 0 <= one.lane < lanes.count
        for other in lanes.heaps[at + 1 :]:
            apart = one.end <= other.source or other.end <= one.source
            assert one.lane != other.lane or apart
        for box in range(one.source + 1, one.end):
            assert lanes.of_box[box] != one.lane


@given(parts())
@settings(max_examples=100, deadline=None)
def test_heaps_that_wait_are_cut_and_lose_nothing(part: PartPicture) -> None:
    """Each move is drawn in a lane, or told at both ends: at its box and in the list of who takes it."""
    drawn, lanes, cut = with_connectors(part)
    told = [move for one in cut for move in one.moves]
    assert sorted(map(repr, (*drawn.moves, *told))) == sorted(map(repr, part.moves))
    brought = [one for one in drawn.inflows if one.origin is Origin.STEP and one not in part.inflows]
    assert len(drawn.inflows) == len(part.inflows) + len(told) and len(brought) <= len(told)
    assert lanes.count <= place_in_lanes(part).count


@pytest.mark.parametrize("name", NAMES)
def test_the_picture_has_every_arrow_of_the_flow(name: str) -> None:
    """Each portion, each departure and each part of the dish of a flow is an arrow of its picture."""
    made = WRONG[name.removesuffix(", misread")]() if name.endswith("misread") else RIGHT[name]()
    picture = pictured(name)
    for told, part in zip(made.flow.parts, picture.parts, strict=True):
        assert len(part.boxes) == len(told.nodes)
        arrows = [*part.inflows, *part.moves]
        for at, node in enumerate(told.nodes):
            assert sum(one.to == at for one in arrows) >= len({portion.source for portion in node.inputs})
        assert sum(one.to is None for one in arrows) == len(told.dish)
        assert len(part.outflows) >= len(told.leaves)
        assert len(part.remarks) == len(told.unread)


@pytest.mark.parametrize("name", NAMES)
def test_what_is_put_in_leaves_or_is_the_dish(name: str) -> None:
    """The three numbers of the head add up."""
    picture = pictured(name)
    assert picture.put_in.grams is not None and picture.leaves.grams is not None
    assert picture.dish.load.grams is not None
    assert picture.put_in.grams.best == pytest.approx(picture.leaves.grams.best + picture.dish.load.grams.best)


@pytest.mark.parametrize("name", RIGHT)
def test_a_method_read_rightly_raises_no_alarm(name: str) -> None:
    """Brine, marinade, frying oil, cooking water and strained vegetables are grey, and nothing is in red."""
    picture = pictured(name)
    assert picture.food_leaves == 0.0
    assert not [one for one in picture.dish.missing if one.kind is Kind.FOOD]
    drawing, _ = draw_flow(picture)
    assert all(mark.colour != WARNING or mark.block in ("key", "words") for mark in drawing.marks)


@pytest.mark.parametrize(
    ("name", "lost", "grams"),
    [("roast", "boneless pork shoulder", 1000.0), ("chicken", "flour", 200.0), ("pasta", "canned tomatoes", 500.0)],
)
def test_a_planted_misreading_is_red_three_times(name: str, lost: str, grams: float) -> None:
    """The roast that leaves, the flour in the marinade, the sauce poured off: in the head, on the way, at the foot."""
    picture = pictured(f"{name}, misread")
    assert picture.food_leaves > grams
    assert lost in [one.name for one in picture.dish.missing if one.kind is Kind.FOOD]
    red = {mark.block.split()[0] for mark in draw_flow(picture)[0].marks if mark.colour == WARNING}
    assert {"numbers", "out", "missing"} <= red


def test_water_that_is_not_poured_off_is_the_first_line_of_the_dish() -> None:
    """A lost drain is seen at the foot: the dish is mostly water."""
    dish = pictured("pasta undrained, misread").dish
    assert dish.heaviest[0][0] == "water" and dish.load.grams is not None
    assert dish.heaviest[0][1] > 0.5 * dish.load.grams.best


def test_the_thickest_arrow_is_the_heaviest_in_dry_matter() -> None:
    """Widths go by dry matter and salt: three litres of water are a hair, the roast is not."""
    picture = pictured("roast")
    widths = {
        mark.block: mark.height
        for mark in draw_flow(picture)[0].marks
        if isinstance(mark, Patch) and re.fullmatch(r"in 0\.\d+\.\d+", mark.block)
    }
    inflows: dict[str, float] = {}
    for one in picture.parts[0].inflows:
        which = sum(block.startswith(f"in 0.{one.to}.") for block in inflows)
        inflows[f"in 0.{one.to}.{which}"] = one.load.dry
    heavy = sorted((dry, widths[block]) for block, dry in inflows.items() if dry > 60.0)
    assert [width for _, width in heavy] == sorted(width for _, width in heavy)
    for dry, width in heavy:
        assert width / heavy[-1][1] == pytest.approx(dry / heavy[-1][0], rel=1e-6)


@pytest.mark.parametrize("name", ["roast", "boxes", "many"])
def test_files_are_the_same_each_time(name: str) -> None:
    """The same flow gives the same bytes, as SVG and as PDF."""
    made = RIGHT[name]()
    again = flow_picture(made.weighed, made.dish, made.flow, made.carried)
    assert flow_svg(again) == flow_svg(pictured(name))
    assert flow_pdf(again) == flow_pdf(pictured(name))


@given(WORDS)
@settings(max_examples=25, deadline=None)
def test_svg_is_one_document_whatever_the_words(words: str) -> None:
    """Text is escaped; the document needs nothing from outside and says what it shows."""
    part = PartPicture(
        words, (Box("1", words, (words,), words, True, words),), (Inflow(0, words, load(3.0)),),
        (Move(0, False, None, load(2.0), words),), (Outflow(0, words, load(1.0), Kind.FOOD, words),), load(2.0),
        (Remark(0, words),),
    )  # fmt: skip
    dish = DishPicture(load(2.0), ((words, 3.0),), 0, (Missing(words, 0.1, Kind.FOOD),))
    text = flow_svg(FlowPicture(words, (part,), dish, load(3.0), load(1.0)))
    root = ElementTree.fromstring(text)
    assert root.find("{http://www.w3.org/2000/svg}desc") is not None
    assert not re.search(r"(href|src|url\()[=\"']*\(?https?:", text)
    assert not list(root.iter("{http://www.w3.org/2000/svg}script"))


@pytest.mark.parametrize("name", ["roast", "many"])
def test_pdf_has_the_words_on_pages_of_paper(name: str) -> None:
    """Every step and every ingredient is text in the PDF, on pages of A4, in type that can be read."""
    picture = pictured(name)
    document = pypdfium2.PdfDocument(flow_pdf(picture))
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    for inflow in picture.parts[0].inflows:
        assert inflow.name in text
    for box in picture.parts[0].boxes:
        assert box.words.split()[0] in text
    for page in document:
        assert sorted(round(side) for side in page.get_size()) == [595, 842]


def test_a_long_method_is_cut_between_steps() -> None:
    """A page ends where a row ends; each text is on one page only."""
    picture = pictured("many")
    part = picture.parts[0]
    boxes = tuple(Box(str(at + 1), f"Step number {at + 1}") for at in range(40))
    moves = tuple(Move(at, False, at + 1 if at < 39 else None, load(50.0)) for at in range(40))
    long = FlowPicture(
        picture.title, (PartPicture(part.title, boxes, (), moves, (), part.made),), picture.dish, *[load(1.0)] * 2
    )
    document = pypdfium2.PdfDocument(flow_pdf(long))
    assert len(document) > 1
    texts = [page.get_textpage().get_text_range() for page in document]
    for at in range(40):
        assert sum(bool(re.search(rf"Step number {at + 1}\b", text)) for text in texts) == 1
    assert f"page 1 of {len(document)}" in texts[0]


def test_boxes_begin_as_sentences_do() -> None:
    """A step inside a sentence is told without what joined it to the step before."""
    lines = "# Slaw\n- 1 kg cabbage\n- 100 ml vinegar\n- 20 g salt\n"
    step = "> Salt the cabbage, add the vinegar and refrigerate 4 hours.\n"
    weighed = labeler.weigh(labeler.read_recipe(lines + step))
    dish = labeler.analyse(weighed.recipe, draws=20).dish
    assert dish.flow is not None
    (part,) = flow_picture(weighed, dish, dish.flow, dish.carried).parts
    assert all(box.words[:1].isupper() and not box.words.lower().startswith("and ") for box in part.boxes)
    assert any(box.words.startswith("Refrigerate") for box in part.boxes)
