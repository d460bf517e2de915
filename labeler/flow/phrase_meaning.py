"""What a noun phrase of the method means, asked of rules in turn.

A phrase is one of a few things (R1): what is in hand, foods of the list, a heap, what a step has parted from food,
waste, a tool, or a food that no line lists. The first rule that settles it decides.
"""

from __future__ import annotations

from labeler.flow.by_products import (
    alike,
    has_own_name,
    last_mixed,
    made_instead,
    mixed_of,
    mixture_of,
)
from labeler.flow.kind_sets import told_by_cut
from labeler.flow.new_water import is_from_the_tap
from labeler.flow.phrase import Phrase
from labeler.flow.target import Parted, Target
from labeler.parsing.instructions.model import Extent, Role
from labeler.text.plurals import singular

__all__ = ["meaning_of"]

_DOUBT = 0.5  # from here on a phrase may mean a food: a choice, no source


def meaning_of(phrase: Phrase) -> Target:
    """What a phrase means; a food that no line lists, where no rule settles it."""
    if not any(rule(phrase) for rule in _RULES):
        phrase.target.unlisted = True
    return phrase.target


# Each rule fills the phrase's target and says whether that settles it.


def _in_hand(phrase: Phrase) -> bool:
    """ "It", "the rest", "everything"."""
    target, left_over = phrase.target, phrase.mention.quantity.extent is Extent.REST
    if "pronoun" in phrase.own:
        just_made = phrase.just_made() if phrase.is_a("pronoun-near") else None
        target.heaps = [just_made] if just_made is not None else []
        target.focus = just_made is None
    elif "rest" in phrase.own or (left_over and phrase.own & {"everything", "mixture"}):
        target.rest = True
    elif "everything" in phrase.own:
        target.nothing = phrase.mention.quantity.count is not None and phrase.is_a("batch")  # "in two lots": how often
        target.everything = not target.nothing
    return bool(target.heaps) or target.focus or target.rest or target.everything or target.nothing


def _water_in_vessel(phrase: Phrase) -> bool:
    """ "Bring a pot of water to the boil": what is new and no line lists."""
    mention = phrase.mention
    known = mention.definite or phrase.removal
    phrase.target.nothing = mention.water_in_vessel and not known and mention.role in (Role.OBJECT, Role.INTO)
    return phrase.target.nothing


def _mixed(phrase: Phrase) -> bool:
    """ "The sugar water"."""
    if not phrase.mention.definite or phrase.exact:
        return False
    mixed = mixed_of(phrase.binder.table, phrase.said, phrase.binder.words_of_food)
    phrase.target.heaps = [mixed] if mixed is not None else []
    return mixed is not None


def _title(phrase: Phrase) -> bool:
    """ "The dipping sauce" of a list with that title."""
    phrase.target.fresh = phrase.binder.titled(phrase.said, phrase.by_name)
    return bool(phrase.target.fresh)


def _waste(phrase: Phrase) -> bool:
    """Peel, bones and the like that no line names."""
    named = any(one.head in (phrase.head, phrase.last) or "bone" in one.words for _, one in phrase.by_name)
    if not phrase.is_a("waste") or named:
        return False
    phrase.target.waste = phrase.target.nothing = True
    return True


def _tap_water(phrase: Phrase) -> bool:
    """Water that no line lists: an amount of it, or none that is weighed."""
    water = phrase.parted is Parted.LIQUID and phrase.last == "water"
    if not water or phrase.removal or phrase.by_name or not is_from_the_tap(phrase.mention, phrase.heap):
        return False
    extent = phrase.mention.quantity.extent
    a_little = extent is Extent.SOME and phrase.mention.role is Role.OBJECT
    phrase.target.unlisted = extent is Extent.AMOUNT or a_little
    phrase.target.nothing = not phrase.target.unlisted
    return True


def _new_fat(phrase: Phrase) -> bool:
    """ "Heat some oil": new, where nothing has been rendered or fried in."""
    if phrase.parted is not Parted.FAT or phrase.removal or phrase.by_name or phrase.mention.definite:
        return False
    comes = phrase.mention.role in (Role.OBJECT, Role.WITH, Role.INTO)
    phrase.target.unlisted = comes and not phrase.parted_heaps()
    return phrase.target.unlisted


