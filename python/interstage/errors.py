"""Everything that goes wrong, as exception classes with fields.

All derive from `InterstageError`. Those that say that an input is at fault are also `ValueError` or, where
the kind of an argument is wrong, `TypeError`. Each class has a stable `kind` for programs and carries the
numbers of its message as attributes; all can be pickled.

Examples
--------
>>> import interstage
>>> try:
...     interstage.Refrigerant("R-134a").saturation(T=500.0)
... except interstage.OutOfRange as error:
...     print(error.kind, error.argument, error.value, error.unit)
out_of_range T 500.0 K
"""

from __future__ import annotations

from typing import Any, ClassVar

__all__ = [
    "Inconsistent",
    "InterstageError",
    "NotConverged",
    "NotFinite",
    "NotPublished",
    "OutOfRange",
    "PairNotPublished",
    "ReferenceUnavailable",
    "Undefined",
    "UnknownOption",
    "UnknownPoint",
    "UnknownRefrigerant",
    "WrongArgument",
    "WrongLength",
]


class InterstageError(Exception):
    """Base of all errors of this package.

    Parameters
    ----------
    message : str, optional
        What went wrong, with names, values, limits and units.
    row : int or tuple of int, optional
        Row of a column at which it went wrong.
    **fields
        The fields that the class names in `fields`.
    """

    #: What went wrong, for programs: one word for each class, which stays.
    kind: ClassVar[str] = "error"
    #: Names of the attributes that an error of the class carries besides `row`.
    fields: ClassVar[tuple[str, ...]] = ()

    #: Row of a column at which it went wrong, or None.
    row: int | tuple[int, ...] | None

    def __init__(self, message: str = "", *, row: int | tuple[int, ...] | None = None, **fields: Any) -> None:
        if fields.keys() != set(self.fields):
            raise TypeError(f"{type(self).__name__} has the fields {self.fields}, got {tuple(fields)}")
        super().__init__(message)
        self.row = row
        for name, value in fields.items():
            setattr(self, name, value)

    @property
    def message(self) -> str:
        """The message."""
        return str(self.args[0])

    def at_row(self, row: int | tuple[int, ...]) -> InterstageError:
        """Give the same error with a row in its message and its `row`."""
        where = f"row {row}" if isinstance(row, int) else f"row {', '.join(map(str, row))}"
        return type(self)(f"{where}: {self.message}", row=row, **self._values())

    def _values(self) -> dict[str, Any]:
        return {name: getattr(self, name) for name in self.fields}

    def __str__(self) -> str:
        return self.message

    def __reduce__(self) -> tuple[Any, ...]:
        return _rebuilt, (type(self), self.message, {"row": self.row, **self._values()}), self.__dict__.copy()


def _rebuilt(cls: type[InterstageError], message: str, fields: dict[str, Any]) -> InterstageError:
    return cls(message, **fields)


class OutOfRange(InterstageError, ValueError):
    """An argument lies outside the range in which the calculation is valid."""

    kind = "out_of_range"
    fields = ("argument", "value", "minimum", "maximum", "unit", "reason")

    #: Name of the argument.
    argument: str
    #: Value that was given, in `unit`.
    value: float
    #: Lowest allowed value.
    minimum: float
    #: Highest allowed value.
    maximum: float
    #: SI unit of the three numbers.
    unit: str
    #: Where the limit comes from.
    reason: str


class NotFinite(InterstageError, ValueError):
    """An argument is NaN (missing) or infinite."""

    kind = "not_finite"
    fields = ("argument", "value", "unit")

    #: Name of the argument.
    argument: str
    #: Value that was given.
    value: float
    #: SI unit expected.
    unit: str


class Inconsistent(InterstageError, ValueError):
    """Arguments are fine one by one and contradict each other."""

    kind = "inconsistent"
    fields = ("arguments", "reason")

    #: Names of the arguments.
    arguments: str
    #: How they contradict each other, with values and units.
    reason: str


class NotConverged(InterstageError, ArithmeticError):
    """A solver stopped without reaching its tolerance."""

    kind = "not_converged"
    fields = ("solver", "iterations", "residual", "lower", "upper")

    #: Which solver.
    solver: str
    #: Iterations spent.
    iterations: int
    #: Residual at the end, in the solver's own scale.
    residual: float
    #: Lower end of the last bracket.
    lower: float
    #: Upper end of the last bracket.
    upper: float


class UnknownRefrigerant(InterstageError, ValueError):
    """No refrigerant has that name."""

    kind = "unknown_refrigerant"
    fields = ("name", "nearest")

    #: Name that was asked for.
    name: str
    #: Designations that come close, best first; empty where none does.
    nearest: tuple[str, ...]


class ReferenceUnavailable(InterstageError, ValueError):
    """The refrigerant cannot have that reference for enthalpy and entropy."""

    kind = "reference_unavailable"
    fields = ("refrigerant", "reference", "reason")

    #: Designation of the refrigerant.
    refrigerant: str
    #: The reference that was asked for.
    reference: str
    #: Why it cannot be.
    reason: str


class Undefined(InterstageError, ValueError):
    """A property has no meaning in that state."""

    kind = "undefined"
    fields = ("property", "state")

    #: Name of the property.
    property: str
    #: The kind of state.
    state: str


class NotPublished(InterstageError, ValueError):
    """The library has no published correlation for that property of the refrigerant."""

    kind = "not_published"
    fields = ("property", "refrigerant", "available")

    #: Name of the property.
    property: str
    #: Designation of the refrigerant.
    refrigerant: str
    #: Designations of the refrigerants that have it.
    available: tuple[str, ...]


class PairNotPublished(InterstageError, ValueError):
    """The library has no published parameters for how two refrigerants mix."""

    kind = "pair_not_published"
    fields = ("first", "second")

    #: Designation of one.
    first: str
    #: Designation of the other.
    second: str


class WrongLength(InterstageError, ValueError):
    """Columns or lists that belong together have different lengths."""

    kind = "wrong_length"
    fields = ("argument", "found", "expected")

    #: Name of the argument.
    argument: str
    #: Rows it has.
    found: int
    #: Rows that are needed.
    expected: int


class WrongArgument(InterstageError, TypeError):
    """An argument is of a wrong kind, missing, or one too many."""

    kind = "wrong_argument"
    fields = ("argument",)

    #: Name of the argument, or names.
    argument: str


class UnknownOption(InterstageError, ValueError):
    """An argument that takes one of a few words got another."""

    kind = "unknown_option"
    fields = ("argument", "value", "options")

    #: Name of the argument.
    argument: str
    #: Word that was given.
    value: str
    #: Words that are known.
    options: tuple[str, ...]


class UnknownPoint(InterstageError, KeyError):
    """The cycle has no point of that name."""

    kind = "unknown_point"
    fields = ("name", "names")

    #: Name that was asked for.
    name: str
    #: Names of the points that the cycle has.
    names: tuple[str, ...]
