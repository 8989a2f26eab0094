"""Results that notebooks and terminals show as tables."""

from __future__ import annotations

from typing import Any

from interstage._tables import Table


def tables_of(result: Any) -> list[Table]:
    """Give the tables of a result."""
    # What shows results knows the modules they come from.
    from interstage import _display_faults, _display_trends

    return {**_display_trends.TABLES, **_display_faults.TABLES}[type(result).__name__](result)


class Tabular:
    """A result of tables: HTML in notebooks, text where it is printed; its `repr` is one line."""

    __slots__ = ()

    def _as_tables(self) -> list[Table]:
        raise NotImplementedError

    def _repr_html_(self) -> str:
        return "".join(one.html() for one in self._as_tables())

    def __str__(self) -> str:
        return "\n\n".join(one.text() for one in self._as_tables())


class Shown(Tabular):
    """A result whose tables are made elsewhere."""

    __slots__ = ()

    def _as_tables(self) -> list[Table]:
        return tables_of(self)