def _liquor_in_hand(phrase: Phrase) -> bool:
    """ "The brine" that was stirred together before."""
    if phrase.parted is not Parted.LIQUID or phrase.removal or phrase.by_name or phrase.heap is not None:
        return False
    there = alike(phrase.parted_heaps(), phrase.last, phrase.focus, phrase.binder.kind_of_food)
    shared = phrase.is_a("product") and phrase.mention.quantity.extent is Extent.SHARE  # "with half of the marinade"
    if (phrase.mention.role is Role.WITH and not shared) or there:
        return False
    phrase.target.focus, phrase.target.confidence = True, 0.6
    return True


def _parted_from_food(phrase: Phrase) -> bool:
    """What a step has parted: "the drippings", "the cooking water"."""
    listed_water = bool(phrase.by_name) and phrase.last == "water" and not (phrase.mention.definite or phrase.removal)
    if phrase.parted is None or listed_water or (not phrase.removal and phrase.any_left()):
        return False
    binder, target = phrase.binder, phrase.target
    there = alike(phrase.parted_heaps(removal=phrase.removal), phrase.last, phrase.focus, binder.kind_of_food)
    there = made_instead(binder.table, there, phrase.mention, binder.kind_of_food, phrase.removal)
    heap = phrase.heap
    own_name = heap is not None and has_own_name(heap, (phrase.name, phrase.last), there, binder.kind_of_food)
    kept = heap is not None and (heap.reserved or (bool(there) and "reserved" in heap.names and heap not in there))
    if heap is not None and own_name and not (kept and phrase.removal):
        target.heaps = [heap]
        return True
    fresh = phrase.exact and phrase.any_left(0.5) and not phrase.removal
    if fresh or not (there or phrase.removal or not phrase.by_name):
        return False
    target.parted, target.heaps = phrase.parted, there
    target.within = [one.source for _, one in phrase.by_name if not binder.is_left(one)]
    return True


def _heap_of_its_name(phrase: Phrase) -> bool:
    if phrase.heap is None or (phrase.exact and phrase.any_left(0.5)):
        return False
    phrase.target.heaps = [phrase.heap]
    return True


def _made_of_class(phrase: Phrase) -> bool:
    """A product with a word for a class of foods in it: "the fruit mixture"."""
    if not phrase.is_a("product") or not phrase.group or phrase.exact:
        return False
    phrase.binder.with_foods(phrase.target, [(1.0, one) for one in phrase.group], phrase.mention)
    return True


def _mixture_called_after(phrase: Phrase) -> bool:
    """ "The yoghurt mixture": all that the food lies together with, and not the food alone."""
    if "mixture" not in phrase.tail or len(phrase.said) < 2 or phrase.exact or not phrase.by_name:
        return False
    lines = {one.source for _, one in phrase.by_name}
    heaps = [one for one in phrase.binder.table.open() if len(one.foods) > 1 and lines & set(one.foods)]
    phrase.target.heaps = [max(heaps, key=lambda heap: heap.last)] if heaps else []
    return bool(heaps)


def _class_of_foods(phrase: Phrase) -> bool:
    """ "The vegetables", of which some are left."""
    if not phrase.group or not phrase.is_class or phrase.exact:
        return False
    phrase.target.fresh = [one for one in phrase.group if phrase.binder.is_left(one)]
    return bool(phrase.target.fresh)


def _food_of_its_name(phrase: Phrase) -> bool:
    made = phrase.is_a("product") and not phrase.exact and phrase.focus is not None
    if not phrase.by_name or made:
        return False
    phrase.binder.with_foods(phrase.target, phrase.by_name, phrase.mention)
    if phrase.target.heaps and phrase.is_more_of_it(phrase.target.heaps[0]):
        phrase.target.heaps, phrase.target.within, phrase.target.unlisted = [], [], True
    return True


def _class_used_up(phrase: Phrase) -> bool:
    """A class of foods of which some, or none, are left."""
    if not phrase.group:
        return False
    phrase.target.fresh = [one for one in phrase.group if phrase.binder.is_left(one)]
    if not phrase.target.fresh:
        phrase.binder.with_foods(phrase.target, [(0.8, one) for one in phrase.group], phrase.mention)
    return True


