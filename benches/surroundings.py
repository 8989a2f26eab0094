"""The machine that the benches run on, and what the first use of a fluid costs on it."""

from __future__ import annotations

import datetime
import os
import platform
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

import numpy as np

import interstage

FIRST_USE = """
import sys, time
import interstage

def memory():
    with open("/proc/self/status") as file:
        return next(int(line.split()[1]) for line in file if line.startswith("VmRSS")) / 1024

r = interstage.Refrigerant("R-32")
known = memory()
start = time.process_time()
r = interstage.Refrigerant(sys.argv[1])
vapor = r.saturation(T=290.0).vapor
p = 0.9 * vapor.p
state = r.state(p=p, T=300.0)
r.state(p=p, h=state.h), r.state(p=p, s=state.s), r.state(h=state.h, s=state.s)
r.state(T=300.0, rho=state.rho)
r.saturation(p=p)
print(time.process_time() - start, memory() - known)
"""


def first_use(names: Iterable[str]) -> None:
    """Print what the first use of a fluid costs in a fresh process: saturation, every pair of the goals."""
    print("\nG8, first use of a fluid in a fresh process (goal: 0.3 s, 8 MB)\n")
    print("| fluid | processor time | memory |\n|---|---:|---:|")
    for name in names:
        command = [sys.executable, "-I", "-c", FIRST_USE, name]
        runs = [subprocess.run(command, check=True, capture_output=True, text=True).stdout for _ in range(5)]
        seconds, megabytes = np.median([[float(word) for word in run.split()] for run in runs], axis=0)
        print(f"| {name} | {1e3 * seconds:.0f} ms | {megabytes:.1f} MB |", flush=True)


def machine(version: str) -> str:
    """Describe the machine and what runs on it, with the version of the reference."""
    cpu = Path("/proc/cpuinfo")
    lines = cpu.read_text().splitlines() if cpu.exists() else []
    facts = dict(line.split(":", 1) for line in lines if ":" in line)
    facts = {key.strip(): value.strip() for key, value in facts.items()}
    flags = [flag for flag in ("avx2", "fma", "avx512f") if flag in facts.get("flags", "").split()]
    model = " ".join(
        facts.get(key, "") for key in ("vendor_id", "cpu family", "model", "stepping", "model name")
    )
    return (
        f"{datetime.date.today()}, {platform.machine()}, {model} ({', '.join(flags)}), "
        f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}; interstage {interstage.__version__}, "
        f"CoolProp {version}, "
        f"Python {platform.python_version()}, NumPy {np.__version__}"
    )
