"""Property diagrams to look into: values under the pointer, and the cycles of a trend over time."""

from __future__ import annotations

import html
import math
import textwrap
from collections.abc import Sequence
from dataclasses import asdict
from importlib import import_module
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _core, _looks
from interstage import _diagram_lines as lines
from interstage._diagram_labels import Labels
from interstage._diagram_looks import LOOKS, CycleLook, is_thin
from interstage._diagram_view import NAMES, View, axis_label, in_units, unit_of, value_text
from interstage._trend_cycles import TrendCycles

#: Size of the figure, of its margins, and of a slider below it, pixels.
_WIDTH, _HEIGHT = 920, 620
_MARGIN = {"l": 70, "r": 20, "t": 70, "b": 60}
_SLIDER = 90
#: Pixels of an inch where values are placed along lines.
_PIXELS = 96.0
#: Letters of a line above the diagram, and its height, pixels.
_LETTERS_ABOVE, _LINE = 120, 17
#: Room for the legend beside the diagram, pixels, and letters of a line in it.
_LEGEND, _LETTERS = 190, 26

#: Points along a line: evenly, so that its value is found under the pointer anywhere.
_POINTS = 45
#: Points of a process: of a cycle that stays, and of one of many.
_PROCESS, _OF_MANY = 41, 11

_SYMBOLS = {
    "o": "circle",
    "s": "square",
    "^": "triangle-up",
    "D": "diamond",
    "v": "triangle-down",
    "P": "cross",
}

#: What is told of a point, and its digits behind the point in SI and I-P; significant digits where negative.
_TOLD = {"T": (2, 2), "p": (-5, -5), "h": (2, 3), "s": (4, 5), "rho": (-5, -5)}

Numbers = npt.NDArray[np.float32]


def plotly() -> Any:
    """Import plotly, or say what is missing."""
    try:
        return import_module("plotly.graph_objects")
    except ImportError as error:
        raise ImportError("an interactive diagram needs plotly: pip install 'interstage[plot]'") from error


def _broken(text: str, letters: int) -> str:
    """Break a text into lines, none of it taken for markup."""
    return "<br>".join(html.escape(line, quote=False) for line in textwrap.wrap(text, letters))


def interactive(
    view: View,
    cycles: Sequence[tuple[_core.Cycle, str]],
    trend: TrendCycles | None,
) -> Any:
    """Make the plotly figure of a view with cycles on it."""
    graph = plotly()
    families = {name: view.family(name) for name in view.families}
    data = [trace for name, found in families.items() for trace in _family(view, name, found)]
    domes = [_evenly(view, *view.visible(side.columns), 4 * _POINTS) for side in view.dome()]
    data.append(
        {
            **_joined(domes),
            "mode": "lines",
            "line": {"color": _looks.INK, "width": 2},
            "name": "saturation",
            "hoverinfo": "skip",
        }
    )
    many = len(cycles) + (trend is not None)
    for place, (cycle, label) in enumerate(cycles):
        data += _cycle(view, cycle, label, CycleLook.of(place, many), _PROCESS)
    frames = []
    if trend is not None:
        moving = list(range(len(data), len(data) + 3))
        look = CycleLook.of(many - 1, many)
        shown = [_cycle(view, cycle, "trend", look, _OF_MANY) for cycle in trend.cycles]
        data += shown[0]
        first = shown[0][2]["text"]
        for number, traces in enumerate(shown):
            changed = [_some(trace, "x", "y", "customdata") for trace in traces]
            if traces[2]["text"] != first:
                changed[2]["text"] = traces[2]["text"]
            frames.append({"name": str(number), "data": changed, "traces": moving})
    for trace in data:
        trace["type"] = "scatter"
    written = _labels(view, families, data)
    return graph.Figure(data=data, layout=_layout(view, trend, written), frames=frames)


def _some(trace: dict[str, Any], *keys: str) -> dict[str, Any]:
    return {key: trace[key] for key in keys if key in trace}


