"""Arguments that must be of a class."""

from __future__ import annotations

from typing import Any

from interstage.errors import WrongArgument


def must_be(argument: str, value: Any, kind: type) -> None:
    """Refuse what is of another class."""
    if not isinstance(value, kind):
        article = "an" if kind.__name__[0] in "AEIOU" else "a"
        message = f"{argument} must be {article} {kind.__name__}, got {type(value).__name__}"
        raise WrongArgument(message, argument=argument)
