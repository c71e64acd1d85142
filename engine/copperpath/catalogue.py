"""The installed device models: found by entry point, loaded one at a time, checked when loaded.

Not here: what a station file says about a model; see `copperpath.build`. A model that is broken is
a value (`PluginProblem`) that names its package, never an exception in a station author's face.
"""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from importlib.metadata import EntryPoint, entry_points
from pathlib import Path
from types import ModuleType

from copperpath.catalogue_checks import other_version, problems_of
from copperpath.plugin_api import Model

GROUP = "copperpath.models"


@dataclass(frozen=True, slots=True)
class PluginProblem:
    """Why a model cannot be used: its name, the package (or file) it comes from, and what is wrong.

    `plugin` is "" where a whole file could not be used. `version` is True if the model was written
    for another version of the plugin interface, or does not say for which.
    """

    plugin: str
    distribution: str
    message: str
    version: bool = False

    def __str__(self) -> str:
        subject = f"model `{self.plugin}` from {self.distribution}"
        return f"{subject if self.plugin else self.distribution}: {self.message}"


@dataclass(frozen=True, slots=True)
class Offer:
    """One model on offer: either an entry point not loaded yet, or a class already at hand."""

    name: str
    distribution: str
    entry_point: EntryPoint | None = None
    model: type[Model] | None = None


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Models by name. `problems` tells of files named with `--plugin` that cannot be used."""

    offers: Mapping[str, tuple[Offer, ...]] = field(default_factory=dict)
    problems: tuple[PluginProblem, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """Names of all models, sorted; nothing is loaded for this."""
        return tuple(sorted(self.offers))

    def load(self, name: str) -> type[Model] | PluginProblem:
        """The model of that name, loaded and checked, or why it cannot be used.

        Raises
        ------
        KeyError
            If the catalogue does not list the name.
        """
        offers = self.offers[name]
        if len(offers) > 1:
            packages = " and ".join(sorted({offer.distribution for offer in offers}))
            return PluginProblem(name, packages, "offered twice; take one of them away")
        return _loaded(offers[0])

    def unchecked(self, name: str) -> type[Model] | PluginProblem:
        """The class of that name though its declarations may be wrong, for its author; why there
        is none otherwise.

        Raises
        ------
        KeyError
            If the catalogue does not list the name.
        """
        offers = self.offers[name]
        return self.load(name) if len(offers) > 1 else _class_of(offers[0])

    def with_models(self, *models: type[Model], distribution: str = "this program") -> Catalogue:
        """This catalogue and further classes at hand (for tests and notebooks)."""
        added = [Offer(model.name, distribution, model=model) for model in models]
        return replace(self, offers=_merged(self.offers, added))

    def with_path(self, path: Path | str) -> Catalogue:
        """This catalogue and the models of a Python file.

        Only for a path that the person at the command line named: the file's code runs.
        """
        path = Path(path)
        module = _imported(path)
        if isinstance(module, PluginProblem):
            return replace(self, problems=(*self.problems, module))
        found = [
            value
            for value in vars(module).values()
            if isinstance(value, type)
            and issubclass(value, Model)
            and value is not Model
            and value.__module__ == module.__name__
        ]
        if not found:
            nothing = PluginProblem("", str(path), "holds no subclass of `Model`")
            return replace(self, problems=(*self.problems, nothing))
        problems = [
            PluginProblem(model.name or model.__name__, str(path), problem)
            for model in found
            for problem in problems_of(model)[:1]
            # A station that uses it says so at the devices that lose their model.
            if not (model.name and other_version(model))
        ]
        problems += [
            PluginProblem(model.name, str(path), "a model of this name is installed already")
            for model in found
            if model.name in self.offers
        ]
        good = [Offer(model.name, str(path), model=model) for model in found if model.name]
        return Catalogue(_merged(self.offers, good), (*self.problems, *problems))


def installed_catalogue() -> Catalogue:
    """All models of the installed packages, by their entry points; none is loaded."""
    found = []
    for point in entry_points(group=GROUP):
        package = point.dist.name if point.dist is not None else "an unknown package"
        found.append(Offer(point.name, package, entry_point=point))
    return Catalogue(_merged({}, found))


def _merged(
    offers: Mapping[str, tuple[Offer, ...]], added: list[Offer]
) -> dict[str, tuple[Offer, ...]]:
    merged = dict(offers)
    for offer in added:
        standing = merged.get(offer.name, ())
        # A package installed twice in one environment (editable and plain) lists itself twice.
        if not any(_same(offer, other) for other in standing):
            merged[offer.name] = (*standing, offer)
    return merged


def _same(one: Offer, other: Offer) -> bool:
    if one.entry_point is None or other.entry_point is None:
        return one.model is not None and one.model is other.model
    alike = one.entry_point.value == other.entry_point.value
    return alike and one.distribution == other.distribution


def _loaded(offer: Offer) -> type[Model] | PluginProblem:
    model = _class_of(offer)
    if isinstance(model, PluginProblem):
        return model
    found = problems_of(model)
    if not found:
        return model
    return PluginProblem(offer.name, offer.distribution, found[0], bool(other_version(model)))


def _class_of(offer: Offer) -> type[Model] | PluginProblem:
    model: object = offer.model
    if offer.entry_point is not None:
        try:
            model = offer.entry_point.load()
        except Exception as error:  # whatever a stranger's module does while it is imported
            reason = f"cannot be loaded ({type(error).__name__}: {error})"
            return PluginProblem(offer.name, offer.distribution, reason)
    if not (isinstance(model, type) and issubclass(model, Model)):
        reason = "is not a subclass of `copperpath.plugin_api.Model`"
        return PluginProblem(offer.name, offer.distribution, reason)
    if model.name != offer.name:
        reason = f"calls itself `{model.name}` but is listed as `{offer.name}`"
        return PluginProblem(offer.name, offer.distribution, reason)
    return model


def _imported(path: Path) -> ModuleType | PluginProblem:
    """The module made from a file; its name cannot meet that of another module."""
    if path.suffix != ".py" or not path.is_file():
        return PluginProblem("", str(path), "is not a Python file (`.py`)")
    name = f"copperpath_named_plugin_{path.stem}_{abs(hash(path.resolve())):x}"
    spec = importlib.util.spec_from_file_location(name, path)
    if spec is None or spec.loader is None:
        return PluginProblem("", str(path), "is not a Python file (`.py`)")
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    try:
        spec.loader.exec_module(module)
    except (Exception, SystemExit) as error:  # whatever a stranger's file does when run
        del sys.modules[name]
        return PluginProblem("", str(path), f"cannot be run ({type(error).__name__}: {error})")
    return module
