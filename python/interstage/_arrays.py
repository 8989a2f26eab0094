"""The array layer: containers of columns in, the same containers out.

Takes lists, NumPy arrays, pandas and polars Series and whatever turns into a NumPy array of numbers. Masked
entries, None, null and NA become NaN, which means missing. Texts, truth values, dates and complex numbers are
refused. All arithmetic is done by the compiled module.
"""

from __future__ import annotations

import math
import numbers as _numbers
import sys
from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import partial
from typing import Any, NoReturn

import numpy as np
import numpy.ma
import numpy.typing as npt

from interstage import _core
from interstage._chillers import ChillerPoints
from interstage._containers import Container
from interstage._cycles import Cycles
from interstage._states import Saturations, States
from interstage.errors import Inconsistent, InterstageError, NotFinite, WrongArgument, WrongLength

FloatArray = npt.NDArray[np.float64]

_UNITS = {"T": "K", "p": "Pa", "h": "J/kg", "s": "J/(kg K)", "rho": "kg/m3", "x": "kg/kg", "u": "J/kg"}


def _refuse(argument: str, found: str) -> NoReturn:
    message = f"{argument} must be a number or a column of numbers, got {found}"
    raise WrongArgument(message, argument=argument)


def as_number(argument: str, value: Any) -> float | None:
    """Give a single number as a float, None for a column; refuse everything else."""
    if isinstance(value, (list, tuple, range)):
        return None
    if isinstance(value, np.ndarray):
        if value.ndim > 0:
            return None
        if numpy.ma.is_masked(value):
            return math.nan
        value = value[()]
    if isinstance(value, (bool, np.bool_, str, bytes, Mapping, set, frozenset, type(None))):
        _refuse(argument, type(value).__name__)
    if isinstance(value, np.generic):
        # A span of time counts as an integer to NumPy, which its kind does not.
        if value.dtype.kind in "fiu":
            return float(value)
        _refuse(argument, type(value).__name__)
    if isinstance(value, (_numbers.Real, Decimal)):
        return float(value)
    if _is_series(value, "pandas") or _is_series(value, "polars"):
        return None
    if hasattr(value, "__array__") or isinstance(value, Sequence):
        return None
    _refuse(argument, type(value).__name__)


def _is_a(value: Any, library: str, class_name: str) -> bool:
    """Tell an object of pandas or polars without importing either."""
    known = getattr(sys.modules.get(library), class_name, None)
    return known is not None and isinstance(value, known)


def _is_series(value: Any, library: str) -> bool:
    return _is_a(value, library, "Series")


def _is_table(value: Any) -> bool:
    return any(_is_a(value, library, "DataFrame") for library in ("pandas", "polars"))


def numbers(argument: str, value: Any) -> FloatArray:
    """Give a column as an array of float64 of one or more dimensions, missing entries as NaN.

    Parameters
    ----------
    argument : str
        Name of the argument, for messages.
    value : column
        A number counts as a column of one row.

    Returns
    -------
    numpy.ndarray
    """
    number = as_number(argument, value)
    if number is not None:
        return np.array([number])
    if _is_table(value):
        _refuse(argument, f"a {type(value).__name__}: pass one of its columns")
    if _is_series(value, "pandas"):
        return _from_pandas(argument, value)
    if _is_series(value, "polars"):
        return _from_polars(argument, value)
    if isinstance(value, (list, tuple)):
        return _from_list(argument, value)
    if isinstance(value, numpy.ma.MaskedArray):
        known = _from_array(argument, numpy.ma.getdata(value))
        return np.where(numpy.ma.getmaskarray(value), math.nan, known)
    return _from_array(argument, np.asarray(value))


def _from_list(argument: str, value: Sequence[Any]) -> FloatArray:
    if set(map(type, value)) <= {float}:
        return np.array(value, dtype=np.float64)
    try:
        return _from_objects(argument, np.array(value, dtype=object))
    except ValueError as error:
        message = f"{argument} must have rows of equal length: {error}"
        raise WrongArgument(message, argument=argument) from error


def _from_array(argument: str, array: npt.NDArray[Any]) -> FloatArray:
    if array.dtype.kind == "O":
        return _from_objects(argument, array)
    if array.dtype.kind not in "fiu":
        _refuse(argument, f"an array of dtype {array.dtype}")
    return np.require(np.atleast_1d(array), np.float64, ["ALIGNED"])


def _from_objects(argument: str, array: npt.NDArray[np.object_]) -> FloatArray:
    result = np.empty(array.shape)
    for place, entry in enumerate(array.flat):
        if entry is None or type(entry).__name__ == "NAType":
            result.flat[place] = math.nan
            continue
        try:
            number = as_number(argument, entry)
        except WrongArgument:
            number = None
        if number is None:
            _refuse(argument, f"{type(entry).__name__} at entry {place}")
        result.flat[place] = number
    return np.atleast_1d(result)


