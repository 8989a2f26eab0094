"""What several test files use."""

import pytest

import interstage


@pytest.fixture(scope="session")
def r134a():
    return interstage.Refrigerant("R-134a")


@pytest.fixture(scope="session")
def circuit():
    """Two polytropic stages with a flash tank between them."""
    return interstage.Circuit(
        interstage.Refrigerant("R-1233zd(E)"),
        stages=[interstage.Stage(polytropic_efficiency=0.8)] * 2,
        interstages=[interstage.FlashTank()],
    )


@pytest.fixture(scope="session")
def cycle(circuit):
    return circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=3.5e6)
