"""States and saturations for whole columns."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, overload

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._columns import OK, Column, Columns

if TYPE_CHECKING:
    from interstage._containers import Container

_SLOPES = (
    "cp",
    "cv",
    "speed_of_sound",
    "isentropic_exponent",
    "joule_thomson",
    "compressibility_factor",
    "isothermal_compressibility",
    "thermal_expansion",
)
_TRANSPORT = ("viscosity", "thermal_conductivity", "prandtl_number")
_PHASES = np.array(["liquid", "vapor", "two-phase", "supercritical", ""])
_NO_PHASE = 255


class States(Columns):
    """States of a refrigerant for whole columns: the attributes of `State` as columns.

    Made by `Refrigerant.state` and `Refrigerant.saturation`. SI units. Attributes come in the container that
    the properties came in: NumPy arrays of the same shape (read-only, copy to change; lists give arrays),
    pandas Series with the same index, or polars Series. Rows without result are NaN and have a `status` that
    says why. Slopes (`cp`, `cv` and so on) and transport properties are calculated on first use and NaN
    inside the dome. Transport properties are NaN outside the range of their correlation, too: the attribute
    of that single state, ``states[row].viscosity``, raises the reason. Where no correlation is published,
    the attribute raises `NotPublished`.
    ``states[row]`` is the `State` of a row, or None; ``states[10:20]`` are the `States` of these rows.

    Examples
    --------
    >>> import interstage
    >>> import numpy as np
    >>> r = interstage.Refrigerant("R-134a")
    >>> x = r.state(p=np.array([300e3, 600e3, np.nan]), T=290.0)
    >>> x
    States(R-134a, 3 rows, 1 without result)
    >>> x.phase
    array(['vapor', 'liquid', ''], dtype='<U13')
    >>> interstage.status_text(x.status[2])
    'an input is missing'
    >>> x[0] == r.state(p=300e3, T=290.0)
    True
    """

    __slots__ = ("_codes", "_refrigerant", "_slopes")

    _codes: npt.NDArray[np.uint8]
    _refrigerant: _core.Refrigerant
    _slopes: dict[str, npt.NDArray[np.float64]]

    def __init__(
        self,
        refrigerant: _core.Refrigerant,
        columns: dict[str, npt.NDArray[np.float64]],
        codes: npt.NDArray[np.uint8],
        status: npt.NDArray[np.uint8],
        container: Container,
    ) -> None:
        super().__init__(columns, status, container)
        codes.flags.writeable = False
        self._set(refrigerant=refrigerant, codes=codes, slopes={})

    @property
    def T(self) -> Column:
        """Temperature, K."""
        return self._column("T")

    @property
    def p(self) -> Column:
        """Pressure, Pa absolute."""
        return self._column("p")

    @property
    def rho(self) -> Column:
        """Density, kg/m3."""
        return self._column("rho")

    @property
    def h(self) -> Column:
        """Specific enthalpy, J/kg."""
        return self._column("h")

    @property
    def s(self) -> Column:
        """Specific entropy, J/(kg K)."""
        return self._column("s")

    @property
    def u(self) -> Column:
        """Specific internal energy, J/kg."""
        return self._column("u")

    @property
    def x(self) -> Column:
        """Quality: mass fraction of vapor, 0 to 1 on and inside the saturation line, NaN elsewhere."""
        return self._column("x")

    @property
    def cp(self) -> Column:
        """Isobaric heat capacity, J/(kg K); NaN inside the dome."""
        return self._column("cp")

    @property
    def cv(self) -> Column:
        """Isochoric heat capacity, J/(kg K); NaN inside the dome."""
        return self._column("cv")

    @property
    def speed_of_sound(self) -> Column:
        """Speed of sound, m/s; NaN inside the dome."""
        return self._column("speed_of_sound")

    @property
    def isentropic_exponent(self) -> Column:
        """Isentropic exponent -(v/p) (dp/dv)_s, dimensionless; NaN inside the dome."""
        return self._column("isentropic_exponent")

    @property
    def joule_thomson(self) -> Column:
        """Joule-Thomson coefficient (dT/dp)_h, K/Pa; NaN inside the dome."""
        return self._column("joule_thomson")

    @property
    def compressibility_factor(self) -> Column:
        """Compressibility factor p / (rho R T), dimensionless; NaN inside the dome."""
        return self._column("compressibility_factor")

    @property
    def isothermal_compressibility(self) -> Column:
        """Isothermal compressibility (1/rho) (drho/dp)_T, 1/Pa; NaN inside the dome."""
        return self._column("isothermal_compressibility")

    @property
    def thermal_expansion(self) -> Column:
        """Coefficient of thermal expansion -(1/rho) (drho/dT)_p, 1/K; NaN inside the dome."""
        return self._column("thermal_expansion")

    @property
    def viscosity(self) -> Column:
        """Viscosity, Pa s; NaN inside the dome and outside the range of the correlation."""
        return self._column("viscosity")

    @property
    def thermal_conductivity(self) -> Column:
        """Thermal conductivity, W/(m K); NaN inside the dome and outside the range of the correlation."""
        return self._column("thermal_conductivity")

    @property
    def prandtl_number(self) -> Column:
        """Prandtl number, dimensionless; NaN inside the dome and outside the range of the correlations."""
        return self._column("prandtl_number")

    def _column(self, name: str) -> Column:
        if name not in (*_SLOPES, *_TRANSPORT):
            return super()._column(name)
        if name not in self._slopes:
            inputs = (*(self._columns[key] for key in ("T", "p", "rho")), self._codes)
            if name in _TRANSPORT:
                found = {name: _core._transport(self._refrigerant, name, *inputs)}
            else:
                found = _core._derivatives(self._refrigerant, *inputs)
            for column in found.values():
                column.flags.writeable = False
            self._slopes.update(found)
        return self._container.wrap(self._slopes[name], name)

    @property
    def phase(self) -> Column:
        """Phase as a text, missing (NumPy: empty) where there is no result."""
        texts = _PHASES[np.minimum(self._codes, len(_PHASES) - 1)]
        if self._container.library != "numpy":
            texts = texts.astype(object)
            texts[self._codes == _NO_PHASE] = None
        return self._container.wrap(texts, "phase")

    @property
    def refrigerant(self) -> _core.Refrigerant:
        """The refrigerant."""
        return self._refrigerant

    @overload
    def __getitem__(self, row: slice) -> States: ...
    @overload
    def __getitem__(self, row: int | tuple[int, ...]) -> _core.State | None: ...
    def __getitem__(self, row: int | tuple[int, ...] | slice) -> States | _core.State | None:
        if isinstance(row, slice):
            return self._part(row)
        flat = self._flat(row)
        if self._status[flat] != OK:
            return None
        return _core.State.from_dict(self._row(flat))

    def _row(self, flat: int) -> dict[str, Any]:
        data: dict[str, Any] = {
            "format_version": 1,
            "type": "State",
            "refrigerant": self._refrigerant.to_dict(),
        }
        data.update({name: float(column[flat]) for name, column in self._columns.items()})
        if np.isnan(data["x"]):
            data["x"] = None
        data["phase"] = str(_PHASES[self._codes[flat]])
        return data

    def __iter__(self) -> Iterator[_core.State | None]:
        return (self[tuple(map(int, place))] for place in np.ndindex(*self._container.shape))

    def to_dict(self) -> dict[str, Any]:
        """Give refrigerant, properties, phase and status as a dictionary of flat lists, SI units."""
        data: dict[str, Any] = {
            "format_version": 1,
            "type": "States",
            "refrigerant": self._refrigerant.to_dict(),
        }
        data.update({name: column.tolist() for name, column in self._columns.items()})
        data["phase"] = _PHASES[np.minimum(self._codes, len(_PHASES) - 1)].tolist()
        data["status"] = self._status.tolist()
        return data

    def _recipe(self) -> tuple[Any, ...]:
        return self._refrigerant, self._columns, self._codes, self._status, self._container

    def _table(self) -> dict[str, npt.NDArray[Any]]:
        phase = _PHASES[np.minimum(self._codes, len(_PHASES) - 1)]
        return {"phase": phase, **self._columns, "status": self._status}

    def __repr__(self) -> str:
        return f"States({self._refrigerant.name}, {self._counts()})"


class Saturations(Columns):
    """Saturated liquid and vapor for a column of temperatures or pressures.

    Made by `Refrigerant.saturation`. SI units; containers and rows without result as in `States`.
    ``saturations[row]`` is the `Saturation` of a row, or None; a slice gives `Saturations`.

    Examples
    --------
    >>> import interstage
    >>> r = interstage.Refrigerant("R-134a")
    >>> s = r.saturation(T=[270.0, 280.0, 400.0])
    >>> s.status
    array([0, 0, 3], dtype=uint8)
    >>> bool((s.vapor.h - s.liquid.h == s.latent_heat)[:2].all())
    True
    """

    __slots__ = ("_refrigerant",)

    _refrigerant: _core.Refrigerant

    def __init__(
        self,
        refrigerant: _core.Refrigerant,
        columns: dict[str, npt.NDArray[np.float64]],
        status: npt.NDArray[np.uint8],
        container: Container,
    ) -> None:
        super().__init__(columns, status, container)
        self._set(refrigerant=refrigerant)

    @property
    def T(self) -> Column:
        """Saturation temperature, K: of a blend the dew temperature."""
        return self._column("T")

    @property
    def p(self) -> Column:
        """Saturation pressure, Pa absolute: of a blend the dew pressure."""
        return self._column("p")

    @property
    def temperature_glide(self) -> Column:
        """Dew less bubble temperature at the pressure of the vapor, K; zero for a pure fluid."""
        return self._column("temperature_glide")

    @property
    def latent_heat(self) -> Column:
        """Enthalpy of saturated vapor less that of saturated liquid, J/kg."""
        return self._column("latent_heat")

    def _phase(self, phase: str, quality: float, code: int) -> States:
        good = self._status == OK
        columns = {
            "T": self._columns["liquid_temperature" if phase == "liquid" else "T"],
            "p": self._columns["liquid_pressure" if phase == "liquid" else "p"],
            "rho": self._columns[f"{phase}_density"],
            "h": self._columns[f"{phase}_enthalpy"],
            "s": self._columns[f"{phase}_entropy"],
            "u": self._columns[f"{phase}_internal_energy"],
            "x": np.where(good, quality, np.nan),
        }
        codes = np.where(good, code, _NO_PHASE).astype(np.uint8)
        return States(self._refrigerant, columns, codes, self._status, self._container)

    @property
    def liquid(self) -> States:
        """Saturated liquid (the bubble point)."""
        return self._phase("liquid", 0.0, 0)

    @property
    def vapor(self) -> States:
        """Saturated vapor (the dew point)."""
        return self._phase("vapor", 1.0, 1)

    @property
    def refrigerant(self) -> _core.Refrigerant:
        """The refrigerant."""
        return self._refrigerant

    @overload
    def __getitem__(self, row: slice) -> Saturations: ...
    @overload
    def __getitem__(self, row: int | tuple[int, ...]) -> _core.Saturation | None: ...
    def __getitem__(self, row: int | tuple[int, ...] | slice) -> Saturations | _core.Saturation | None:
        if isinstance(row, slice):
            return self._part(row)
        liquid, vapor = self.liquid[row], self.vapor[row]
        if liquid is None or vapor is None:
            return None
        data = {
            "format_version": 1,
            "type": "Saturation",
            "liquid": liquid.to_dict(),
            "vapor": vapor.to_dict(),
            "temperature_glide": float(self._columns["temperature_glide"][self._flat(row)]),
        }
        return _core.Saturation.from_dict(data)

    def to_dict(self) -> dict[str, Any]:
        """Give refrigerant, properties of both phases and status as a dictionary of flat lists, SI units."""
        data: dict[str, Any] = {
            "format_version": 1,
            "type": "Saturations",
            "refrigerant": self._refrigerant.to_dict(),
        }
        data.update({name: column.tolist() for name, column in self._columns.items()})
        data["status"] = self._status.tolist()
        return data

    def _recipe(self) -> tuple[Any, ...]:
        return self._refrigerant, self._columns, self._status, self._container

    def _table(self) -> dict[str, npt.NDArray[Any]]:
        names = {"T": "T", "p": "p", "liquid h": "liquid_enthalpy", "vapor h": "vapor_enthalpy"}
        return {**{shown: self._columns[name] for shown, name in names.items()}, "status": self._status}

    def __repr__(self) -> str:
        return f"Saturations({self._refrigerant.name}, {self._counts()})"
