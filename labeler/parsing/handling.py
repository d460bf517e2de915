"""A handling sentence taken apart: "simmer 20 minutes, then reduce to 700 ml" becomes two typed steps.

The grammar is small. A sentence falls into clauses, each opened by a verb of ``data/handling_verbs.csv`` at a place
where a clause can begin (the start, after a comma, "then", "and", "to"). What a clause says beside its verb is read
as measures: how long, how hot, how hot in the middle, to what weight, volume or share, how many pieces; and as
words: what is acted on, what it is kept as, what it goes into. A clause without a known verb, and a number that nothing
explains, are handed back as not understood, with the nearest form that is.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from labeler.knowledge import Interval
from labeler.parsing.clauses import Clause, clauses, verb_actions
from labeler.parsing.instructions.figures import Found, find_quantities
from labeler.parsing.numbers import tidy

__all__ = ["Reading", "Step", "Unread", "read_handling"]

_FIGURES = "a time, a temperature, a weight, a volume or a share, such as “20 minutes”"
_POSSIBLE = "a time or a temperature that can be, such as “20 minutes” or “180 C”"


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do.

    Parameters
    ----------
    action : str
        One of the actions of ``data/handling_verbs.csv``.
    text : str
        The words that it was read from.
    objects : tuple of str
        What is acted on, in the cook's words; empty for everything in the pot.
    minutes : Interval or None
        How long [min].
    celsius : Interval or None
        How hot the oven, pan or bath is [°C].
    core : Interval or None
        How hot the middle of the food becomes [°C].
    grams, millilitres : Interval or None
        Weight [g] or volume [mL] that the step ends at, or that is left or kept.
    share : Interval or None
        Part of what there was that is still there, 0 to 1.
    pieces : Interval or None
        How many pieces are made.
    piece : str
        What one of them is called, in the singular ("jar"); empty where nothing is said.
    water : Interval or None
        Water that the sentence adds [mL] ("in 5 litres of boiling water").
    salt : Interval or None
        Salt that the sentence adds [g] ("with 36 g salt"), or per litre where `water` is None ("10 g salt per litre").
    stream : str
        Which stream is meant: "liquid", "drippings", "fat", "solids", "oil", "cure" or "coating"; empty for none.
    name : str
        What a stream is kept as ("brine").
    into : str
        The part that a stream goes into.
    marks : frozenset of str
        Plain facts: "covered", "uncovered", "stirred", "salted water", "rare", "by loss", "left", "rack", "fridge",
        "in its liquid".
    """

    action: str
    text: str
    objects: tuple[str, ...] = ()
    minutes: Interval | None = None
    celsius: Interval | None = None
    core: Interval | None = None
    grams: Interval | None = None
    millilitres: Interval | None = None
    share: Interval | None = None
    pieces: Interval | None = None
    water: Interval | None = None
    salt: Interval | None = None
    stream: str = ""
    name: str = ""
    into: str = ""
    marks: frozenset[str] = frozenset()
    piece: str = ""


@dataclass(frozen=True, slots=True)
class Unread:
    """Words that were not understood, and the nearest form that would be."""

    text: str
    nearest: str


@dataclass(frozen=True, slots=True)
class Reading:
    """Everything that one handling sentence says, and what of it could not be read."""

    steps: tuple[Step, ...]
    unread: tuple[Unread, ...] = ()


_STOP = re.compile(r"(?<!\d)\.(?!\d)|(?<=\d)\.(?=\s|$)|[;!?\n]")
_ABBREVIATED = re.compile(r"\b(min|mins|hr|hrs|h|approx|oz|lb|tbsp|tsp|temp|deg|ca|c)\.(?=\s|,|$)", re.IGNORECASE)


@lru_cache(maxsize=1024)
def read_handling(text: str, *, market: str = "us") -> Reading:
    """The steps of a handling sentence, or of several, in order.

    Parameters
    ----------
    text : str
        What the cook wrote; any text is allowed, and none raises.
    market : str
        Whose cups, pints and spoons; an unknown market is read as "us".
    """
    steps: list[Step] = []
    unread: list[Unread] = []
    plain = _ABBREVIATED.sub(r"\1", tidy(text)[:4000])
    for sentence in _STOP.split(plain):
        sentence = sentence.strip(" ,:-")
        if sentence:
            for clause in clauses(sentence):
                _read_clause(clause, market=market, steps=steps, unread=unread)
    return Reading(tuple(steps), tuple(unread))


# --- what a clause says ----------------------------------------------------------------------------------------------