def _family(view: View, name: str, found: Sequence[lines.Line]) -> list[dict[str, Any]]:
    """Lines of one property, each with its value under the pointer."""
    look = LOOKS[name]
    dash = ",".join(f"{0.8 * length:g}px" for length in look.dashes) if look.dashes else "solid"
    unit = unit_of(name, view.units)
    traces: list[dict[str, Any]] = []
    for line in found:
        x, y = _evenly(view, *view.visible(line.columns), _POINTS)
        if not len(x):
            continue
        said = f"{NAMES[name]} {value_text(name, line.value, view.units)} {unit}".rstrip()
        traces.append(
            {
                "x": x,
                "y": y,
                "mode": "lines",
                "line": {"color": look.color, "width": 1, "dash": dash},
                "name": axis_label(name, view.units),
                "legendgroup": name,
                "showlegend": not traces,
                "hovertemplate": f"{said}<extra></extra>",
            }
        )
    return traces


def _cycle(view: View, cycle: _core.Cycle, label: str, look: CycleLook, points: int) -> list[dict[str, Any]]:
    """Three traces of a cycle: its main streams, those that meet and divide, and its points."""
    ways: dict[bool, list[tuple[Any, Any]]] = {False: [], True: []}
    for balance in cycle.balances():
        for start, end in lines.ways(balance):
            way = lines.process(cycle, balance["component"], start, end, points)
            ways[is_thin(balance["component"], start)].append(view.xy(way.columns))
    group = f"cycle {look.place}"
    lean = {"mode": "lines", "hoverinfo": "skip", "legendgroup": group, "showlegend": False}
    main = {"color": look.color, "width": 2.0 + look.wider}
    thin = {"color": look.color, "width": 1.2 + 0.4 * look.wider, "dash": "3px,2px"}
    found = list(cycle.points.values())
    parted = cycle.compositions is not None
    columns = {name: [getattr(point, name) for point in found] for name in lines.PROPERTIES}
    x, y = view.xy(columns)
    marker: dict[str, Any] = {
        "symbol": _SYMBOLS[look.marker] + ("-open" if look.hollow else ""),
        "size": 8 + look.wider,
        "color": look.color,
    }
    told = [
        f"{NAMES[name]} %{{customdata[{at}]}} {unit_of(name, view.units)}" for at, name in enumerate(_TOLD)
    ]
    told += [f"%{{customdata[{at}]}}" for at in range(len(_TOLD), len(_TOLD) + 2 + parted)]
    name = _broken(label, _LETTERS)
    return [
        {**_joined(ways[False]), **lean, "line": main},
        {**_joined(ways[True]), **lean, "line": thin},
        {
            "x": _short(x),
            "y": _short(y),
            "mode": "markers",
            "marker": marker,
            "name": name,
            "legendgroup": group,
            "text": [point.name.replace("_", " ") for point in found],
            "customdata": _told(view, cycle, found, columns),
            "hovertemplate": "<b>%{text}</b><br>" + "<br>".join(told) + f"<extra>{name}</extra>",
        },
    ]


def _told(view: View, cycle: _core.Cycle, found: Sequence[Any], columns: dict[str, Any]) -> list[list[str]]:
    """What is told of each point, as texts in the units shown."""
    shown = in_units(columns, view.units)
    place = 0 if view.units == "SI" else 1
    compositions = cycle.compositions
    texts = []
    for at, point in enumerate(found):
        row = [_digits(float(shown[name][at]), digits[place]) for name, digits in _TOLD.items()]
        wet = point.x is not None and math.isfinite(point.x)
        row.append(f"quality {point.x:.4f}" if wet else f"{point.phase}, no quality")
        flow = float(in_units({"mass_flow": [point.mass_flow]}, view.units)["mass_flow"][0])
        row.append(f"mass flow {_digits(flow, -4)} {unit_of('mass_flow', view.units)}")
        if compositions is not None:
            composition = compositions[point.name]
            shares = "/".join(f"{100.0 * share:.1f}" for share in composition.values())
            row.append(f"{'/'.join(composition)} {shares} % by mass")
        texts.append(row)
    return texts


