"""Threads: how many, forks, interrupts, and many callers at once."""

import os
import signal
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest

import interstage

ROWS = 20_000


@pytest.fixture(autouse=True)
def default_threads():
    yield
    interstage.set_threads(None)


def columns():
    rng = np.random.default_rng(3)
    return {"p": rng.uniform(1e5, 1e6, ROWS), "h": rng.uniform(1.8e5, 4.6e5, ROWS)}


def test_the_number_of_threads():
    assert interstage.get_threads() >= 1
    interstage.set_threads(3)
    assert interstage.get_threads() == 3
    interstage.set_threads(None)
    assert interstage.get_threads() >= 1
    with pytest.raises(TypeError):
        interstage.set_threads(2.0)


def run(code, **environment):
    """Run code in an interpreter of its own."""
    return subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def test_the_environment_variable():
    code = "import interstage; print(interstage.get_threads())"
    assert run(code, INTERSTAGE_THREADS="5").stdout.strip() == "5"
    assert run(code, INTERSTAGE_THREADS=" 2 ").stdout.strip() == "2"
    assert int(run(code, INTERSTAGE_THREADS="").stdout) >= 1
    code = "import interstage; interstage.set_threads(3); print(interstage.get_threads())"
    assert run(code, INTERSTAGE_THREADS="5").stdout.strip() == "3"
    for wrong in ("0", "many", "-1", "1.5"):
        failed = run("import interstage; interstage.get_threads()", INTERSTAGE_THREADS=wrong)
        assert "interstage.errors.UnknownOption: INTERSTAGE_THREADS must be" in failed.stderr
    # A wrong variable does not keep small calls from working.
    code = "import interstage; print(interstage.Refrigerant('R-134a').state(p=[1e5], T=300.0).status[0])"
    assert run(code, INTERSTAGE_THREADS="many").stdout.strip() == "0"


def test_many_callers_at_once(r134a):
    given = columns()
    expected = r134a.state(**given, threads=1)
    with ThreadPoolExecutor(8) as executor:
        futures = [executor.submit(r134a.state, **given, threads=1 + k % 3) for k in range(24)]
        assert all(future.result() == expected for future in futures)


def test_the_interpreter_is_free_meanwhile(r134a):
    """Another thread gets on with its work during a long call."""
    p = np.full(1_000_000, 3e5)
    counted, done = [0], threading.Event()

    def count():
        while not done.is_set():
            counted[0] += 1

    counter = threading.Thread(target=count)
    counter.start()
    before = counted[0]
    r134a.state(p=p, h=420e3, threads=1)
    during = counted[0] - before
    done.set()
    counter.join()
    assert during > 1000


FORK = """
import os, sys
import numpy as np
import interstage

r = interstage.Refrigerant("R-134a")
p = np.linspace(1e5, 1e6, 5000)
if {warm}:
    expected = r.state(p=p, h=250e3, threads={threads}).T
child = os.fork()
if child == 0:
    states = r.state(p=p, h=250e3, threads={threads})
    again = interstage.Refrigerant("R-123").saturation(T=np.linspace(270.0, 300.0, 5000))
    os._exit(0 if (states.status == 0).all() and (again.status == 0).all() else 1)
_, status = os.waitpid(child, 0)
same = r.state(p=p, h=250e3, threads={threads})
sys.exit(os.waitstatus_to_exitcode(status) or int(not (same.status == 0).all()))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the system cannot fork")
@pytest.mark.parametrize("threads", [None, 1, 2, 3])
@pytest.mark.parametrize("warm", [True, False])
def test_a_forked_child_calculates(warm, threads):
    # Newer interpreters warn of a fork with threads about: it is what is tested here.
    code = "import warnings; warnings.simplefilter('ignore')\n" + FORK.format(warm=warm, threads=threads)
    done = run(code)
    assert done.returncode == 0, done.stderr


TREND = """
import os, sys, warnings
warnings.simplefilter("ignore")
import numpy as np
import interstage