_STREAMS = (
    ("drippings", r"drippings?|pan[- ]?juices|juices from the (?:pan|roast|meat)|roasting juices|meat juices"),
    ("coating", r"coating|crumbs?|breadcrumbs?|batter|dusting|extra flour|excess flour|flour"),
    ("oil", r"(?:frying |cooking |hot )?oil|frying fat|lard"),
    ("fat", r"fat|grease"),
    ("solids", r"solids"),
    ("cure", r"(?:dry[- ])?cure|curing (?:mix|salt)|(?:dry |spice )?rub|salt (?:crust|mix(?:ture)?)"),
    (
        "liquid",
        r"(?:cooking|soaking|boiling|pasta|pickling|steeping|poaching|salt(?:ed)?)[- ](?:liquid|water|liquor)|liquid|"
        r"liquor|brine|marinade|juices?|water|stock|broth|syrup|whey|pickle|vinegar|milk|buttermilk",
    ),
)
_STREAM_OF = [(name, re.compile(rf"\b(?:{pattern})\b", re.IGNORECASE)) for name, pattern in _STREAMS]
_KEPT_AS = re.compile(r"\b(?:as|call(?:ed)? it|named?)\s+(?:the\s+|a\s+|an\s+)?(?P<name>[a-z][\w' -]*)", re.IGNORECASE)
_OUT_OF = re.compile(
    r"\b(?:out of|from) (?:the |its |their )?(?:hot |warm |cold |cooking |soaking |poaching )?(?:brine|marinade|liquid|"
    r"liquor|water|stock|broth|syrup|pickle|vinegar|oil|fat|milk|buttermilk|wine|bath|juices?)\b",
    re.IGNORECASE,
)
_INTO = re.compile(r"\b(?:in(?:to)?|to|over|for|through)\s+(?:the\s+|a\s+)?(?P<into>[a-z][\w' -]*)", re.IGNORECASE)
_MARKS = (
    ("uncovered", r"uncovered|without a lid|lid off|open pan|take off the lid"),
    ("covered", r"(?<!un)covered?|with a lid|lid on|under a lid|foil|tightly closed"),
    ("stirred", r"stirring|stirred|stir"),
    ("salted water", r"salted(?: boiling)? water|boiling salted water|salt water"),
    ("rack", r"on a rack|on the rack|wire rack"),
    ("fridge", r"fridge|refrigerat\w*|chill(?:ed|ing)?|iced?|cold place|larder|cellar"),
    ("by loss", r"loses?|lost|losing"),
    ("rare", r"(?<!medium )(?<!medium-)rare|blue"),
    ("medium rare", r"medium[- ]rare"),
    ("medium", r"medium(?![- ](?:rare|well|heat|low|high|size|hot|bowl|pan|sauce|flame|fire|oven))"),
    ("well done", r"well[- ]done|cooked through|falling apart|falling off the bone"),
    ("flat out", r"high heat|hard boil|rolling boil|fast boil|boil hard|briskly|vigorously|rapidly"),
    ("gently", r"low heat|gently|gentle|barely|slowly"),
    ("in its liquid", r"in (?:its|the|their) (?:own )?(?:liquid|juices?|brine|liquor|marinade|stock|syrup)"),
    ("rinsed", r"rins(?:e|ed|ing)"),
    ("changed", r"chang(?:e|es|ed|ing) (?:of |the )?(?:\w+ )?water|water is changed|fresh water"),
    ("all but", r"all but"),
    ("setting point", r"setting point|(?:sets|wrinkles) (?:on|when)|wrinkle test|jam sets|set point|10[45] ?°? ?C"),
)
_MARK_OF = [(name, re.compile(rf"\b(?:{pattern})\b", re.IGNORECASE)) for name, pattern in _MARKS]
_NOT_OBJECT = re.compile(
    r"(?:\b|(?<=\d))(?:until|till|for|over|under|on|at|by|from|to|into|in an?|in the (?:oven|fridge|refrigerator|pan|"
    r"pot|middle|centre|center|freezer|cold|dark|shade|cellar)|through|between|as|without|while|if|when|so|per|each|"
    r"every|a side|\d+|in (?:two|three|several|batches)|together|well|thoroughly|again|gently|slowly|then|overnight|or|"
    r"covered|uncovered|stirring|now and then|occasionally|often|away|off|out|aside|dry|briefly|completely|lightly|"
    r"carefully|straight away|immediately|about|half)\b.*",
    re.IGNORECASE,
)
_SPLIT_OBJECTS = re.compile(r"\s*(?:,|\band\b|&|\bwith\b|\bplus\b|\bin\b)\s*", re.IGNORECASE)
_ARTICLES = re.compile(
    r"^(?:the|a|an|any|all|all of|of|some|its|their|your|this|that|every|both|up|most of|them|it|each of)\s+",
    re.IGNORECASE,
)
_NOTHING = frozenset(["", "it", "them", "everything", "all", "this", "these", "that", "mixture"])