def _digits(value: float, digits: int) -> str:
    return f"{value:.{digits}f}" if digits >= 0 else f"{value:.{-digits}g}"


def _short(values: Any) -> Numbers:
    """Seven digits: more than a screen shows."""
    return np.asarray(values, dtype=np.float32)


def _joined(curves: Sequence[tuple[Any, Any]]) -> dict[str, Numbers]:
    """Curves one after another with gaps between them."""
    gap = np.array([np.nan])
    sides = ([part for curve in curves for part in (curve[side], gap)][:-1] for side in (0, 1))
    x, y = (_short(np.concatenate(parts) if parts else []) for parts in sides)
    return {"x": x, "y": y}


def _evenly(view: View, x: Any, y: Any, points: int) -> tuple[Numbers, Numbers]:
    """A curve by points evenly along what is seen of it; parts of it stay apart."""
    across, up = view.in_frame(x, y)
    there = np.isfinite(across) & np.isfinite(up)
    edges = np.flatnonzero(np.diff(there.astype(int), prepend=0, append=0)).reshape(-1, 2)
    curves = []
    for start, end in edges:
        if end - start < 2:
            continue
        steps = np.hypot(np.diff(across[start:end]), np.diff(up[start:end]))
        walked = np.concatenate([[0.0], np.cumsum(steps)])
        # Corners of the line stay where they are.
        wished = np.linspace(0.0, walked[-1], max(2, math.ceil(points * min(walked[-1], 1.0))))
        bends = walked[1:-1][_bends(across[start:end], up[start:end])]
        wished = np.unique(np.concatenate([wished, bends]))
        heights = y[start:end] if view.axes[1] != "p" else np.log(y[start:end])
        level = np.interp(wished, walked, heights)
        curves.append(
            (np.interp(wished, walked, x[start:end]), np.exp(level) if view.axes[1] == "p" else level)
        )
    joined = _joined(curves)
    return joined["x"], joined["y"]


def _bends(across: Any, up: Any) -> Any:
    """Where a curve turns by more than 6 degrees."""
    turned = np.unwrap(np.arctan2(np.diff(up), np.diff(across)))
    return np.abs(np.diff(turned)) > 0.1


def _labels(
    view: View,
    families: dict[str, list[lines.Line]],
    data: Sequence[dict[str, Any]],
) -> list[dict[str, Any]]:
    """Values written along the lines."""
    width = (_WIDTH - _MARGIN["l"] - _MARGIN["r"] - _LEGEND) / _PIXELS
    labels = Labels(width, (_HEIGHT - _MARGIN["t"] - _MARGIN["b"]) / _PIXELS, 7.5)
    for x, y in view.kept_free():
        labels.keep_off(*view.in_frame(x, y), 0.01)
    for trace in data:
        if trace.get("legendgroup", "").startswith("cycle") and trace["mode"] == "lines":
            labels.keep_off(*view.in_frame(trace["x"], trace["y"]), 0.02)
    written = []
    for name, found in families.items():
        for line in found:
            x, y = view.in_frame(*view.visible(line.columns))
            outside = ~((x >= 0.0) & (x <= 1.0) & (y >= 0.0) & (y <= 1.0))
            x[outside], y[outside] = np.nan, np.nan
            label = labels.place(x, y, value_text(name, line.value, view.units), LOOKS[name].written)
            if label is None:
                continue
            written.append(
                {
                    **_placed(view, label.x, label.y),
                    "text": label.text,
                    "textangle": -round(label.angle, 1),
                    "showarrow": False,
                    "font": {"size": 10, "color": LOOKS[name].color},
                    "bgcolor": "rgba(255,255,255,0.8)",
                    "borderpad": 0,
                }
            )
    return written


