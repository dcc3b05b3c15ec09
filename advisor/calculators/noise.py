"""Noise: how long a level may last, the dose of a day's tools, what a hearing protector leaves.

Two criteria disagree: the legal limit of OSHA (90 dBA for 8 h, 5 dB halves the time) and the recommended
one of NIOSH (85 dBA for 8 h, 3 dB halves it). Advice goes by NIOSH; both are shown.
"""

from __future__ import annotations

from math import log10
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Fraction,
    OneOf,
    OutOfRange,
    Part,
    Result,
    SoundLevel,
    SoundLevels,
    Times,
    calculator,
    need,
)

Criterion = Annotated[str, OneOf(("niosh", "osha"))]
Protector = Annotated[str, OneOf(("muffs", "foam plugs", "other plugs"))]

_HOUR, _SHIFT, _DAY = 3600.0, 28_800.0, 86_400.0
# criterion level, exchange rate, factor of the average: exchange / log10(2), as printed in each source
_CRITERIA = {"niosh": (85.0, 3.0, 10.0), "osha": (90.0, 5.0, 16.61)}
_KEPT = {"muffs": 0.75, "foam plugs": 0.50, "other plugs": 0.30}


def _allowed(level: float, criterion: str) -> float:
    base, exchange, _ = _CRITERIA[criterion]
    return _SHIFT / float(2 ** ((level - base) / exchange))


def _level(name: str, level: float) -> None:
    need(name, level, 40, 140, "sound_level")


@calculator("noise", "time", ("niosh-98-126: recommended exposure limit",))
def noise_time_niosh(level: SoundLevel) -> Result:
    """Longest a day at a sound level by the recommended limit: 8 h at 85 dBA, half for each 3 dB more.

    Parameters: level at the ear [dBA], 40 to 140.  Returns: Result [s].  Raises: OutOfRange.

    >>> noise_time_niosh(100).value / 60                             # printed: 15 min
    15.0

    References: NIOSH 98-126 (1998): t = 480 min / 2^((L - 85) / 3).
    """
    _level("level", level)
    return Result(
        _allowed(level, "niosh"),
        "time",
        "8 h / 2^(({level} - 85) / 3)",
    )


@calculator("noise", "time", ("osha-1910-95: Appendix A, Table G-16A",))
def noise_time_osha(level: SoundLevel) -> Result:
    """Longest a day at a sound level by the legal limit: 8 h at 90 dBA, half for each 5 dB more.

    Above 115 dBA the law allows no steady noise at all; the time is then only good for a dose.

    Parameters: level at the ear [dBA], 40 to 140.  Returns: Result [s].  Raises: OutOfRange.

    >>> noise_time_osha(105).value / 3600                            # Table G-16A: 1 h
    1.0

    References: 29 CFR 1910.95, Appendix A: T = 8 / 2^((L - 90) / 5).
    """
    _level("level", level)
    return Result(
        _allowed(level, "osha"),
        "time",
        "8 h / 2^(({level} - 90) / 5)",
    )


def _dose(levels: tuple[float, ...], times: tuple[float, ...], criterion: str) -> float:
    return sum(time / _allowed(level, criterion) for level, time in zip(levels, times, strict=True))


def _average(dose: float, criterion: str) -> float:
    base, _, factor = _CRITERIA[criterion]
    return factor * log10(dose) + base


def _day(
    levels: tuple[float, ...], times: tuple[float, ...], criterion: str
) -> tuple[str, tuple[Part, ...], list[Part]]:
    """The formula of a dose, its inputs and the allowed times, checked."""
    if not levels or len(levels) != len(times):
        raise OutOfRange("times", "must be as many as the sound levels, at least one")
    for level, time in zip(levels, times, strict=True):
        _level("levels", level)
        need("times", time, 0, _DAY, "time")
    need("times", sum(times), 0, _DAY, "time")
    inputs = tuple(
        part
        for n, (level, time) in enumerate(zip(levels, times, strict=True), 1)
        for part in (Part(f"level_{n}", level, "sound_level"), Part(f"time_{n}", time, "time"))
    )
    allowed = [Part(f"allowed_{n}", _allowed(level, criterion), "time") for n, level in enumerate(levels, 1)]
    formula = " + ".join(f"{{time_{n}}} / {{allowed_{n}}}" for n in range(1, len(levels) + 1))
    return formula, inputs, allowed


