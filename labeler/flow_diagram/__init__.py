"""The flow diagram of a method: what enters where, what leaves and why, what is the dish; as SVG and as PDF.

`flow_picture` gathers what it shows, `flow_svg` and `flow_pdf` draw that.
"""

from labeler.flow_diagram.builder import flow_picture
from labeler.flow_diagram.model import FlowPicture
from labeler.flow_diagram.write import flow_pdf, flow_svg

__all__ = ["FlowPicture", "flow_pdf", "flow_picture", "flow_svg"]