def _objects(words: str) -> tuple[str, ...]:
    """What a clause acts on: the nouns after its verb up to the first word that begins something else."""
    rest = _NOT_OBJECT.sub("", words).strip(" ,:")
    found = []
    for piece in _SPLIT_OBJECTS.split(rest):
        name = piece.strip(" ,.:()'\"")
        while (bare := _ARTICLES.sub("", name)) != name:
            name = bare
        if any(map(str.isalpha, name)) and name.lower() not in _NOTHING and len(name) < 60:
            found.append(name)
    return tuple(found)


def _read_clause(clause: Clause, *, market: str, steps: list[Step], unread: list[Unread]) -> None:
    """Read one clause and append its step, or say that it was not understood."""
    words, action = clause.words, clause.action
    found = find_quantities(words, market=market)
    action = action or _action_of_quantities(words, found)
    if not action:
        unread.append(Unread(words, _nearest(words)))
        return
    unread += [Unread(number, _FIGURES) for number in found.unexplained]
    unread += [Unread(said.strip(), _POSSIBLE) for said in found.impossible]
    ends = found.share or found.millilitres or found.grams
    if action in ("boil", "simmer", "heat") and ends:
        action = "reduce"
    if action in ("idle", "lift", "drain") and _OUT_OF.search(words):
        action = "drain"
    if action == "idle" and found.pieces is not None:
        action = "make"
    if action == "idle" and found.minutes is not None and _LIES.match(words) and not _HEATED.search(words):
        action = "simmer" if _GOES_ON_COOKING.search(words) else "stand"  # "bury in the salt for 24 hours"
    if action == "keep" and not _stream(words):
        action = "stand"  # "keep in a cool place for 2 weeks"
    marks = frozenset(name for name, pattern in _MARK_OF if pattern.search(words))
    stream, name, into = "", "", ""
    if action in ("keep", "catch", "drain", "skim", "discard", "left", "lift", "rinse", "strain", "pat"):
        stream = _stream(words)
    if action in ("keep", "drain") and (kept := _KEPT_AS.search(words)):
        name = kept["name"].strip(" .,")
    if action in ("keep", "catch") and (goes := _INTO.search(words)):
        into = goes["into"].strip(" .,")
    objects = _objects(words[clause.verb_end :]) if clause.action else ()
    if _PART_OF_FOOD.search(words):
        found.share = None  # "in half the butter" is how much goes in, and not what is left
    if action == "drain" and re.search(r"\bon (?:a |the )?(?:\w+ )?(?:paper|towels?|rack|cloth)\b", words):
        action = "idle"  # what fried food takes up is counted as drained
    if action == "idle" and _DRIPPED.search(words):
        action = "catch"  # "stir the flour into the drippings"
    if action == "squeeze" and re.search(r"\b(?:over|onto|into|in|lemons?|limes?|juice of)\b", words):
        action = "idle"  # "squeeze the lemon over the fish"
    rest = stream == "coating" or (not stream and re.search(r"\b(?:excess|extra)\b", words))
    if action == "pat" and (rest or any(_VESSEL.search(name) for name in objects)):
        action = "idle"  # "shake off the extra flour", "wipe the rims of the jars"
    if action == "keep" and not name:
        name = _stream_words(words) if stream else objects[0] if objects else ""
    step = Step(
        action,
        words,
        objects,
        found.minutes,
        found.celsius,
        found.core,
        found.grams,
        found.millilitres,
        found.share,
        found.pieces,
        found.water,
        found.salt,
        stream,
        name,
        into,
        marks,
        found.piece,
    )
    if clause.gap == "until" and ends and steps and action in ("reduce", "weigh", "lose"):
        steps[-1] = _with_end(steps[-1], step)
    else:
        steps.append(step)


def _with_end(step: Step, end: Step) -> Step:
    """A step with what it ends at ("simmer ... until reduced to 700 ml"): one step, not two."""
    action = "reduce" if step.action in ("boil", "simmer", "heat", "reduce") else step.action
    return replace(
        step,
        action=action,
        text=f"{step.text} {end.text}",
        grams=end.grams or step.grams,
        millilitres=end.millilitres or step.millilitres,
        share=end.share or step.share,
        marks=step.marks | end.marks,
    )