def _from_pandas(argument: str, series: Any) -> FloatArray:
    dtype = series.dtype
    if isinstance(dtype, np.dtype):
        return _from_array(argument, series.to_numpy())
    types = sys.modules["pandas"].api.types
    if not types.is_numeric_dtype(dtype) or types.is_bool_dtype(dtype) or types.is_complex_dtype(dtype):
        _refuse(argument, f"a Series of dtype {dtype}")
    return np.require(series.to_numpy(dtype=np.float64, na_value=math.nan), np.float64, ["ALIGNED"])


def _from_polars(argument: str, series: Any) -> FloatArray:
    polars = sys.modules["polars"]
    if series.dtype == polars.Null:
        return np.full(len(series), math.nan)
    if not series.dtype.is_numeric():
        _refuse(argument, f"a Series of dtype {series.dtype}")
    return np.require(series.cast(polars.Float64).to_numpy(), np.float64, ["ALIGNED"])


def together(arguments: Mapping[str, Any]) -> tuple[list[FloatArray], Container]:
    """Give arguments as flat arrays of one length, and the container that the results come in.

    Parameters
    ----------
    arguments : mapping of str to number or column
        At least one column.

    Returns
    -------
    list of numpy.ndarray
        One flat array an argument.
    Container

    Raises
    ------
    WrongLength
        If columns have different lengths.
    Inconsistent
        If pandas Series have different indexes, or pandas and polars are mixed.
    """
    given = {name: as_number(name, value) for name, value in arguments.items()}
    columns = {name: numbers(name, arguments[name]) for name, number in given.items() if number is None}
    series = {
        library: [name for name in columns if _is_series(arguments[name], library)]
        for library in ("pandas", "polars")
    }
    if series["pandas"] and series["polars"]:
        names = f"{series['pandas'][0]} and {series['polars'][0]}"
        _contradict(names, "one is a pandas, the other a polars Series")
    if series["pandas"] or series["polars"]:
        library = "pandas" if series["pandas"] else "polars"
        first = series[library][0]
        shape = columns[first].shape
        for name, column in columns.items():
            if column.shape != shape:
                _wrong_length(name, column.shape, first, shape)
        index = arguments[first].index if library == "pandas" else None
        for name in series["pandas"]:
            if index is not None and not index.equals(arguments[name].index):
                _contradict(f"{first} and {name}", "their indexes differ; align the two Series first")
        container = Container(library, shape, index)
    else:
        shape = ()
        first = next(iter(columns))
        for name, column in columns.items():
            try:
                shape = np.broadcast_shapes(shape, column.shape)
            except ValueError:
                _wrong_length(name, column.shape, first, columns[first].shape)
        container = Container("numpy", shape)
    flat = [
        np.broadcast_to(columns[name] if number is None else np.float64(number), shape).reshape(-1)
        for name, number in given.items()
    ]
    return flat, container


def _contradict(arguments: str, reason: str) -> NoReturn:
    raise Inconsistent(f"{arguments} contradict each other: {reason}", arguments=arguments, reason=reason)


def _wrong_length(name: str, found: tuple[int, ...], first: str, expected: tuple[int, ...]) -> NoReturn:
    def rows(shape: tuple[int, ...]) -> str:
        return f"{shape[0]} rows" if len(shape) == 1 else f"the shape {shape}"

    message = f"{name} has {rows(found)} where {first} has {rows(expected)}"
    raise WrongLength(message, argument=name, found=math.prod(found), expected=math.prod(expected))


def _first_bad(
    status: npt.NDArray[np.uint8], shape: tuple[int, ...]
) -> tuple[int, int | tuple[int, ...]] | None:
    """Give the first row without result, flat and as an index of the container."""
    bad = np.flatnonzero(status)
    if not bad.size:
        return None
    row = int(bad[0])
    return row, row if len(shape) == 1 else tuple(int(part) for part in np.unravel_index(row, shape))


def _raise_at(row: int | tuple[int, ...], inputs: Mapping[str, float], again: Any) -> NoReturn:
    """Raise the error of a row: calculate it again on its own."""
    for name, value in inputs.items():
        if math.isnan(value):
            unit = _UNITS.get(name, "SI units")
            raise NotFinite(f"{name} is missing", argument=name, value=value, unit=unit).at_row(row)
    try:
        again(**inputs)
    except InterstageError as error:
        raise error.at_row(row) from None
    raise InterstageError("the row has no result").at_row(row)


