"""What notebooks show of baselines, of what departs from them, and of what that costs."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np

from interstage._display_trends import MOST, change, in_unit, own, percent
from interstage._tables import Table, figures, some_rows, table, written

# Baselines.

_FIT = (
    ("cv_rmse", "CV(RMSE)"),
    ("nmbe", "NMBE"),
    ("held_back_cv_rmse", "CV(RMSE) on blocks held back"),
    ("held_back_nmbe", "NMBE on blocks held back"),
    ("worst_block", "worst block held back"),
    ("held_back_outside", "rows held back outside of their interval"),
)


def _fit(fit: Any, caption: str = "", note: str = "") -> list[Table]:
    rows = [("rows", str(fit.rows), ""), ("coefficients", str(fit.coefficients), "")]
    rows += [(words, percent(getattr(fit, name)), "%") for name, words in _FIT]
    rows += [
        ("R2", f"{fit.r_squared:.4f}", ""),
        ("autocorrelation of the residuals", f"{fit.autocorrelation:.2f}", ""),
        ("rows that count as independent", f"{fit.effective_rows:.0f}", ""),
        ("blocks held back in turn", str(fit.blocks), ""),
    ]
    words, values, units = zip(*rows, strict=True)
    return [table({"figure": words, "value": values, "unit": units}, caption, note)]


def _baseline(baseline: Any) -> list[Table]:
    first, last = baseline.period
    period = f"; fitted to {first} to {last}" if first else ""
    rows = {
        "term": list(baseline.coefficients),
        "coefficient": [f"{value:.6g}" for value in baseline.coefficients.values()],
    }
    note = f"By {', '.join(baseline.drivers)}{period}."
    return [*_fit(baseline.quality, f"{baseline.figure}, {baseline.kind}", note), table(rows, "")]


def _prediction(prediction: Any) -> list[Table]:
    columns = {"expected": prediction.expected, "half width": prediction.half_width}
    index = getattr(prediction.expected, "index", None)
    arrays = {name: np.atleast_1d(np.asarray(values, dtype=np.float64)) for name, values in columns.items()}
    return [table(some_rows(arrays, index), "", "SI units; half widths of intervals of 95 %.")]


# Faults.


def _departure(departure: Any) -> list[Table]:
    unit, expected = in_unit(departure.figure, departure.expected)
    unit = unit or "SI"
    change_unit, shift = change(departure.figure, departure.shift)
    change_unit = change_unit or "SI"
    rows = {
        "figure": [departure.figure],
        f"expected [{unit}]": [own("", unit, float(expected))],
        f"departure [{change_unit}]": [own("", change_unit, shift)],
        f"interval [{change_unit}]": [
            own("", change_unit, abs(change(departure.figure, departure.interval)[1]))
        ],
        "departure per standard deviation": [f"{departure.score:.2f}"],
        "rows": [str(departure.rows)],
    }
    return [table(rows, f"{departure.first} to {departure.last}")]


def _measured(value: float, unit: str) -> str:
    """A number with its unit, where it has one."""
    return f"{own('', unit, value)} {'' if unit == '-' else unit}".rstrip()


def _departures(departures: Any) -> list[Table]:
    rows: dict[str, list[str]] = {"figure": [one.figure for one in departures]}
    columns: dict[str, list[str]] = {name: [] for name in ("expected", "departure", "interval")}
    for one in departures:
        unit, expected = in_unit(one.figure, one.expected)
        by, shift = change(one.figure, one.shift)
        columns["expected"].append(_measured(float(expected), unit))
        columns["departure"].append(_measured(shift, by))
        columns["interval"].append(_measured(abs(change(one.figure, one.interval)[1]), by))
    rows |= columns
    rows["per standard deviation"] = [f"{one.score:+.2f}" for one in departures]
    rows["rows"] = [str(one.rows) for one in departures]
    rows["from"] = [str(one.first) for one in departures]
    rows["to"] = [str(one.last) for one in departures]
    return [table(rows, f"departures of {len(departures)} figures", "Half widths of intervals of 95 %.")]


def _suspicion(suspicion: Any) -> list[Table]:
    def named(departures: Any) -> str:
        return ", ".join(f"{one.figure} ({one.score:+.1f})" for one in departures)

    rows = {
        "log odds against no fault": [f"{suspicion.odds:.2f}"],
        "supported by": [named(suspicion.supporting)],
        "contradicted by": [named(suspicion.contradicting)],
        "check": [suspicion.check],
    }
    return [table(rows, suspicion.fault)]


def _visible(visible: Any) -> list[Table]:
    smallest = "" if visible.smallest is None else own("", visible.unit, visible.smallest)
    rows = {
        "fault": [visible.fault],
        "figure": [visible.figure],
        "goes": [visible.direction],
        f"smallest that shows [{visible.unit or 'SI'}]": [smallest],
        "of its value [%]": [percent(visible.relative)],
        "mostly from": [visible.dominant],
    }
    return [table(rows, visible.named, visible.reason)]


def _visibles(several: Any) -> list[Table]:
    told = [one for one in several if one.smallest is not None]
    rows = {
        "fault": [one.fault for one in told],
        "figure": [one.figure for one in told],
        "goes": [one.direction for one in told],
        "smallest that shows": [_measured(one.smallest, one.unit) for one in told],
        "of its value [%]": [percent(one.relative) for one in told],
        "mostly from": [one.dominant for one in told],
        "all together are called": [one.named for one in told],
    }
    caption = f"smallest departures that show: {len(told)} of {len(several)} can be told"
    # The same figure is asked for by several faults.
    untold = {one.figure: one.reason for one in several if one.smallest is None}
    why = table({"figure": list(untold), "why it cannot be told": list(untold.values())}, "")
    return [table(rows, caption), *([why] if untold else [])]


def _candidates(candidates: Iterable[Any], caption: str, note: str = "") -> list[Table]:
    several = list(candidates)
    rows: dict[str, list[str]] = {"refrigerant": [one.refrigerant for one in several]}
    for vessel in dict.fromkeys(vessel for one in several for vessel in one.offset):
        rows[f"offset of the gauge, {vessel} [kPa]"] = [
            f"{one.offset[vessel] / 1e3:.2f}" if vessel in one.offset else "" for one in several
        ]
    rows |= {
        "spread [K]": [own("", "K", one.spread) for one in several],
        "misfit [K]": [own("", "K", one.misfit) for one in several],
        "cannot be": [one.excluded for one in several],
    }
    return [table(rows, caption, note)]


def _identification(found: Any) -> list[Table]:
    most = found.candidates[:MOST]
    left = len(found.candidates) - len(most)
    return _candidates(most, found.verdict, f"{left} more were tried." if left else "")


def _gas(gas: Any) -> list[Table]:
    values = {
        "partial pressure of gas": ("p", float(gas.pressure)),
        "half width of its interval": ("p", float(gas.interval)),
        "rows": ("", str(gas.rows)),
    }
    return [figures(values, f"machine at rest: {gas.verdict}", gas.reason)]


def _operation(operation: Any) -> list[Table]:
    names = {
        "capacity": "capacity",
        "power": "power",
        "chilled_water_leaving": "T",
        "condenser_water_entering": "T",
        "chilled_water_flow": "volume_flow",
        "condenser_water_flow": "volume_flow",
        "evaporating_temperature": "T",
        "condensing_temperature": "T",
        "stage_efficiency": "",
        "subcooling": "temperature_difference",
        "suction_superheat": "temperature_difference",
        "kw_per_ton": "",
        "cop": "",
    }
    values: dict[str, tuple[str, Any]] = {}
    for name, quantity in names.items():
        value = getattr(operation, name)
        if value is not None:
            values[name.replace("_", " ").replace("kw per ton", "kW/ton").replace("cop", "COP")] = (
                quantity,
                float(value),
            )
    return [figures(values, "" if operation.economizer else "economizers off")]


def _with_interval(rows: Mapping[str, tuple[str, float, float]], caption: str, note: str) -> list[Table]:
    """Figures with the half widths of their intervals: words -> unit, value, half width."""
    columns: dict[str, list[str]] = {"figure": list(rows), "value": [], "half width": [], "unit": []}
    for unit, *both in rows.values():
        texts = [percent(value / 100.0) for value in both]
        if unit != "%":
            texts = written(f"value [{unit}]", [float(value) for value in both])
        for name, text in zip(("value", "half width", "unit"), (*texts, unit), strict=True):
            columns[name].append(text)
    return [table(columns, caption, note)]


def _saving(saving: Any) -> list[Table]:
    if saving.reason:
        return [table({"rows": [str(saving.rows)], "cannot tell": [saving.reason]}, saving.verdict)]
    words = {
        "shown": "saved at least",
        "if_working": "saved if they work",
        "potential": "saved by design",
        "lacking": "lacking",
    }
    rows = {
        text: ("%", 100.0 * getattr(saving, name), 100.0 * getattr(saving, f"{name}_interval"))
        for name, text in words.items()
    }
    note = f"{saving.rows} rows; intervals of 95 %, mostly from {saving.dominant}."
    return _with_interval(rows, f"economizers: {saving.verdict}", note)


def _shortfall(shortfall: Any) -> list[Table]:
    without = f"{shortfall.hours_without:.0f} h cannot be judged."
    if shortfall.reason:
        return [table({"cannot tell": [shortfall.reason]}, "shortfall", without)]
    rows = {
        "energy beyond the baseline": ("kWh", shortfall.energy, shortfall.energy_interval),
        "its cost": ("", shortfall.cost, shortfall.cost_interval),
    }
    what = "beyond its interval" if shortfall.clear else "within its interval"
    expected = f"{shortfall.expected_energy:.0f} kWh were expected in {shortfall.hours:.0f} h"
    return _with_interval(rows, f"shortfall: {what}", f"{expected}; {without}")


def _expander(found: Any) -> list[Table]:
    values = {
        "efficiency of the expander that saves as much": (
            "fraction",
            None if found.efficiency is None else float(found.efficiency),
        ),
        "COP": ("", float(found.cop)),
        "COP without economizers": ("", float(found.cop_without)),
        "COP with an ideal expander": ("", float(found.cop_with_ideal_expander)),
    }
    return [figures(values, "", found.reason)]


TABLES: dict[str, Callable[[Any], list[Table]]] = {
    "Baseline": _baseline,
    "BaselineFit": _fit,
    "Candidate": lambda candidate: _candidates([candidate], ""),
    "Departure": _departure,
    "_Departures": _departures,
    "EconomizerSaving": _saving,
    "EquivalentExpander": _expander,
    "GasAtRest": _gas,
    "Identification": _identification,
    "Operation": _operation,
    "Prediction": _prediction,
    "Shortfall": _shortfall,
    "Suspicion": _suspicion,
    "Visible": _visible,
    "_Visibles": _visibles,
}
