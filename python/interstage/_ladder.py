"""The layout of one circuit: high pressure on top, liquid comes down on the left, gas rises on the right."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from interstage import _core
from interstage._drawing import Drawing, Text, Vessel

if TYPE_CHECKING:
    from interstage._drawing import _Fluid, _Shape

#: Where liquid, lines that branch off it, and gas are; how far pipes at the side, and texts, are from gas.
LIQUID, BRANCH, GAS = 165.0, 250.0, 480.0
_SIDE, _TEXT = 150.0, 10.0
_LEFT, _RIGHT = LIQUID - 35.0, LIQUID + 130.0
END = GAS + 60.0

#: Heights: two lines of figures, a valve, a stage, a tank, the large vessels, the suction exchanger.
_LINES, _VALVE, _STAGE, _TANK, SHELL, _EXCHANGER = 40.0, 22.0, 52.0, 64.0, 50.0, 44.0
_GAP = 12.0

#: Half of the distance between the pipes into and out of a tank that all gas passes.
_APART = 24.0


class Ladder:
    """Draws a circuit.

    Parameters
    ----------
    circuit : Circuit
    figures : mapping of str to list of str
        Name of a point -> the lines written there; empty for a circuit that is not solved.
    words : mapping of str to str
        Name of a component -> a line below its name.
    bypass : bool
        Whether hot gas is led to the evaporator.
    height : float
        Least height of the whole.
    """

    def __init__(
        self,
        circuit: _core.Circuit,
        figures: Mapping[str, list[str]],
        words: Mapping[str, str],
        *,
        bypass: bool,
        height: float = 0.0,
    ) -> None:
        self._circuit = circuit
        self._figures = figures
        self._words = words
        self._bypass = bypass
        self._least = height
        self._lines = _LINES if figures else 24.0
        options = circuit.options
        cooling = options.get("motor_cooling")
        self._motor = cooling if options.get("motor_efficiency", 1.0) < 1.0 else None
        self._exchanger = "suction_exchanger_effectiveness" in options
        self._at_evaporator: _Shape = "expander" if "expander_efficiency" in options else "valve"
        self._written: set[str] = set()
        self._levels: dict[int, float] = {}
        # The liquid line: where it is, where its figures may stand, what flows.
        self._left, self._tapped, self._source = SHELL, SHELL, "condenser_outlet"
        # The gas: where it is to arrive.
        self._right = SHELL
        self.drawing = Drawing()

    # Pieces.

    def _point(self, name: str, x: float, foot: float, anchor: str = "start") -> None:
        """Figures of a point; the last of two lines stands on `foot`."""
        lines = self._figures.get(name)
        if lines and name not in self._written:
            self._written.add(name)
            self.drawing.write(name, lines, x, foot - 13.5 * (len(lines) - 1), anchor=anchor)

    def _named(
        self,
        component: str,
        title: str,
        shape: _Shape,
        box: tuple[float, float, float, float],
        level: float = 0.0,
    ) -> None:
        self.drawing.vessels.append(Vessel(component, title, shape, box, level))

    def _label(self, component: str, name: str, x: float, y: float) -> None:
        words = self._words.get(component)
        self.drawing.write(component, [name], x, y - (3.0 if words else -4.0), anchor="middle", bold=True)
        if words:
            self.drawing.write(component, [words], x, y + 12.0, anchor="middle")

    def _metering(self, component: str, title: str, shape: _Shape, x: float, y: float) -> None:
        """A valve or an expander on a pipe down, its name at its right."""
        self._named(component, title, shape, (x - 10.0, y, x + 10.0, y + _VALVE))
        word = "metering device" if shape == "valve" else "expander"
        self.drawing.write(component, [word], x + 16.0, y + _VALVE / 2.0 + 4.0)

    # The whole.

    def draw(self) -> Drawing:
        """Lay out from the condenser down."""
        drawing = self.drawing
        stages = len(self._circuit.stages)
        top = 0.0
        bottom = top + SHELL
        self._named("condenser", "condenser", "shell", (_LEFT, top, END, bottom), 0.2)
        self._label("condenser", "condenser", (_LEFT + END) / 2.0, top + SHELL / 2.0)
        for stage in range(stages, 1, -1):
            self._between(stage)
        floor = self._bottom()
        self._named("evaporator", "evaporator", "shell", (_LEFT, floor, END, floor + SHELL), 0.2)
        self._label("evaporator", "evaporator", (_LEFT + END) / 2.0, floor + SHELL / 2.0)
        text = max(
            (Text(0, 0, line).width() for lines in self._figures.values() for line in lines), default=0.0
        )
        side = GAS + max(_SIDE, text + 22.0)
        width = END
        if self._bypass:
            self._hot_gas(bottom, floor, side)
            width = side
        if self._motor is not None:
            width = self._cooled_motor(top, floor, side, max(185.0, text + 22.0) if self._bypass else 40.0)
        if self._figures:
            drawing.width = max(width, GAS) + text + 20.0
        else:
            drawing.width = width + (110.0 if width == side else 50.0)
        drawing.height = floor + SHELL
        return drawing

    def _fluid(self, name: str, usual: _Fluid) -> _Fluid:
        """What flows at a point: as solved, else as it is by rule."""
        lines = self._figures.get(name)
        if not lines:
            return usual
        return "wet" if ", x " in lines[-1] else usual if usual != "wet" else "liquid"

    def _between(self, stage: int) -> None:
        """One interstage and the stage above it."""
        of = self._circuit.interstages[stage - 2]
        kind = type(of).__name__
        coil = kind == "ClosedEconomizer" or getattr(of, "coil_approach", None) is not None
        after = getattr(of, "injection_taken", "") == "after exchanger"
        # From the liquid that comes to the middle of the level.
        need = {"Direct": 0.0, "LiquidInjection": self._lines + 2.0 * _GAP}.get(
            kind,
            self._lines + _VALVE + self._lines + _TANK / 2.0 + (2.0 * _GAP if coil and not after else 0.0),
        )
        if after:
            need = self._lines + _TANK / 2.0
        through = kind == "IntercooledTank"
        above = 2.0 * self._lines + _STAGE + _GAP + (_APART if through else 0.0)
        level = max(self._left + need, self._right + above)
        if kind in ("Direct", "LiquidInjection") and self._motor == stage and self._bypass:
            level += _GAP
        self._levels[stage] = level
        outlet = level - _APART if through else level
        self._stage(stage, self._right, outlet)
        inlet = level + _APART if through else level
        if not through and (kind != "Direct" or self._motor == stage):
            self.drawing.joints.append((f"stage_{stage}_mixing", (GAS, level)))
        if kind == "LiquidInjection":
            self._injection(stage, level)
        elif coil:
            self._coil(stage, level, of, after=after)
        elif kind != "Direct":
            self._tank(stage, level, of)
        if through:
            self._through(stage, level)
        elif kind in ("FlashTank", "ClosedEconomizer"):
            point = f"stage_{stage}_{'tank_vapor' if kind == 'FlashTank' else 'injection_outlet'}"
            self.drawing.pipe(self._fluid(point, "vapor"), (_RIGHT, level), (GAS, level))
            self._point(point, _RIGHT + _TEXT, level - 9.0)
        self._right = inlet

    def _stage(self, stage: int, above: float, below: float) -> None:
        """A stage on the pipe between two heights, with its outlet and its inlet."""
        drawing = self.drawing
        taken = _GAP if self._bypass and stage == len(self._circuit.stages) else 0.0
        middle = (above + taken + below) / 2.0
        if stage == 1 and self._figures:
            # Two points below the first stage.
            middle -= self._lines / 2.0
        top, bottom = middle - _STAGE / 2.0, middle + _STAGE / 2.0
        of = self._circuit.stages[stage - 1]
        title = f"stage {stage}, {of.kind} efficiency {of.efficiency:g}"
        self._named(f"stage_{stage}", title, "stage", (GAS - 48.0, top, GAS + 48.0, bottom))
        self._label(f"stage_{stage}", f"stage {stage}", GAS, middle)
        through = isinstance(self._gas_goes(stage), _core.IntercooledTank)
        fluid = self._fluid(f"stage_{stage}_outlet", "vapor")
        if not through:
            drawing.pipe(fluid, (GAS, top), (GAS, above))
        else:
            drawing.pipe(fluid, (GAS, top), (GAS, above), (_RIGHT - 1.5, above))
        drawing.pipe(self._fluid(f"stage_{stage}_inlet", "vapor"), (GAS, below), (GAS, bottom))
        self._point(f"stage_{stage}_outlet", GAS + _TEXT, top - 8.0)
        self._point(f"stage_{stage}_inlet", GAS + _TEXT, bottom + 26.0)

    def _gas_goes(self, stage: int) -> Any:
        """What stands above a stage."""
        between = self._circuit.interstages
        return between[stage - 1] if stage <= len(between) else None

    def _down(self, to: float, *, name: str | None = None) -> None:
        """The liquid line from where it is to a height, with the figures of what comes."""
        self.drawing.pipe(self._fluid(self._source, "liquid"), (LIQUID, self._left), (LIQUID, to))
        if name is not None:
            self._point(name, LIQUID - _TEXT, self._tapped + 26.0, "end")

    def _tank(self, stage: int, level: float, of: Any) -> None:
        """A tank that all liquid passes."""
        drawing = self.drawing
        top, bottom = level - _TANK / 2.0, level + _TANK / 2.0
        shape: _Shape = "expander" if of.expander_efficiency is not None else "valve"
        device = top - self._lines - _VALVE
        self._down(device, name=self._source)
        self._metering(
            f"stage_{stage}_metering", f"metering device of the tank of stage {stage}", shape, LIQUID, device
        )
        inlet = f"stage_{stage}_tank_inlet"
        drawing.pipe(self._fluid(inlet, "wet"), (LIQUID, device + _VALVE), (LIQUID, top))
        self._point(inlet, LIQUID - _TEXT, top - 10.0, "end")
        name = "flash tank" if isinstance(of, _core.FlashTank) else "intercooled tank"
        self._vessel(stage, name, "tank", (_LEFT, top, _RIGHT, bottom), (_LEFT + _RIGHT) / 2.0, level)
        self._left = self._tapped = bottom
        self._source = f"stage_{stage}_tank_liquid"

    def _vessel(
        self, stage: int, name: str, of: str, box: tuple[float, float, float, float], x: float, level: float
    ) -> None:
        component = f"stage_{stage}_{of}"
        title = f"{name.replace('|', ' ')} before stage {stage}"
        self._named(
            component, title, "shell" if of == "tank" else "exchanger", box, 0.22 if of == "tank" else 0.0
        )
        *lines, last = name.split("|")
        foot = level - (3.0 if not lines else 10.5)
        self.drawing.write(component, [*lines, last], x, foot, anchor="middle", bold=True)
        foot += 14.0 * len([*lines, last])
        self.drawing.write(component, [f"to stage {stage}"], x, foot, anchor="middle")

    def _coil(self, stage: int, level: float, of: Any, *, after: bool) -> None:
        """A closed economizer, or a tank with a coil: a part of the liquid cools the rest."""
        drawing = self.drawing
        top, bottom = level - _TANK / 2.0, level + _TANK / 2.0
        closed = isinstance(of, _core.ClosedEconomizer)
        shape: _Shape = "expander" if of.expander_efficiency is not None else "valve"
        metering = f"stage_{stage}_metering"
        title = f"metering device of the {'closed economizer' if closed else 'tank'} of stage {stage}"
        inlet = f"stage_{stage}_{'injection' if closed else 'tank'}_inlet"
        wet = self._fluid(inlet, "wet")
        before = self._fluid(self._source, "liquid")
        if not after:
            device = top - self._lines - _VALVE
            branch = device - _GAP
            self._down(branch, name=self._source)
            drawing.joints.append((f"stage_{stage}_branch", (LIQUID, branch)))
            drawing.pipe(before, (LIQUID, branch), (LIQUID, top))
            drawing.pipe(before, (LIQUID, branch), (BRANCH, branch), (BRANCH, device))
            self._metering(metering, title, shape, BRANCH, device)
            drawing.pipe(wet, (BRANCH, device + _VALVE), (BRANCH, top))
            self._point(inlet, BRANCH + _TEXT, top - 10.0)
        else:
            self._down(top, name=self._source)
        name = "closed|economizer" if closed else "intercooled|tank, coil"
        box = (_LEFT, top, _RIGHT, bottom)
        self._vessel(
            stage, name, "exchanger" if closed else "tank", box, (LIQUID + 20.0 + _RIGHT) / 2.0, level
        )
        self._zigzag(before, LIQUID, top, bottom)
        self._left = self._tapped = bottom
        self._source = f"stage_{stage}_cooled_liquid"
        if after:
            # The part is taken from the cooled liquid, and rises through its metering device.
            device = bottom + self._lines
            branch = device + _VALVE + _GAP
            liquid = self._fluid(self._source, "liquid")
            drawing.pipe(liquid, (LIQUID, bottom), (LIQUID, branch))
            drawing.joints.append((f"stage_{stage}_branch", (LIQUID, branch)))
            drawing.pipe(liquid, (LIQUID, branch), (BRANCH, branch), (BRANCH, device + _VALVE))
            self._metering(
                metering, title, "valve" if shape == "valve" else "rising expander", BRANCH, device
            )
            drawing.pipe(wet, (BRANCH, device), (BRANCH, bottom))
            self._point(inlet, BRANCH + _TEXT, bottom + 26.0)
            self._left = branch
            self._point(self._source, LIQUID - _TEXT, bottom + 26.0, "end")
            self._tapped = branch

    def _zigzag(self, fluid: _Fluid, x: float, top: float, bottom: float) -> None:
        step = (bottom - top) / 6.0
        turns = [
            (x + side, top + step * place)
            for place, side in ((1, 0), (1.5, 14), (2.5, -14), (3.5, 14), (4.5, -14), (5, 0))
        ]
        self.drawing.pipe(fluid, (x, top), *turns, (x, bottom), inside=True)

    def _injection(self, stage: int, level: float) -> None:
        """Liquid led to the gas before a stage."""
        drawing = self.drawing
        self._down(level, name=self._source)
        drawing.joints.append((f"stage_{stage}_branch", (LIQUID, level)))
        before = self._fluid(self._source, "liquid")
        drawing.pipe(before, (LIQUID, level), (BRANCH, level))
        title = f"metering device of the liquid injection before stage {stage}"
        box = (BRANCH, level - 10.0, BRANCH + _VALVE, level + 10.0)
        self._named(f"stage_{stage}_metering", title, "level valve", box)
        self.drawing.write(
            f"stage_{stage}_metering",
            ["liquid injection"],
            BRANCH + _VALVE / 2.0,
            level + 22.0,
            anchor="middle",
        )
        point = f"stage_{stage}_injection_inlet"
        drawing.pipe(self._fluid(point, "wet"), (BRANCH + _VALVE, level), (GAS, level))
        self._point(point, BRANCH + _VALVE + _TEXT, level - 9.0)
        self._left = self._tapped = level

    def _through(self, stage: int, level: float) -> None:
        """All gas passes the tank: out of it above, into it below."""
        point = f"stage_{stage}_tank_vapor"
        self.drawing.pipe(self._fluid(point, "vapor"), (_RIGHT - 1.5, level - _APART), (GAS, level - _APART))
        # Close below its own line, well above that of the gas that comes.
        self._point(point, _RIGHT + _TEXT, level - _APART + 27.5)

    def _bottom(self) -> float:
        """What stands before the evaporator, and the first stage; gives the top of the evaporator."""
        drawing = self.drawing
        lines, source = self._lines, self._source
        taken = _GAP if self._bypass and len(self._circuit.stages) == 1 else 0.0
        right = self._right + taken + lines + _STAGE + 2.0 * lines
        left = self._left + lines
        if not self._exchanger:
            floor = max(left + _VALVE + lines, right, self._least)
            self._stage(1, self._right, floor)
            self._point("evaporator_outlet", GAS + _TEXT, floor - 10.0)
            self._last_metering(floor - lines - _VALVE, floor, named=source)
            return floor
        top = max(left, right)
        floor = max(top + _EXCHANGER + lines + _VALVE + lines, self._least)
        top = max(top, floor - _EXCHANGER - 2.0 * lines - _VALVE)
        bottom = top + _EXCHANGER
        self._stage(1, self._right, top)
        self._point("suction_exchanger_vapor", GAS + _TEXT, top - 10.0)
        self._down(top, name=source)
        box = (_LEFT, top, END, bottom)
        self._named("suction_exchanger", "liquid-suction exchanger", "exchanger", box)
        middle = (_LEFT + END) / 2.0
        self.drawing.write(
            "suction_exchanger",
            ["liquid-suction exchanger"],
            middle,
            (top + bottom) / 2.0 + 4.0,
            anchor="middle",
            bold=True,
        )
        self._zigzag(self._fluid(source, "liquid"), LIQUID, top, bottom)
        self._zigzag(self._fluid("evaporator_outlet", "vapor"), GAS, bottom, top)
        self._left = self._tapped = bottom
        self._source = "suction_exchanger_liquid"
        drawing.pipe(self._fluid("evaporator_outlet", "vapor"), (GAS, floor), (GAS, bottom))
        self._point("evaporator_outlet", GAS + _TEXT, floor - 10.0)
        self._last_metering(floor - lines - _VALVE, floor, named="suction_exchanger_liquid")
        return floor

    def _last_metering(self, device: float, floor: float, *, named: str) -> None:
        self._down(device, name=named)
        title = "metering device of the evaporator"
        self._metering("evaporator_metering", title, self._at_evaporator, LIQUID, device)
        self.drawing.pipe(self._fluid("evaporator_inlet", "wet"), (LIQUID, device + _VALVE), (LIQUID, floor))
        self._point("evaporator_inlet", LIQUID - _TEXT, floor - 10.0, "end")

    def _hot_gas(self, condenser: float, floor: float, side: float) -> None:
        """Hot gas from the discharge to the evaporator."""
        drawing = self.drawing
        taken = condenser + _GAP
        drawing.joints.append(("hot_gas_branch", (GAS, taken)))
        fluid = self._fluid("hot_gas_bypass", "vapor")
        enters = floor + 0.3 * SHELL
        valve = floor - self._lines - _VALVE
        drawing.pipe(fluid, (GAS, taken), (side, taken), (side, valve))
        self._named(
            "hot_gas_valve",
            "hot-gas bypass valve",
            "valve",
            (side - 10.0, valve, side + 10.0, valve + _VALVE),
        )
        drawing.write("hot_gas_valve", ["hot-gas bypass"], side + 16.0, valve + _VALVE / 2.0 + 4.0)
        drawing.pipe(fluid, (side, valve + _VALVE), (side, enters), (END, enters))
        self._point("hot_gas_bypass", side + _TEXT, taken + 26.0)

    def _cooled_motor(self, top: float, floor: float, side: float, beyond: float) -> float:
        """The motor cooled by refrigerant; gives where its pipes stand."""
        drawing = self.drawing
        x = side + beyond
        # Below the surface of the liquid, where the end is round.
        leaves = top + 0.88 * SHELL
        to_evaporator = self._motor == "evaporator"
        back = floor + 0.7 * SHELL if to_evaporator else self._levels[int(str(self._motor))]
        if not to_evaporator and isinstance(
            self._circuit.interstages[int(str(self._motor)) - 2], _core.IntercooledTank
        ):
            # It joins the gas on its way into the tank.
            back += _APART
            drawing.joints.append(("motor_branch", (GAS, back)))
        middle = (leaves + floor) / 2.0 if to_evaporator else back - self._lines - _GAP - 17.0
        box = (x - 36.0, middle - 17.0, x + 36.0, middle + 17.0)
        drawing.pipe(self._fluid("motor_liquid", "liquid"), (END - 1.5, leaves), (x, leaves), (x, box[1]))
        self._named("motor", "motor, cooled by refrigerant", "motor", box)
        drawing.write("motor", ["motor"], x, middle + 4.0, anchor="middle", bold=True)
        over = side if self._bypass and not to_evaporator else None
        end = (END, back) if to_evaporator else (GAS, back)
        drawing.pipe(self._fluid("motor_vapor", "vapor"), (x, box[3]), (x, back), end, over=over)
        self._point("motor_liquid", x + _TEXT, box[1] - 10.0)
        self._point("motor_vapor", x + _TEXT, box[3] + 26.0)
        return x
