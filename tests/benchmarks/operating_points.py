"""How many operating points a second, against a circuit simulator that solves the same circuit in one process.

Run this file to see the figures: ``python tests/benchmarks/operating_points.py``. Processor time, in one run.
"""

from __future__ import annotations

import itertools
import resource
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests" / "circuit"))

from spice_netlist import NGSPICE, Netlist  # noqa: E402

import wiregen  # noqa: E402
from wiregen.circuit import Points, State, solve  # noqa: E402
from wiregen.terms import Pin  # noqa: E402

BRINE = ROOT / "examples" / "brine_pump.yaml"
_OURS, _THEIRS = 4096, 320


def states(count: int) -> list[State]:
    """Distinct states: every combination of contacts, with the transmitter at ever other currents."""
    moved = [frozenset(c) for n in range(4) for c in itertools.combinations(("-SJ1", "-SJ2", "-BT1"), n)]
    turned = ((), (("-SJ3", "AUTO"),))
    kinds = list(itertools.product(moved, turned))
    amps = [0.004 + 0.016 * (i // 16) / count for i in range(count)]
    return [State("", *kinds[i % 16], signals=(("-BL1", amps[i]),)) for i in range(count)]


def ours(count: int = _OURS) -> float:
    """Seconds an operating point takes here."""
    circuit = wiregen.design(wiregen.read(BRINE)).circuit
    solve(circuit, states(16))
    wanted = states(count)
    begun = time.process_time()
    solve(circuit, wanted)
    return (time.process_time() - begun) / count


def theirs() -> float:
    """Seconds an operating point takes the simulator: one process, the same contacts moved before each.

    A contact is a resistor of 10 mohm or 1 Gohm; the current of the transmitter is that of a source.
    """
    assert NGSPICE
    netlist, contacts, start = _movable()
    nodeset = [f".nodeset v({n})={start.to_earth(p)[0]:.9g}" for p, n in netlist.nodes.items()]
    options = ".option rshunt=1e9 reltol=1e-6 abstol=1e-11 vntol=1e-7 itl1=2000"

    def seconds(count: int) -> float:
        steps = []
        for state in states(count):
            closed = {"-SJ1": "-SJ1" in state.operated, "-SJ2": "-SJ2" not in state.operated,
                      "-BT1": "-BT1" not in state.operated, "-SJ3": bool(state.positions)}  # fmt: skip
            steps += [f"alter {contacts[d]} = {0.01 if on else 1e9}" for d, on in closed.items()]
            steps += [f"alter vset = {dict(state.signals)['-BL1']:.9g}", "op"]
        text = "\n".join(["* many", *netlist.lines, *nodeset, options, ".control", *steps, "quit", ".endc", ".end", ""])
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        done = subprocess.run(
            [NGSPICE or "", "-b", "/dev/stdin"], input=text, capture_output=True, text=True, check=False
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        assert "aborted" not in done.stdout + done.stderr, done.stdout[-500:]
        return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime

    return (seconds(_THEIRS) - seconds(16)) / (_THEIRS - 16)


def _movable() -> tuple[Netlist, dict[str, str], Points]:
    """The netlist with every contact as a resistor, and the names of those resistors."""
    design = wiregen.design(wiregen.read(BRINE))
    netlist = Netlist(design, State(), frozenset(), frozenset())
    start = solve(design.circuit, [State()])
    contacts = {}
    for name in ("-SJ1", "-SJ2", "-BT1", "-SJ3"):
        contact = next(d for d in design.declared.devices if d.name == name).contacts[0]
        ends = [netlist.node(Pin(name, contact.a)), netlist.node(Pin(name, contact.b))]
        line = next((x for x in netlist.lines if x.split()[1:3] == ends), None)
        if line is None:
            line = f"Rc{len(netlist.lines)} {ends[0]} {ends[1]} 1e9"
            netlist.lines.append(line)
        contacts[name] = line.split()[0]
    netlist.lines = [x.replace("0.012", "V(set)") if x.startswith("B") else x for x in netlist.lines]
    netlist.lines.append("vset set 0 0.012")
    return netlist, contacts, start


if __name__ == "__main__":
    us, them = ours(), theirs()
    print(f"an operating point: {us * 1e6:.1f} us here, {them * 1e6:.0f} us in the simulator: {them / us:.0f} times")
    few, many = ours(512), ours(8192)
    print(f"a state costs {many / few:.2f} times as much among 8,192 as among 512")