# Putting food somewhere is lying there where a time follows.
_LIES = re.compile(
    r"(?:then |and )*(?:let|allow|leave to cool|leave it to cool|cool|add|bur(?:y|ied)|strew\w*|smear\w*|"
    r"slather\w*|immers\w*|pack\w*|cover\w*|rub\w*|sprinkl\w*|toss\w*|massag\w*|layer\w*|lay|laid|put|plac\w+|arrang\w+|salt\w*|spread|"
    r"wrap\w*|weigh\w* down|hang|hung|store\w*|press down|turn)\b",
    re.IGNORECASE,
)
_GOES_ON_COOKING = re.compile(
    r"\b(?:add|pour|ladle)\w*\b.*\b(?:hot|boiling|simmering) (?:\w+ )?(?:stock|broth|water|milk)\b.*"
    r"\b(?:stirring|absorbed|tender|cooked|al dente)\b",
    re.IGNORECASE,
)
_HEATED = re.compile(r"\b(?:oven|smoker|grill|barbecue|pan|heat|steamer|freezer)\b", re.IGNORECASE)
_DRIPPED = re.compile(
    r"\b(?:in(?:to)?|with|to|use|add\w*|pour) (?:all )?(?:the )?(?:\w+ )?(?:drippings|pan[- ]juices|roasting juices)\b",
    re.IGNORECASE,
)
_PART_OF_FOOD = re.compile(
    r"\b(?:in|with|over|add(?:ing)?|stir(?:ring)? in|use|using|and) (?:about )?(?:a |one |two |three )?"
    r"(?:half|third|thirds|quarter|quarters) (?:of )?(?:the|your) \w+",
    re.IGNORECASE,
)
_VESSEL = re.compile(
    r"\b(?:pans?|pots?|jars?|rims?|bowls?|dish|board|surface|bench|tins?|edges?|lids?|blade|knife|grill)\b",
    re.IGNORECASE,
)


def _stream(words: str) -> str:
    """The stream that is named first in a clause."""
    spots = [(hit.start(), name) for name, pattern in _STREAM_OF if (hit := pattern.search(words))]
    return min(spots)[1] if spots else ""


def _stream_words(words: str) -> str:
    """What a clause calls the stream that it names first ("cooking water")."""
    spots = [(hit.start(), hit[0]) for _, pattern in _STREAM_OF if (hit := pattern.search(words))]
    return min(spots)[1] if spots else ""


_LEFT = re.compile(r"\b(?:left|remain(?:s|ing)?|left over|leftover|over)\b", re.IGNORECASE)
_WEIGHT_WORDS = re.compile(r"\b(?:weigh\w*|weight)\b", re.IGNORECASE)


_ONLY_TIME = re.compile(
    r"(?:for\s+)?(?:about\s+|another\s+)?(?:overnight|"
    r"(?:[\d/.,\s-]|to|or|an?|half|few|couple of|one|two|three|four|five|six)+\s*(?:hour|minute|day|week|h|min)s?)"
    r"(?:\s+more|\s+longer)?(?:,?\s+in the fridge)?",
    re.IGNORECASE,
)


def _action_of_quantities(words: str, found: Found) -> str:
    """The action of a clause that has no verb but a figure ("120 g of oil is left", "cooked weight 1.4 kg")."""
    if (found.grams or found.millilitres or found.share) and _LEFT.search(words) and _stream(words):
        return "left"
    if found.grams and _WEIGHT_WORDS.search(words):
        return "weigh"
    if re.search(r"\breduc", words, re.IGNORECASE) or (found.share and re.search(r"\b(?:by|to|down)\b", words)):
        return "reduce"
    if found.minutes is not None and _ONLY_TIME.fullmatch(words):
        return "stand"
    return ""


@cache
def _known_words() -> tuple[str, ...]:
    return tuple(sorted(form for form in verb_actions() if " " not in form))


def _nearest(words: str) -> str:
    """The verb that some word of a clause looks most like, as advice."""
    from rapidfuzz import fuzz, process

    best, score = "", 0.0
    for word in re.findall(r"[a-z-]{4,}", words.lower())[:12]:
        hit = process.extractOne(word, _known_words(), scorer=fuzz.ratio)
        if hit is not None and hit[1] > score:
            best, score = hit[0], hit[1]
    return best if score >= 70.0 else "a verb first, such as “simmer 20 minutes”, “drain” or “weighs 1.4 kg”"
