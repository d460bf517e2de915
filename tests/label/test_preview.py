"""A drawing on screen: SVG that any reader of XML takes, whatever stood in the recipe."""

from lxml import etree

from labeler.label.drawing import Drawing
from labeler.label.preview import preview_svg


def test_a_title_with_signs_that_no_xml_holds_is_shown_with_marks():
    """Controls and halves of pairs become the replacement mark; mark-up stays text."""
    title = "Quay\x1c bun\x00 <b>\ud83c]]>&"
    drawing = Drawing(20.0, 10.0, (0, 0, 20, 10), (), title, "en", description=title)
    tree = etree.fromstring(preview_svg(drawing).encode("utf-8"))
    told = {etree.QName(one).localname: one.text for one in tree}
    assert told["title"] == told["desc"] == "Quay\ufffd bun\ufffd <b>\ufffd]]>&"
