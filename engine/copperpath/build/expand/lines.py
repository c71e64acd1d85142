"""Each line of a network as flat lines: every device by its full name, every range told apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from copperpath.build.expand.expand_errors import CountsDiffer
from copperpath.build.expand.frames import Frame
from copperpath.build.expand.fuse_places import with_full_places
from copperpath.build.expand.kit_errors import UnknownInside, WholeStationOnly
from copperpath.build.expand.references import Finder, Found
from copperpath.build.expand.rewriting import body_with_full_names, with_full_names
from copperpath_grammar.nodes import (
    BondNode,
    CableNode,
    Claim,
    ComparisonClaim,
    DataNode,
    DeviceNode,
    NeverNode,
    PoweredClaim,
    RequireNode,
    VerdictClaim,
)
from copperpath_grammar.value_nodes import Name, Reference

Pair = tuple[Reference, Reference]


def flat_devices(node: DeviceNode, names: Iterator[str], frame: Frame) -> Iterator[DeviceNode]:
    """One device for each name."""
    body = body_with_full_names(node.body, frame.values)
    for name in names:
        whole = Name(frame.prefix + name, node.name.span)
        yield DeviceNode(node.kind, whole, node.model, body, node.span)


def flat_cables(node: CableNode, frame: Frame, finder: Finder) -> Iterator[CableNode | Name]:
    """Each cable of a line. Where an end is in doubt, one that shows what is certain, and names
    of what is in doubt."""
    if not _concerns(frame, node.start, node.end):
        yield node
        return
    starts = finder.find(node.start, frame, as_end=True)
    ends = finder.find(node.end, frame, as_end=True)
    body = body_with_full_names(node.body, frame.values)
    pairs = None
    if starts is not None and ends is not None:
        pairs = _matched(node.start, starts, node.end, ends, finder)
    if pairs is None:
        start, end = _some(starts, node.start), _some(ends, node.end)
        pairs = [(start, end)]
        yield Name("cable", node.span)
        yield from (each.parts[0] for each in (start, end))
    for start, end in pairs:
        yield CableNode(start, end, with_full_places(body, node, start, end), node.span)


def flat_requirements(node: RequireNode, frame: Frame, finder: Finder) -> Iterator[RequireNode]:
    """Each requirement of a line; none after a report."""
    claim = node.claim
    if isinstance(claim, VerdictClaim):
        if frame.assembly is None:
            yield node
        else:
            finder.scope.report(WholeStationOnly(claim.span, claim.word.text))
        return
    subject = claim.subject
    if not _concerns(frame, subject):
        yield node
        return
    if frame.assembly is not None and subject.text == "mass" and "mass" not in frame.things:
        finder.scope.report(WholeStationOnly(subject.span, "mass"))
        return
    found = finder.find(subject, frame)
    written = " ".join(subject.span.text.split())
    for each in found.references if found is not None else ():
        text = each.text + node.text.removeprefix(written)
        yield RequireNode(_claim(claim, each, frame), text, node.span, node.cases)


def flat_never(node: NeverNode, frame: Frame, finder: Finder) -> Iterator[NeverNode]:
    """The line with all its members; nothing after a report."""
    if not _concerns(frame, *node.members):
        yield node
        return
    found = [finder.find(member, frame) for member in node.members]
    known = [each for each in found if each is not None]
    if len(known) == len(found):
        members = tuple(reference for each in known for reference in each.references)
        yield NeverNode(members, node.span)


def flat_bonds(node: BondNode, frame: Frame, finder: Finder) -> Iterator[BondNode]:
    """Each bond of a line. What is no device, such as `chassis`, is the whole station's."""
    if not _concerns(frame, node.start, node.end):
        yield node
        return
    pairs = _pairs(node.start, node.end, frame, finder, words=True)
    for start, end in pairs:
        yield BondNode(start, node.joiner, end, node.span)


def flat_data(node: DataNode, frame: Frame, finder: Finder) -> Iterator[DataNode]:
    """Each data lead of a line."""
    if not _concerns(frame, node.start, node.end):
        yield node
        return
    body = None if node.body is None else body_with_full_names(node.body, frame.values)
    for start, end in _pairs(node.start, node.end, frame, finder):
        yield DataNode(start, end, body, node.span)


# ---- ends ---------------------------------------------------------------------------------------


def _concerns(frame: Frame, *paths: Reference) -> bool:
    """Whether a line may need to be changed: not if it names single devices of the file."""
    if frame.assembly is not None:
        return True
    for path in paths:
        thing = frame.things.get(path.parts[0].text)
        several = thing is not None and (thing.is_kit or thing.count is not None or not thing.sure)
        if several or any(part.index is not None for part in path.parts):
            return True
    return False


def _pairs(
    start: Reference, end: Reference, frame: Frame, finder: Finder, *, words: bool = False
) -> list[Pair]:
    """The ends matched one to one; nothing after a report. With `words`, an end may be a word."""
    starts = _found(start, frame, finder, words)
    ends = _found(end, frame, finder, words)
    if starts is None or ends is None:
        return []
    return _matched(start, starts, end, ends, finder) or []


def _matched(
    start: Reference, starts: Found, end: Reference, ends: Found, finder: Finder
) -> list[Pair] | None:
    """The ends one to one, or a single one with each of the others; None after a report."""
    many, others = starts.references, ends.references
    if not starts.ranged:
        many *= len(others)
    elif not ends.ranged:
        others *= len(many)
    if len(many) != len(others):
        span = start.span.to(end.span)
        finder.scope.report(CountsDiffer(span, start.text, len(many), end.text, len(others)))
        return None
    return list(zip(many, others, strict=True))


def _found(path: Reference, frame: Frame, finder: Finder, words: bool) -> Found | None:
    first = path.parts[0].text
    if words and frame.assembly is not None and first not in frame.things:
        if first not in finder.top.things:
            return Found((path,))
        name = frame.assembly.name.text
        finder.scope.report(UnknownInside(path.parts[0].span, first, name, "", True))
        return None
    return finder.find(path, frame)


def _some(found: Found | None, path: Reference) -> Reference:
    """One end of those that are found; else the path as written, as the name of one thing."""
    if found is not None:
        return found.references[0]
    return Reference((Name(path.text, path.span),), path.span)


def _claim(claim: Claim, subject: Reference, frame: Frame) -> Claim:
    match claim:
        case PoweredClaim(duration=None):
            return replace(claim, subject=subject)
        case PoweredClaim(duration=duration) if duration is not None:
            duration = with_full_names(duration, frame.values)
            return PoweredClaim(subject, duration, claim.span)
        case ComparisonClaim():
            limit = with_full_names(claim.limit, frame.values)
            return ComparisonClaim(subject, claim.operator, limit, claim.span)
    return claim
