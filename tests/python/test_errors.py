"""Every kind of error: how it comes about, its class, fields and message; completeness; pickling."""

import inspect
import pickle
import sys

import pytest

import interstage
from interstage import errors


def solve(**conditions):
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
    )
    return circuit.solve(**{"capacity": 1e6, **conditions})


def r134a(**options):
    return interstage.Refrigerant("R-134a", **options)


#: kind -> what raises it, the built-in class it also is, its fields, a part of its message.
TABLE = {
    "out_of_range": (
        lambda: r134a().saturation(T=500.0),
        ValueError,
        {"argument": "T", "value": 500.0, "unit": "K"},
        "T 500 K is outside 169.85 to 374.",
    ),
    "not_finite": (
        lambda: r134a().state(p=float("inf"), T=300.0),
        ValueError,
        {"argument": "p", "value": float("inf"), "unit": "Pa"},
        "p must be a finite number in Pa, got inf",
    ),
    "inconsistent": (
        lambda: solve(evaporating_temperature=300.0, condensing_temperature=290.0),
        ValueError,
        {"arguments": "evaporating_temperature and condensing_temperature"},
        "condensing at 290 K must be above evaporating at 300 K",
    ),
    "unknown_refrigerant": (
        lambda: interstage.Refrigerant("R-1234"),
        ValueError,
        {"name": "R-1234"},
        'unknown refrigerant "R-1234"; did you mean',
    ),
    "reference_unavailable": (
        lambda: interstage.Refrigerant("R-718", reference="liquid at -40 degC"),
        ValueError,
        {"refrigerant": "R-718", "reference": "liquid at -40 degC", "reason": "it freezes at 273.16 K"},
        "R-718 cannot have the reference liquid at -40 degC: it freezes at 273.16 K",
    ),
    "not_published": (
        lambda: interstage.Refrigerant("R-13I1").surface_tension(T=300.0),
        ValueError,
        {"property": "surface tension", "refrigerant": "R-13I1"},
        "this library has no correlation for the surface tension of R-13I1; it has one for R-11, R-12, R-22,",
    ),
    "pair_not_published": (
        lambda: interstage.Refrigerant.blend({"R-123": 0.5, "R-1234yf": 0.5}, basis="mass"),
        ValueError,
        {"first": "R-123", "second": "R-1234yf"},
        "this library has no published parameters for mixtures of R-123 and R-1234yf",
    ),
    "wrong_length": (
        lambda: interstage.Circuit(r134a(), stages=[]),
        ValueError,
        {"argument": "stages", "found": 0, "expected": 1},
        "stages has 0 entries where 1 are needed",
    ),
    "wrong_argument": (
        lambda: r134a().state(p="300", T=300.0),
        TypeError,
        {"argument": "p"},
        "p must be a number or a column of numbers, got str",
    ),
    "unknown_option": (
        lambda: r134a(reference="zero"),
        ValueError,
        {"argument": "reference", "value": "zero"},
        'reference must be "liquid at 0 degC" or "liquid at -40 degC" or',
    ),
    "unknown_point": (
        lambda: solve(evaporating_temperature=280.0, condensing_temperature=310.0).points["stage_2_inlet"],
        KeyError,
        {"name": "stage_2_inlet"},
        'the cycle has no point "stage_2_inlet"; its points are evaporator_outlet, stage_1_inlet',
    ),
}

#: Errors that no input of the package is known to raise: made by hand, as the core would make them.
BY_HAND = {
    "not_converged": (
        errors.NotConverged(
            "saturation did not converge",
            solver="saturation",
            iterations=50,
            residual=1e-3,
            lower=1.0,
            upper=2.0,
        ),
        ArithmeticError,
    ),
    "undefined": (errors.Undefined("cp has no value", property="cp", state="a two-phase state"), ValueError),
    "error": (errors.InterstageError("something else"), Exception),
}

CLASSES = {
    value.kind: value
    for value in vars(errors).values()
    if inspect.isclass(value) and issubclass(value, errors.InterstageError)
}


