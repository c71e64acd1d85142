"""The suite: every check in order, over devices drawn at random from a model's declarations."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

import numpy as np

from copperpath.catalogue_checks import problems_of
from copperpath.conformance import (
    compiled_checks,
    curve_checks,
    declaration_checks,
    energy_checks,
    jump_checks,
    law_checks,
    memory_checks,
)
from copperpath.conformance.breach import Breach, Examination, Outcome, examination_text
from copperpath.conformance.drawing import Draws, draw_devices
from copperpath.conformance.subject import Check, Subject, always, has, plain
from copperpath.conformance.trial import Trial, make_trial
from copperpath.plugin_api import Model

DRAWS = 40
POINTS = 240
SEED = 1
MOST_BREACHES = 4
"""So many different breaches of one check are told."""

NOT_EXAMINED = "not examined"
"""Said of all that stands after a breach which would hide it."""


def _law(model: type[Model]) -> str:
    return "" if model.law is not None else "it has no law"


def _law_and(applies: Callable[[type[Model]], str]) -> Callable[[type[Model]], str]:
    return lambda model: _law(model) or applies(model)


def _no_draw(model: type[Model]) -> str:
    return "" if model.kind not in ("source", "storage") else "it holds a voltage"


def _linked(model: type[Model]) -> str:
    return "" if model.law is None else "it has a law, no links"


CHECKS: tuple[Check, ...] = (
    Check("its declarations are in order", declaration_checks.declarations, always, gate=True),
    Check("everything is explained", declaration_checks.documentation, always),
    Check("a station file is read and refused by name", declaration_checks.entries, always),
    Check("values within the bounds make a device", declaration_checks.devices, always, gate=True),
    Check("voltages, needs and levels make sense", declaration_checks.references, always),
    Check("links join its terminals", memory_checks.links, _linked),
    Check("inputs over time are finite, one a step", memory_checks.drives, has("drives"), True),
    Check("its functions take arrays", law_checks.answers, _law, gate=True),
    Check("finite at any voltage within 400 V", law_checks.finite, _law),
    Check("no jumps in any voltage", jump_checks.continuous, _law),
    Check("nothing drawn at 0 V", law_checks.no_draw, _law_and(_no_draw)),
    Check("numbers give what arrays give", law_checks.floats_and_arrays, _law),
    Check("devices, cases and times broadcast", law_checks.axes, _law),
    Check("its text can be compiled", compiled_checks.compiles, _law, gate=True),
    Check("compiled and numpy agree to 1e-12", compiled_checks.agree, _law),
    Check(
        "power taken is heat and store",
        energy_checks.heat_and_store,
        _law_and(energy_checks.spared_heat),
    ),
    Check(
        "it takes power and gives none",
        energy_checks.takes_only,
        _law_and(energy_checks.spared_taking),
    ),
    Check(
        "it takes no more than is offered",
        energy_checks.within_offer,
        _law_and(energy_checks.spared_offer),
    ),
    Check(
        "it gives nothing without light or hours",
        energy_checks.nothing_in_the_dark,
        _law_and(energy_checks.spared_source),
    ),
    Check(
        "it gives nothing when empty",
        energy_checks.nothing_when_empty,
        _law_and(energy_checks.spared_tank),
    ),
    Check(
        "a full store takes nothing more",
        energy_checks.store_has_room,
        _law_and(energy_checks.spared_charge),
    ),
    Check(
        "contents, store and charge go together",
        energy_checks.contents_and_store,
        _law_and(energy_checks.spared_charge),
    ),
    Check(
        "it gives nothing above `pushes`",
        energy_checks.pushes_no_higher,
        _law_and(has("pushes")),
    ),
    Check("its curve is concave", curve_checks.concave, _law_and(has("concave"))),
    Check("signals of its states can be used", memory_checks.signals, has("states")),
    Check("states begin within their bounds", memory_checks.beginnings, has("states")),
    Check(
        "charge stays within its bounds", memory_checks.stays, _law_and(energy_checks.spared_charge)
    ),
)


def examine(
    model: type[Model],
    *,
    draws: int = DRAWS,
    seed: int = SEED,
    progress: Callable[[str], None] | None = None,
) -> Examination:
    """Hold a model against every promise of the plugin interface.

    Parameters
    ----------
    model : type of Model
        The class; it need not be installed.
    draws : int
        How many devices are drawn from its declarations.
    seed : int
        The same seed draws the same devices and voltages.
    progress : callable, optional
        Told in a few words what is being done.
    """
    say = progress or (lambda words: None)
    say("drawing devices")
    # Divisions by zero are found by the check of finite numbers, and told there.
    with np.errstate(all="ignore"):
        subject = make_subject(model, draws, seed)
    outcomes: list[Outcome] = []
    closed = False
    for number, check in enumerate(CHECKS):
        say(f"{bar(number, len(CHECKS))} {check.title}")
        spared = NOT_EXAMINED if closed else check.applies(model)
        with np.errstate(all="ignore"):
            breaches = () if spared else _found(check, subject)
        outcomes.append(Outcome(check.title, breaches, spared))
        closed = closed or (check.gate and bool(breaches))
    return Examination(
        model.name or model.__name__,
        getattr(model, "kind", "?"),
        seed,
        len(subject.draws.devices),
        subject.draws.refused,
        tuple(outcomes),
    )


def assert_conforms(model: type[Model], *, draws: int = DRAWS, seed: int = SEED) -> None:
    """For a test: nothing if the model conforms.

    Raises
    ------
    AssertionError
        With every breach in words, the device and the inputs.

    Examples
    --------
    >>> from copperpath.conformance import assert_conforms
    >>> def test_my_lamp_conforms():
    ...     assert_conforms(Lamp)
    """
    examination = examine(model, draws=draws, seed=seed)
    if not examination.passed:
        raise AssertionError(examination_text(examination))


def make_subject(model: type[Model], draws: int, seed: int) -> Subject:
    """Draw the devices and their points; nothing is drawn from declarations that are not in
    order."""
    random = np.random.default_rng(seed)
    problems = problems_of(model)
    if problems:
        return Subject(model, draws, Draws((), 0, Counter(), ()), (), problems, ())
    drawn = draw_devices(model, draws, random)
    trials: list[Trial] = []
    failed: list[tuple[str, str]] = []
    for text, device in drawn.devices if model.law is not None else ():
        try:
            trials.append(make_trial(text, device, POINTS, random))
        except Exception as error:  # whatever an author's `drive` stumbles over
            failed.append((text, f"{type(error).__name__}: {error}"))
    return Subject(model, draws, drawn, tuple(trials), (), tuple(failed))


def bar(done: int, of: int, width: int = 20) -> str:
    """`#####..... 5 of 10:`; no brackets, which a terminal library may take for markup."""
    full = round(width * done / of)
    return f"{'#' * full}{'.' * (width - full)} {done} of {of}:"


def _found(check: Check, subject: Subject) -> tuple[Breach, ...]:
    """The different breaches of one check; a stumble of the model's own code is one too."""
    found: dict[str, Breach] = {}
    try:
        for breach in check.find(subject):
            found.setdefault(breach.wrong, breach)
            if len(found) >= MOST_BREACHES:
                break
    except Exception as error:  # an author's code may do anything
        wrong = f"it stumbles: {type(error).__name__}: {error}"
        found.setdefault(wrong, plain(subject, wrong, "mend what raises this"))
    return tuple(found.values())