def state(
    refrigerant: _core.Refrigerant, first: str, a: Any, second: str, b: Any, raises: bool, threads: int | None
) -> States:
    """Make states from two properties of which at least one is a column."""
    (a, b), container = together({first: a, second: b})
    *columns, codes, status = _core._states(refrigerant, first, a, second, b, threads)
    if raises and (bad := _first_bad(status, container.shape)):
        flat, row = bad
        _raise_at(row, {first: float(a[flat]), second: float(b[flat])}, refrigerant.state)
    names = ("T", "p", "rho", "h", "s", "u", "x")
    return States(refrigerant, dict(zip(names, columns, strict=True)), codes, status, container)


def saturation(
    refrigerant: _core.Refrigerant, name: str, value: Any, raises: bool, threads: int | None
) -> Saturations:
    """Make the saturation of a column of temperatures or pressures."""
    (column,), container = together({name: value})
    columns = _core._saturations(refrigerant, name, column, threads)
    columns["T"], columns["p"] = columns.pop("temperature"), columns.pop("pressure")
    status = columns.pop("status")
    if raises and (bad := _first_bad(status, container.shape)):
        flat, row = bad
        _raise_at(row, {name: float(column[flat])}, refrigerant.saturation)
    return Saturations(refrigerant, columns, status, container)


def surface_tension(refrigerant: _core.Refrigerant, value: Any, raises: bool) -> Any:
    """Give the surface tension at a column of temperatures."""
    (column,), container = together({"T": value})
    values = _core._surface_tensions(refrigerant, column)
    if raises and (bad := _first_bad(np.isnan(values).astype(np.uint8), container.shape)):
        flat, row = bad
        _raise_at(row, {"T": float(column[flat])}, refrigerant.surface_tension)
    values.flags.writeable = False
    return container.wrap(values, "surface_tension")


def saturation_temperature(refrigerant: _core.Refrigerant, value: Any, raises: bool) -> Any:
    """Give the saturation temperature at a column of pressures."""
    (column,), container = together({"p": value})
    values = _core._saturation_temperatures(refrigerant, column)
    if raises and (bad := _first_bad(np.isnan(values).astype(np.uint8), container.shape)):
        flat, row = bad
        _raise_at(row, {"p": float(column[flat])}, refrigerant.saturation_temperature)
    values.flags.writeable = False
    return container.wrap(values, "saturation_temperature")


def figure(function: str, arguments: dict[str, Any], raises: bool) -> Any:
    """Give a figure of several arguments of which at least one is a column."""
    inputs, container = together(arguments)
    calculate = getattr(_core, function)
    values = calculate(*map(np.ascontiguousarray, inputs))
    if raises and (bad := _first_bad(np.isnan(values).astype(np.uint8), container.shape)):
        flat, row = bad
        numbers_by_name = {name: float(column[flat]) for name, column in zip(arguments, inputs, strict=True)}
        _raise_at(row, numbers_by_name, calculate)
    values.flags.writeable = False
    return container.wrap(values, function)


def solve(circuit: _core.Circuit, conditions: dict[str, Any], raises: bool, threads: int | None) -> Cycles:
    """Solve a circuit at columns of conditions; the size comes last."""
    inputs, container = together(conditions)
    figures = _core._cycles(circuit, inputs, list(conditions)[-1], threads)
    status = figures.pop("status")
    inputs_by_name = dict(zip(conditions, inputs, strict=True))
    if raises and (bad := _first_bad(status, container.shape)):
        flat, row = bad
        _raise_at(row, {name: float(column[flat]) for name, column in inputs_by_name.items()}, circuit.solve)
    return Cycles(circuit, inputs_by_name, figures, status, container)


def solve_chiller(
    chiller: _core.Chiller,
    waters: tuple[_core.WaterFlow, _core.WaterFlow],
    duties: dict[str, Any],
    raises: bool,
    threads: int | None,
) -> ChillerPoints:
    """Solve a chiller at columns of duties: capacity, chilled water and entering condenser water."""
    inputs, container = together(duties)
    leaving = "chilled_water_leaving" in duties
    figures = _core._chiller_rows(chiller, waters, inputs, leaving, threads)
    status = figures.pop("status")
    inputs_by_name = dict(zip(duties, inputs, strict=True))
    if raises and (bad := _first_bad(status, container.shape)):
        flat, row = bad
        chilled, condenser = waters
        solve_one = partial(chiller.solve, chilled_water=chilled, condenser_water=condenser)
        _raise_at(row, {name: float(column[flat]) for name, column in inputs_by_name.items()}, solve_one)
    return ChillerPoints(chiller, waters, inputs_by_name, figures, status, container)


def convert(function: str, argument: str, value: Any, second: str = "", other: Any = None) -> Any:
    """Convert a column by a function of the compiled module, which is given plain arrays."""
    arguments = {argument: value} if not second else {argument: value, second: other}
    inputs, container = together(arguments)
    converted = getattr(_core, function)(*map(np.ascontiguousarray, inputs))
    named = next((value for value in arguments.values() if hasattr(value, "name")), None)
    return container.wrap(converted, None if named is None else named.name)