@pytest.mark.parametrize("kind", TABLE)
def test_class_fields_and_message(kind):
    make, builtin, fields, message = TABLE[kind]
    with pytest.raises(errors.InterstageError) as raised:
        make()
    error = raised.value
    assert type(error) is CLASSES[kind]
    assert isinstance(error, builtin)
    assert error.kind == kind
    assert {name: getattr(error, name) for name in fields} == fields
    assert fields.keys() <= set(error.fields)
    assert message in str(error)
    assert error.row is None


def test_the_table_is_complete():
    assert TABLE.keys() | BY_HAND.keys() == CLASSES.keys()
    assert not TABLE.keys() & BY_HAND.keys()
    assert {cls.__name__ for cls in CLASSES.values()} == set(errors.__all__)


def test_all_are_exported():
    for name in errors.__all__:
        assert getattr(interstage, name) is getattr(errors, name)
        assert name in interstage.__all__


@pytest.mark.parametrize("kind", CLASSES)
def test_every_field_survives_pickling(kind):
    if kind in BY_HAND:
        error, builtin = BY_HAND[kind]
        assert isinstance(error, builtin)
    else:
        with pytest.raises(errors.InterstageError) as raised:
            TABLE[kind][0]()
        error = raised.value
    for original in (error, error.at_row(7), error.at_row((1, 2))):
        again = pickle.loads(pickle.dumps(original))
        assert type(again) is type(original)
        assert str(again) == str(original)
        assert again.row == original.row
        for name in original.fields:
            assert getattr(again, name) == getattr(original, name)


def test_a_row_is_named_in_front():
    error = BY_HAND["undefined"][0].at_row(12)
    assert str(error) == "row 12: cp has no value"
    assert error.row == 12
    assert error.property == "cp"


def test_fields_are_checked():
    with pytest.raises(TypeError, match="has the fields"):
        errors.Undefined("x", property="cp")
    with pytest.raises(TypeError, match="has the fields"):
        errors.Undefined("x", property="cp", state="y", other=1)


def test_messages_are_those_of_the_core():
    # The text that the core documents for a refrigerant it does not know.
    with pytest.raises(interstage.UnknownRefrigerant) as raised:
        interstage.Refrigerant("ammonia and water")
    assert raised.value.nearest == ()
    message = 'unknown refrigerant "ammonia and water"; interstage.names() lists the names there are'
    assert str(raised.value) == message
    with pytest.raises(interstage.UnknownRefrigerant) as raised:
        interstage.Refrigerant("R-134b")
    assert raised.value.nearest[0] == "R-134a"


def test_designations_may_be_written_carelessly():
    for text, name in [
        ("134a", "R-134a"),
        ("r 1336 mzz z", "R-1336mzz(Z)"),
        ("R1234yf", "R-1234yf"),
        ("ammonia", "R-717"),
        ("water", "R-718"),
    ]:
        assert interstage.Refrigerant(text).name == name
    for text, nearest in [("R134", ("R-134a",)), ("foo", ()), ("", ()), ("z" * 1000, ())]:
        with pytest.raises(interstage.UnknownRefrigerant) as raised:
            interstage.Refrigerant(text)
        assert raised.value.nearest == nearest
        assert raised.value.name == text
        assert len(str(raised.value)) < 120


def test_traces_do_not_hide_the_error():
    with pytest.raises(interstage.OutOfRange) as raised:
        r134a().state(p=[1e5, -1.0], T=300.0, errors="raise")
    assert raised.value.__suppress_context__


def test_a_call_that_needs_pandas_says_how_to_get_it(monkeypatch) -> None:
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(ImportError, match=r"pip install 'interstage\[pandas\]'"):
        interstage.grid(
            refrigerant="R-134a",
            arrangement="1 stage",
            isentropic_efficiency=0.8,
            evaporating_temperature=278.15,
            condensing_temperature=310.15,
            capacity=1e6,
        )