def _mixture(phrase: Phrase) -> bool:
    """ "The flour mixture"."""
    if not phrase.is_a("mixture"):
        return False
    binder = phrase.binder
    mixed = mixture_of(binder.table, phrase.said - {phrase.last}, phrase.focus, binder.kind_of_food)
    mixed = mixed if mixed is not None else last_mixed(binder.table, phrase.focus)
    phrase.target.heaps, phrase.target.focus = ([mixed], False) if mixed is not None else ([], True)
    return True


def _waste_of_its_name(phrase: Phrase) -> bool:
    if phrase.is_a("waste"):
        phrase.target.waste = phrase.target.nothing = True
    return phrase.target.waste


def _parted_later(phrase: Phrase) -> bool:
    """What a step parts and nothing is there of; spent spices are noted besides."""
    phrase.target.spent = phrase.target.spent or phrase.is_a("spent")
    phrase.target.parted = phrase.parted
    return phrase.parted is not None


def _cut_pieces(phrase: Phrase) -> bool:
    """ "The slices", "the cubes": what in hand comes in them, else the food whose line says so that is not used yet."""
    if not phrase.mention.definite or len(phrase.said) > 1:
        return False
    told, binder = told_by_cut(singular(phrase.last)), phrase.binder
    found = [one for one in binder.ingredients if told & (one.more | one.words) and one.source.index < phrase.after]
    held = [one for one in found if phrase.focus is not None and one.source in phrase.focus.foods]
    unused = [one for one in found if binder.is_left(one)]
    free = [one for one in unused if not binder.named_after(one, phrase.at)]
    meant = held or free[:1] or unused[:1] or found
    if meant:
        binder.with_foods(phrase.target, [(0.8, one) for one in meant], phrase.mention)
    return bool(meant)


def _wrapped(phrase: Phrase) -> bool:
    """ "The spice bag", that goes in or is taken out: the foods whose line or list says that they are tied in one."""
    found = phrase.in_wrapping() if phrase.is_a("wrapping") else []
    if found:
        phrase.binder.with_foods(phrase.target, [(0.8, one) for one in found], phrase.mention)
    return bool(found)


def _strewn(phrase: Phrase) -> bool:
    """ "The seasoning", "the cure": what is strewn of the list."""
    if not phrase.is_a("product-strewn"):
        return False
    strewn = [
        one
        for one in phrase.binder.ingredients
        if one.kind in ("salt", "sugar", "seasoning") and phrase.binder.is_left(one) and one.source.index < phrase.after
    ]
    lists = [one.group for one in strewn if not phrase.in_force or one.group & phrase.in_force]
    phrase.target.fresh = [one for one in strewn if one.group == lists[0]] if lists else strewn
    return bool(phrase.target.fresh)


def _made(phrase: Phrase) -> bool:
    """ "The cake": what is in hand, most likely."""
    if phrase.is_a("product"):
        phrase.target.focus, phrase.target.confidence = True, 0.6
    return phrase.target.focus


def _tool(phrase: Phrase) -> bool:
    tool = phrase.own & {"tool", "adverb", "preposition", "aux"} or phrase.tail & {"tool"}
    vessel = any(one.startswith("vessel-") for one in phrase.own | phrase.tail)
    phrase.target.nothing = bool(tool) or vessel
    return phrase.target.nothing


def _doubtful(phrase: Phrase) -> bool:
    """A known thing whose words fit a food somewhat."""
    scored = phrase.binder.scored(phrase.said, phrase.head)
    best = max((value for value, _ in scored), default=0.0)
    if best < _DOUBT or not phrase.mention.definite:
        return False
    near = [pair for pair in scored if pair[0] >= max(best - 0.03, _DOUBT)][:2]
    phrase.binder.with_foods(phrase.target, near, phrase.mention)
    return True


_RULES = (
    _in_hand, _wrapped, _water_in_vessel, _mixed, _title, _waste, _tap_water, _new_fat, _liquor_in_hand,
    _parted_from_food,
    _heap_of_its_name, _mixture_called_after, _made_of_class, _class_of_foods, _food_of_its_name,
    _class_used_up, _mixture, _waste_of_its_name, _parted_later, _cut_pieces, _strewn, _made, _tool, _doubtful,
)  # fmt: skip