def _placed(view: View, across: float, up: float) -> dict[str, float]:
    """Where a label lies on the axes, that of pressure by its logarithm."""
    (x0, x1), (y0, y1) = view.frame()
    if view.axes[1] == "p":
        y0, y1 = math.log10(y0), math.log10(y1)
    return {"x": float(f"{x0 + across * (x1 - x0):.6g}"), "y": float(f"{y0 + up * (y1 - y0):.6g}")}


def _layout(view: View, trend: TrendCycles | None, written: list[dict[str, Any]]) -> dict[str, Any]:
    horizontal, vertical = view.axes
    (x0, x1), (y0, y1) = view.frame()
    axis: dict[str, Any] = {"showgrid": False, "zeroline": False, "ticks": "outside", "showline": True}
    axis["linecolor"] = _looks.INK
    upright: dict[str, Any] = {**axis, "title": {"text": axis_label(vertical, view.units)}}
    if vertical == "p":
        ticks = lines.round_ratios(y0, y1, 10)
        upright |= {
            "type": "log",
            "range": [math.log10(y0), math.log10(y1)],
            "tickvals": ticks.tolist(),
            "ticktext": [f"{value:g}" for value in ticks],
        }
    else:
        upright["range"] = [float(y0), float(y1)]
    title: dict[str, Any] = {"text": view.refrigerant.name, "x": 0.02, "xanchor": "left"}
    layout: dict[str, Any] = {
        "width": _WIDTH,
        "height": _HEIGHT + (_SLIDER if trend is not None else 0),
        "margin": {**_MARGIN, "b": _MARGIN["b"] + (_SLIDER if trend is not None else 0)},
        "title": title,
        "xaxis": {
            **axis,
            "title": {"text": axis_label(horizontal, view.units)},
            "range": [float(x0), float(x1)],
        },
        "yaxis": upright,
        "annotations": written,
        "plot_bgcolor": "white",
        "paper_bgcolor": "white",
        "hovermode": "closest",
        "hoverlabel": {"align": "left"},
        "legend": {"x": 1.01, "xanchor": "left", "y": 1.0, "yanchor": "top", "font": {"size": 11}},
    }
    if trend is not None:
        notes = [_broken(note, _LETTERS_ABOVE) for note in trend.notes()]
        title["subtitle"] = {"text": "<br>".join(notes)}
        layout["meta"] = {"left_out": [asdict(run) for run in trend.left_out]}
        for side in (layout, layout["margin"]):
            key = "height" if side is layout else "t"
            side[key] += _LINE * title["subtitle"]["text"].count("<br>")
        layout |= _controls(trend)
    return layout


def _controls(trend: TrendCycles) -> dict[str, Any]:
    """A slider over the rows of the trend, with start and stop beside it."""

    def shown(duration: int) -> dict[str, Any]:
        return {
            "mode": "immediate",
            "fromcurrent": True,
            "frame": {"duration": duration, "redraw": False},
            "transition": {"duration": 0},
        }

    steps = [
        {"method": "animate", "label": html.escape(name), "args": [[str(number)], shown(0)]}
        for number, name in enumerate(trend.names)
    ]
    slider = {
        "active": 0,
        "steps": steps,
        "x": 0.16,
        "len": 0.84,
        "y": -0.13,
        "yanchor": "top",
        "pad": {"t": 10},
        "currentvalue": {"prefix": "", "xanchor": "left", "font": {"size": 12, "color": _looks.INK}},
        "font": {"color": "rgba(0,0,0,0)"},
        "ticklen": 0,
        "minorticklen": 0,
    }
    buttons = {
        "type": "buttons",
        "direction": "left",
        "showactive": False,
        "x": 0.0,
        "xanchor": "left",
        "y": -0.13,
        "yanchor": "top",
        "pad": {"t": 34},
        "buttons": [
            {"label": "play", "method": "animate", "args": [None, shown(150)]},
            {"label": "stop", "method": "animate", "args": [[None], shown(0)]},
        ],
    }
    return {"sliders": [slider], "updatemenus": [buttons]}
