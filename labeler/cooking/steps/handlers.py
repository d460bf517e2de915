"""Which function does each kind of action."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from labeler.cooking.state.mixture import Mixture
from labeler.cooking.state.phases import Outcome
from labeler.flow.model import (
    Node,
)
from labeler.parsing.instructions.actions import Handler

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun
from labeler.cooking.steps.coating import bind, coat
from labeler.cooking.steps.heating import do_heat, reduce
from labeler.cooking.steps.immersion import lie
from labeler.cooking.steps.measured import dry, left, lose, make, weigh
from labeler.cooking.steps.separation import (
    do_drain,
    do_pat,
    do_rinse,
    do_squeeze,
    do_strain,
    ladle,
    lift,
    skim,
    skin,
    whey,
)
from labeler.cooking.steps.watering import gather, thin

__all__ = ["HANDLERS"]


HANDLERS: dict[Handler, Callable[[PartRun, Node, Mixture], Outcome]] = {
    Handler.NONE: gather,
    Handler.HEAT: do_heat,
    Handler.LIE: lie,
    Handler.DRAIN: do_drain,
    Handler.RINSE: do_rinse,
    Handler.SQUEEZE: do_squeeze,
    Handler.PAT: do_pat,
    Handler.STRAIN: do_strain,
    Handler.SKIM: skim,
    Handler.LIFT: lift,
    Handler.COAT: coat,
    Handler.LADLE: ladle,
    Handler.BIND: bind,
    Handler.WHEY: whey,
    Handler.SKIN: skin,
    Handler.WEIGH: weigh,
    Handler.LOSE: lose,
    Handler.LEFT: left,
    Handler.REDUCE: reduce,
    Handler.DRY: dry,
    Handler.THIN: thin,
    Handler.MAKE: make,
}