@calculator("noise", "fraction", ("niosh-98-126: dose; osha-1910-95: Appendix A",))
def noise_dose(levels: SoundLevels, times: Times) -> Result:
    """Noise of a day's tools against the recommended limit: 100 % is a full day's worth.

    Parameters: levels at the ear, one a tool [dBA], 40 to 140; times with each [s], together 24 h at most.
    Returns: Result [-], 1 = the limit; parts `average` over 8 h [dBA], `osha_dose` [-], `osha_average`
    [dBA] and the allowed times [s]. No averages where the dose is 0.  Raises: OutOfRange.

    >>> day = noise_dose((100, 95, 90), (3600, 7200, 10800))
    >>> round(100 * day.value), round(day.part("average").value, 1)
    (771, 93.9)

    References: NIOSH 98-126 (1998): D = sum of C / T, TWA = 10 log10(D / 100) + 85.
    """
    formula, inputs, allowed = _day(levels, times, "niosh")
    dose, legal = _dose(levels, times, "niosh"), _dose(levels, times, "osha")
    parts = [*allowed, Part("osha_dose", legal, "fraction")]
    if dose > 0 and legal > 0:
        parts.append(Part("average", _average(dose, "niosh"), "sound_level"))
        parts.append(Part("osha_average", _average(legal, "osha"), "sound_level"))
    return Result(dose, "fraction", formula, inputs, tuple(parts))


@calculator("noise", "fraction", ("osha-1910-95: Appendix A, I(1)",))
def noise_dose_osha(levels: SoundLevels, times: Times) -> Result:
    """Noise of a day's tools against the legal limit: 100 % is the limit, 50 % calls for a hearing programme.

    All levels count here; a dosimeter may leave out those below its threshold.

    Parameters: levels at the ear, one a tool [dBA], 40 to 140; times with each [s], together 24 h at most.
    Returns: Result [-], 1 = the limit; part `average` over 8 h [dBA] and the allowed times [s].
    Raises: OutOfRange.

    >>> noise_dose_osha((100, 95, 90), (3600, 7200, 10800)).value    # 1/2 + 2/4 + 3/8
    1.375

    References: 29 CFR 1910.95, Appendix A, I(1)(ii) and I(2).
    """
    formula, inputs, allowed = _day(levels, times, "osha")
    dose = _dose(levels, times, "osha")
    parts = [*allowed, *([Part("average", _average(dose, "osha"), "sound_level")] if dose > 0 else [])]
    return Result(dose, "fraction", formula, inputs, tuple(parts))


@calculator("noise", "sound_level", ("osha-1910-95: Appendix A, I(2)", "niosh-98-126: dose"))
def noise_average(dose: Annotated[Fraction, Above(0, 10_000)], criterion: Criterion = "niosh") -> Result:
    """Level that, held for 8 h, gives the same dose.

    Parameters: dose, 1 = the limit [-], 0 < dose <= 10 000; criterion, niosh or osha.
    Returns: Result [dBA].  Raises: OutOfRange.

    >>> round(noise_average(0.5, "osha").value, 1)                   # Appendix A, Table A-1: 85.0
    85.0

    References: 29 CFR 1910.95, Appendix A, I(2): 16.61 log10(D / 100) + 90; NIOSH 98-126: 10 log10(D / 100)
    + 85.
    """
    if criterion not in _CRITERIA:
        raise OutOfRange("criterion", f"must be niosh or osha, got '{criterion[:40]}'")
    base, _, factor = _CRITERIA[criterion]
    return Result(
        _average(dose, criterion),
        "sound_level",
        f"{factor:g} x log10({{dose}}) + {base:g}",
    )


@calculator("noise", "sound_level", ("niosh-98-126: derating of the noise reduction rating",))
def protected_level(
    level: SoundLevel, rating: Annotated[SoundLevel, Between(0, 40)], protector: Protector = "other plugs"
) -> Result:
    """Noise left behind a hearing protector as people really wear it.

    The printed rating counts as 75 % for muffs, 50 % for foam plugs and 30 % for other plugs, less 7 dB
    because it is meant for another scale than dBA. A protector never counts as less than nothing.

    Parameters: level outside [dBA], 40 to 140; rating, NRR on the package [dB], 0 to 40; protector, muffs,
    foam plugs or other plugs.
    Returns: Result [dBA]; parts `reduction`, `osha_reduction` by half of NRR - 7 [dB].  Raises: OutOfRange.

    >>> protected_level(100, 29, "foam plugs").value                 # 29 x 0.5 - 7 = 7.5 dB
    92.5

    References: NIOSH 98-126 (1998): 25, 50 and 70 % off the NRR; OSHA field practice: (NRR - 7) / 2.
    """
    _level("level", level)
    if protector not in _KEPT:
        raise OutOfRange("protector", f"must be one of {', '.join(_KEPT)}, got '{protector[:40]}'")
    kept = _KEPT[protector]
    reduction = max(0.0, rating * kept - 7)
    formula = f"{{level}} - ({{rating}} x {kept:g} - 7)" if reduction else "{level} - 0"
    return Result(
        level - reduction,
        "sound_level",
        formula,
        parts=(
            Part("reduction", reduction, "sound_level"),
            Part("osha_reduction", max(0.0, (rating - 7) / 2), "sound_level"),
        ),
    )
