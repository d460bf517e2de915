"""What the cook is asked where the words of a method leave something open, and what to write for an answer."""

from __future__ import annotations

from labeler.flow.choices import Choice, Doubt
from labeler.flow.model import Reading

__all__ = ["answer_to", "asked_of", "question_of"]

_QUESTIONS = {
    Doubt.INSTEAD: "Two ways are offered, “{first}” and “{second}”: which is done?",
    Doubt.OFFERED: "Is what is offered here done or left undone?",
    Doubt.SIDE: "Which side of the sieve is kept?",
    Doubt.MEANT: "Does “{about}” mean {first} or {second}?",
    Doubt.EATEN: "Is what is left of {about} eaten?",
    Doubt.PUT_AWAY: "Do the servings count what is put away of {about}?",
}
_ANSWERS = {
    Doubt.INSTEAD: "only the one that is done",
    Doubt.OFFERED: "the sentence without “if you like” or “you can”, or none",
    Doubt.SIDE: "“keep the liquid” or “discard the liquid”",
    Doubt.MEANT: "it by the names of its lines",
    Doubt.EATEN: "“serve with” it, or “discard” it",
    Doubt.PUT_AWAY: "what it is kept for (“for another dish”), or leave the sentence out where the servings count all",
}


def question_of(reading: Reading) -> str:
    """What a reading leaves the cook to say: what is asked, what it is taken to be, and what this reading takes.

    Examples
    --------
    >>> sides = likely("what runs through", "what the sieve holds", weights=(0.6, 0.4))
    >>> question_of(Reading(0.4, Choice(Question(Doubt.SIDE, Span(4)), sides), 1))
    'Which side of the sieve is kept? Taken to be: what runs through. It may be: what the sieve holds.'
    """
    options = reading.choice.options
    taken, other = options[reading.choice.taken].name, options[reading.option].name
    return f"{asked_of(reading.choice)} Taken to be: {taken}. It may be: {other}."


def asked_of(choice: Choice) -> str:
    """A choice as a question to the cook: "Is what is offered here done or left undone?"."""
    first, second = choice.options[:2]
    asked: str = _QUESTIONS[choice.question.doubt].format(
        about=choice.question.about, first=first.name, second=second.name
    )
    return asked


def answer_to(choice: Choice) -> str:
    """What to write in the method so that nothing is left open: what stands behind "write"."""
    return _ANSWERS[choice.question.doubt]
