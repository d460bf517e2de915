"""Food safety: which cautions a recipe calls for, decided by the matched foods and what is done to them."""

from labeler.food_safety.cautions import cautions, decide
from labeler.food_safety.model import Caution, SafetyFacts

__all__ = ["Caution", "SafetyFacts", "cautions", "decide"]
