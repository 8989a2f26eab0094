"""Results that notebooks show as tables."""

from __future__ import annotations


class Shown:
    """A result that notebooks show as tables; terminals show its `repr`."""

    __slots__ = ()

    def _repr_html_(self) -> str:
        # What shows results knows the modules they come from.
        from interstage import _display_faults, _display_trends

        tables = {**_display_trends.TABLES, **_display_faults.TABLES}[type(self).__name__](self)
        return "".join(one.html() for one in tables)