stages = [interstage.Stage(polytropic_efficiency=0.8)] * 2
circuit = interstage.Circuit(
    interstage.Refrigerant("R-134a"), stages=stages, interstages=[interstage.FlashTank()]
)
trend = interstage.Trend(
    circuit,
    readings={{
        "evaporator_saturation_temperature": ("cold", "K"),
        "condenser_saturation_temperature": ("hot", "K"),
        "chilled_water_entering": ("in", "K"),
        "chilled_water_leaving": ("out", "K"),
        "chilled_water_flow": ("flow", "m3/s"),
    }},
)
table = dict(cold=278.0, hot=np.linspace(300.0, 312.0, 1000), out=280.0, flow=0.05)
table["in"] = 285.0
table = {{name: np.broadcast_to(column, 1000) for name, column in table.items()}}
if {by_default}:
    interstage.set_threads({threads})
options = dict() if {by_default} else dict(threads={threads})
"""

FORKED_TREND = """
expected = trend.analyse(table, **options)["economizer_potential"]
child = os.fork()
if child == 0:
    result = trend.analyse(table, **options)["economizer_potential"]
    os._exit(0 if np.array_equal(result, expected) and np.isfinite(result).all() else 1)
_, status = os.waitpid(child, 0)
sys.exit(os.waitstatus_to_exitcode(status))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the system cannot fork")
@pytest.mark.parametrize("by_default", [False, True])
@pytest.mark.parametrize("threads", [None, 1, 2])
def test_a_forked_child_analyses_trends(threads, by_default):
    done = run((TREND + FORKED_TREND).format(threads=threads, by_default=by_default))
    assert done.returncode == 0, done.stderr


@pytest.mark.skipif(not os.path.isdir("/proc/self/task"), reason="the system does not list its threads")
@pytest.mark.parametrize(("threads", "by_default"), [(1, False), (1, True), (2, True)])
def test_one_thread_starts_no_other(threads, by_default):
    code = """
before = len(os.listdir("/proc/self/task"))
trend.analyse(table, **options)
print(len(os.listdir("/proc/self/task")) > before)
"""
    done = run((TREND + code).format(threads=threads, by_default=by_default))
    assert done.stdout.strip() == str(threads > 1), done.stderr


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the system cannot fork")
def test_a_fork_from_another_thread_while_the_pool_works():
    code = """
import os, threading, warnings
warnings.simplefilter("ignore")
import numpy as np
import interstage

r = interstage.Refrigerant("R-134a")
interstage.set_threads(2)
p = np.full(400_000, 3e5)
worker = threading.Thread(target=lambda: r.state(p=p, h=420e3))
worker.start()
for _ in range(3):
    child = os.fork()
    if child == 0:
        os._exit(int(not (r.state(p=p[:5000], h=420e3).status == 0).all()))
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
worker.join()
"""
    done = run(code)
    assert done.returncode == 0, done.stderr


LONG_CALLS = {
    "states": """
r = interstage.Refrigerant("R-718")
p = np.full(50_000_000, 3e5)
r.prepare()
call = lambda threads: r.state(p=p, h=3e6, threads=threads)
""",
    "trend": """
r = interstage.Refrigerant("R-134a")
stage = interstage.Stage(polytropic_efficiency=0.8)
circuit = interstage.Circuit(r, stages=[stage] * 2, interstages=[interstage.FlashTank()])
declared = {"evaporator_pressure": ("e", "kPa"), "condenser_pressure": ("c", "kPa")}
trend = interstage.Trend(circuit, declared)
table = {"e": np.full(2_000_000, 350.0), "c": np.full(2_000_000, 950.0)}
trend.analyse({"e": [350.0], "c": [950.0]})
call = lambda threads: trend.analyse(table, threads=threads)
""",
}


@pytest.mark.skipif(sys.platform == "win32", reason="signals are sent otherwise")
@pytest.mark.parametrize("threads", [1, 2])
@pytest.mark.parametrize("long_call", LONG_CALLS)
def test_an_interrupt_ends_a_long_call(threads, long_call):
    code = f"""
import numpy as np
import interstage
{LONG_CALLS[long_call]}
print("started", flush=True)
try:
    call({threads})
except KeyboardInterrupt:
    print("interrupted", flush=True)
"""
    process = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True)
    try:
        assert process.stdout.readline() == "started\n"
        time.sleep(0.5)
        process.send_signal(signal.SIGINT)
        output, _ = process.communicate(timeout=60)
        assert output == "interrupted\n"
    finally:
        process.kill()
        process.wait()
