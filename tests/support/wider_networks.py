"""Random stations with what a star of strips lacks: meshes of cross-tied strips, batteries in
parallel on unlike leads, diodes between two supplies and behind panels, one converter behind
another, a charger from battery to battery. The same for the same seed; the figures are invented.
"""

from __future__ import annotations

import numpy as np
from support.hard_models import Charger, Valve
from support.networks import (
    HOUR,
    Draft,
    add_battery,
    add_controller,
    add_load,
    add_panel,
    add_radio,
    make_settings,
)

from copperpath.station import Station
from copperpath_plugins.blocks.strip import Strip
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.converters.step_down import StepDown
from copperpath_plugins.loads.usb_device import UsbDevice


class Mesh:
    """Strips tied to each other more than once, and how many of their ways are in use."""

    def __init__(self, draft: Draft, count: int) -> None:
        self.draft = draft
        self.used = {f"hub{k}": 0 for k in range(count)}
        names = list(self.used)
        for k in range(1, count):
            draft.join(self.way(names[draft.random.integers(k)]), f"{names[k]}.in", draft.lead(0.1))
        for _ in range(draft.random.integers(1, 5)):
            one, other = draft.random.choice(names, 2, replace=False)
            draft.join(self.way(str(one)), self.way(str(other)), draft.lead(0.3))

    def way(self, strip: str = "") -> str:
        """A free way, of a strip drawn by lot unless one is named."""
        name = strip or str(self.draft.random.choice(list(self.used)))
        self.used[name] += 1
        return f"{name}.{self.used[name]}"

    def put_in(self) -> None:
        """Put the strips in, each with its ways in use and one to spare."""
        for name, ways in self.used.items():
            contact = self.draft.random.uniform(0.0005, 0.004)
            self.draft.add(name, Strip, ways=ways + 1.0, contact=contact)


def wider_station(seed: int, steps: int = 16, step_s: float = 600.0) -> Station:
    """A mesh of strips with something of everything on it."""
    draft = Draft(np.random.default_rng([seed, 7]))
    random = draft.random
    mesh = Mesh(draft, int(random.integers(2, 6)))
    add_bank(draft, mesh)
    for k in range(random.integers(0, 4)):
        if random.random() < 0.5:
            add_controller(draft, f"regulator{k}", mesh.way())
        else:
            add_diode_array(draft, f"regulator{k}", mesh.way())
    for k in range(random.integers(0, 5)):
        add_radio(draft, f"rig{k}", mesh.way())
    for k in range(random.integers(1, 5)):
        add_load(draft, f"lamp{k}", mesh.way(), 12.0)
    if random.random() < 0.6:
        add_second_bank(draft, mesh)
    if random.random() < 0.6:
        add_diode_bus(draft, mesh)
    if random.random() < 0.6:
        add_chain(draft, "chain", mesh.way())
    mesh.put_in()
    low = float(random.uniform(-12.0, 15.0))
    settings = make_settings(
        steps * step_s / HOUR,
        random.uniform(0.0, 24.0),
        random.uniform(0.1, 1.0),
        (low, low + float(random.uniform(2.0, 15.0))),
    )
    return draft.station(f"wider {seed}", settings)


def add_bank(draft: Draft, mesh: Mesh) -> None:
    """Two to four batteries in parallel, each on its own lead, most of them on one strip."""
    for k in range(draft.random.integers(2, 5)):
        add_battery(draft, f"pack{k}")
        strip = "hub0" if draft.random.random() < 0.7 else ""
        draft.join(f"pack{k}.line", mesh.way(strip), draft.lead(0.3))


def add_diode_array(draft: Draft, name: str, target: str) -> None:
    """A controller whose panels each come in through a diode, some of them two in series."""
    random = draft.random
    draft.add(
        name,
        MpptCharger,
        output_limit=random.choice([3.0, 8.0]),
        max_input=60.0,
        start_headroom=random.choice([1.0, 5.0]),
    )
    draft.join(f"{name}.battery", target, draft.lead(0.1))
    for k in range(random.integers(2, 4)):
        valve = f"{name}valve{k}"
        draft.add(valve, Valve, ohm=random.uniform(0.01, 0.05))
        draft.join(f"{valve}.to", f"{name}.panel", draft.lead(0.2))
        rows = float(random.choice([1.0, 1.0, 2.0]))
        add_panel(draft, f"{name}panel{k}", f"{valve}.from", draft.lead(0.4), series=rows)


def add_second_bank(draft: Draft, mesh: Mesh) -> None:
    """A battery charged from the first ones, with loads and a converter chain of its own."""
    random = draft.random
    draft.add(
        "feeder",
        Charger,
        set=random.uniform(13.8, 14.6),
        droop=0.02,
        limit=random.uniform(2.0, 15.0),
        low=random.uniform(11.0, 12.4),
        span=random.uniform(0.3, 1.0),
        efficiency=0.9,
    )
    draft.join(mesh.way(), "feeder.from", draft.lead())
    draft.add("second", Strip, ways=6.0, contact=0.001)
    draft.join("feeder.to", "second.in", draft.lead())
    add_battery(draft, "spare")
    draft.join("spare.line", "second.1", draft.lead())
    add_load(draft, "spare_lamp", "second.2", 12.0)
    if random.random() < 0.5:
        add_chain(draft, "spare_chain", "second.3")


def add_diode_bus(draft: Draft, mesh: Mesh) -> None:
    """A bus that the higher of two places feeds, through a diode each."""
    draft.add("fed", Strip, ways=5.0, contact=0.001)
    for k in range(2):
        draft.add(f"either{k}", Valve, ohm=draft.random.uniform(0.01, 0.05))
        draft.join(mesh.way(), f"either{k}.from", draft.lead())
        draft.join(f"either{k}.to", f"fed.{k + 1}", draft.lead(0.1))
    add_radio(draft, "fed_rig", "fed.3")
    add_load(draft, "fed_lamp", "fed.4", 12.0)


def add_chain(draft: Draft, name: str, target: str) -> None:
    """A step-down to 9 V and one to 5 V behind it."""
    random = draft.random
    draft.add(
        f"{name}_nine",
        StepDown,
        output=9.0,
        output_limit=random.choice([1.0, 3.0]),
        input=(random.uniform(10.0, 11.0), 30.0),
    )
    draft.join(target, f"{name}_nine.in", draft.lead())
    add_load(draft, f"{name}_lamp", f"{name}_nine.out", 9.0)
    draft.add(f"{name}_five", StepDown, output=5.0, output_limit=2.0, input=(7.0, 30.0))
    draft.join(f"{name}_nine.out", f"{name}_five.in", draft.lead())
    draft.add(f"{name}_phone", UsbDevice, power=random.uniform(0.5, 7.0), on=draft.hours())
    draft.join(f"{name}_five.out", f"{name}_phone.line", draft.lead())
