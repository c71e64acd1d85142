"""Standard ratings of fuses by kind, and what each kind usually breaks."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FuseKind:
    """Ratings that are sold [A], the most current it breaks [A] at what voltage [V], and where
    that comes from."""

    ratings: tuple[float, ...]
    interrupts_a: float
    voltage_v: float
    source: str


CLASS_T_A = "30 40 50 60 70 80 90 100 110 125 150 175 200 225 250 300 350 400 450 500 600"

BLADE = FuseKind(
    (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100),
    1000.0,
    32.0,
    "breaks 1 kA at 32 V: ISO 8820-3:2015",
)
KINDS = {
    "blade": BLADE,
    "bolt_down": FuseKind(
        (30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 400, 500),
        2000.0,
        32.0,
        "breaks 1 to 2 kA at 32 V: common practice, no source",
    ),
    "class_t": FuseKind(
        tuple(float(each) for each in CLASS_T_A.split()),
        20_000.0,
        125.0,
        "breaks 20 kA at 125 V dc: from memory",
    ),
    "glass": FuseKind(
        (0.5, 1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30),
        200.0,
        32.0,
        "breaks about 200 A at 32 V: from memory",
    ),
    "ceramic": FuseKind(
        (0.5, 1, 2, 3.15, 4, 5, 6.3, 8, 10, 12.5, 16, 20, 25, 32),
        1500.0,
        250.0,
        "breaks 1.5 kA (IEC 60127-2, high breaking capacity): from memory",
    ),
    "breaker": FuseKind(
        (3, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 200),
        3000.0,
        65.0,
        "breaks 3 kA at 65 V dc: from memory",
    ),
}


def ratings_of(kind: str | None) -> tuple[float, ...]:
    """Ratings of a kind, rising [A]; those of blade fuses where it is not known."""
    return KINDS.get(kind or "", BLADE).ratings


def next_rating(kind: str | None, least_a: float) -> float | None:
    """The smallest standard rating not below a current; None beyond the largest."""
    return next((rating for rating in ratings_of(kind) if rating >= least_a - 1e-9), None)


def largest_rating(kind: str | None, most_a: float) -> float | None:
    """The largest standard rating not above a current; None below the smallest."""
    fitting = [rating for rating in ratings_of(kind) if rating <= most_a + 1e-9]
    return fitting[-1] if fitting else None
