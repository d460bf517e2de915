"""What the cook is asked where the words of a method leave something open, and what to write for an answer."""

from __future__ import annotations

from labeler.flow.choices import Choice, Doubt

__all__ = ["answer_to", "asked_of", "question_of"]

_QUESTIONS = {
    Doubt.INSTEAD: "Two ways are offered, “{first}” and “{second}”: which is done?",
    Doubt.OFFERED: "Is what is offered here done or left undone?",
    Doubt.SIDE: "Which side of the sieve is kept?",
    Doubt.MEANT: "Does “{about}” mean {first} or {second}?",
    Doubt.EATEN: "Is what is left of {about} eaten?",
}
_ANSWERS = {
    Doubt.INSTEAD: "only the one that is done",
    Doubt.OFFERED: "the sentence without “if you like” or “you can”, or none",
    Doubt.SIDE: "“keep the liquid” or “discard the liquid”",
    Doubt.MEANT: "it by the names of its lines",
    Doubt.EATEN: "“serve with” it, or “discard” it",
}


def question_of(choice: Choice, *, taken: int | None = None) -> str:
    """A choice as a question to the cook, and what is taken to be.

    Parameters
    ----------
    choice : Choice
    taken : int or None
        The option that stands, by its place; None for the one that was taken.

    Examples
    --------
    >>> sides = likely("what runs through", "what the sieve holds", weights=(0.6, 0.4))
    >>> question_of(Choice(Question(Doubt.SIDE, Span(4)), sides))
    'Which side of the sieve is kept? Taken to be: what runs through.'
    """
    first = choice.options[choice.taken if taken is None else taken]
    return f"{asked_of(choice)} Taken to be: {first.name}."


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
