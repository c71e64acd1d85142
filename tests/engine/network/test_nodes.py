"""What becomes a node, and that the order of a file's lines does not matter."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from support.equations import volts_by_name
from support.networks import problem_of, random_station

from copperpath.network.nodes import make_network
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.solution import Outcome
from copperpath.station import Station


def shuffled(station: Station, seed: int) -> Station:
    """Devices and cables in another order, half of the cables drawn the other way round."""
    random = np.random.default_rng(seed)
    devices = [station.devices[k] for k in random.permutation(len(station.devices))]
    cables = []
    for k in random.permutation(len(station.cables)):
        cable = station.cables[k]
        if random.random() < 0.5:
            cable = replace(cable, start=cable.end, end=cable.start)
        cables.append(cable)
    return replace(station, devices=tuple(devices), cables=tuple(cables))


@pytest.mark.parametrize("seed", range(700, 712))
def test_the_order_of_declarations_does_not_matter(seed: int) -> None:
    station = random_station(seed, 10, 600.0)
    radios = sum(device.model.keying is not None for device in station.devices)
    problem = problem_of(station, 600.0)
    other = problem_of(shuffled(station, seed), 600.0)
    one, two = solve_compiled(problem), solve_compiled(other)
    # Products of key states come in the order of the radios; mean and worst do not.
    columns = [problem.columns.mean, problem.columns.worst] if radios else [0]
    for step in range(problem.steps):
        for column in columns:
            assert one.outcome[step, column] != Outcome.NOT_SOLVED
            here = volts_by_name(problem, one, step, column)[1]
            there = volts_by_name(other, two, step, column)[1]
            assert here.keys() == there.keys()
            for name, volts in here.items():
                assert there[name] == pytest.approx(volts, rel=0.0, abs=1e-9), (step, name)


@pytest.mark.parametrize("seed", range(700, 720))
def test_every_terminal_is_in_exactly_one_circuit(seed: int) -> None:
    station = random_station(seed)
    network = make_network(station)
    names = [name for circuit in (network.main, *network.zones) for name in circuit.nodes]
    assert len(names) == len(set(names))
    ends = {str(end) for cable in station.cables for end in (cable.start, cable.end)}
    assert ends <= set(names)


@pytest.mark.parametrize("seed", range(700, 720))
def test_each_tracking_controller_has_a_zone_of_its_own_panels(seed: int) -> None:
    station = random_station(seed)
    network = make_network(station)
    seekers = [slot for slot in network.main.slots if slot.seeks >= 0]
    assert sorted(slot.seeks for slot in seekers) == list(range(len(network.zones)))
    for slot in seekers:
        zone = network.zones[slot.seeks]
        assert zone.nodes[zone.ports[0]] == f"{slot.device.name}.panel"
        assert all(part.device.name.startswith(slot.device.name) for part in zone.slots)
