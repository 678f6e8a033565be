"""Refractive index and refractometer corrections against the published tables."""

from assistant.calc.answer import Check
from assistant.calc.refraction import (
    GLYCERIN_HIDDEN,
    INVERT_HIDDEN,
    acid_correction,
    brix_from_index,
    index_from_brix,
    temperature_correction,
)

_OIV = "OIV-MA-AS2-02, table II, as reprinted in the French order of 14 September 2011, annex IV"
_ICUMSA = "ICUMSA SPS-3 (2000), from memory"
_CRC = "CRC Handbook of Chemistry and Physics, concentrative properties of sucrose at 20 degC"
_CRC_FAR = f"{_CRC}; it leaves the ICUMSA table there, by 0.0003 at 84 Brix"
_OIV_TEMP = "OIV-MA-AS2-02, table I"
_OLD_TEMP = "older international temperature table, as in the GOST method for juice, table A.1"
_ACID = "acidity correction table of the juice trade, after Stevens & Baier (1939)"
_CRC_OTHERS = "CRC Handbook of Chemistry and Physics, concentrative properties of"

_OIV_ROWS = (
    ((10.0,), 1.34782), ((11.0,), 1.34937), ((12.0,), 1.35093), ((13.0,), 1.35250),
    ((14.0,), 1.35408), ((15.0,), 1.35568), ((24.7,), 1.37181), ((25.0,), 1.37233),
    ((26.0,), 1.37407), ((27.0,), 1.37582), ((28.0,), 1.37758), ((29.0,), 1.37936),
    ((29.6,), 1.38043), ((30.0,), 1.38115),
)  # fmt: skip
_ICUMSA_ROWS = (
    ((0,), 1.33299), ((5,), 1.34026), ((10,), 1.34782), ((15,), 1.35568),
    ((20,), 1.36384), ((25,), 1.37233), ((30,), 1.38115), ((35,), 1.39032),
    ((40,), 1.39986), ((45,), 1.40979), ((50,), 1.42009), ((55,), 1.43080),
    ((60,), 1.44193), ((65,), 1.45348), ((70,), 1.46546), ((75,), 1.47787),
    ((80,), 1.49071), ((85,), 1.50398),
)  # fmt: skip
_CRC_ROWS = (
    ((0,), 1.3330), ((0.5,), 1.3337), ((1,), 1.3344), ((1.5,), 1.3351), ((2,), 1.3359),
    ((2.5,), 1.3366), ((3,), 1.3373), ((3.5,), 1.3381), ((4,), 1.3388), ((4.5,), 1.3395),
    ((5,), 1.3403), ((5.5,), 1.3410), ((6,), 1.3418), ((6.5,), 1.3425), ((7,), 1.3433),
    ((7.5,), 1.3440), ((8,), 1.3448), ((8.5,), 1.3455), ((9,), 1.3463), ((9.5,), 1.3471),
    ((10,), 1.3478), ((11,), 1.3494), ((12,), 1.3509), ((13,), 1.3525), ((14,), 1.3541),
    ((15,), 1.3557), ((16,), 1.3573), ((17,), 1.3589), ((18,), 1.3606), ((19,), 1.3622),
    ((20,), 1.3639), ((22,), 1.3672), ((24,), 1.3706), ((26,), 1.3741), ((28,), 1.3776),
    ((30,), 1.3812), ((32,), 1.3848), ((34,), 1.3885), ((36,), 1.3922), ((38,), 1.3960),
    ((40,), 1.3999), ((42,), 1.4038), ((44,), 1.4078), ((46,), 1.4118), ((48,), 1.4159),
    ((50,), 1.4201), ((52,), 1.4243), ((54,), 1.4286), ((56,), 1.4330), ((58,), 1.4374),
    ((60,), 1.4419), ((62,), 1.4465), ((64,), 1.4511), ((66,), 1.4558), ((68,), 1.4606),
    ((70,), 1.4654), ((72,), 1.4703), ((74,), 1.4753), ((76,), 1.4803), ((78,), 1.4854),
    ((80,), 1.4906), ((82,), 1.4958), ((84,), 1.5010),
)  # fmt: skip
_TEMPERATURE_ROWS = (
    ((10, 10), -0.59), ((20, 10), -0.65), ((30, 10), -0.69), ((40, 10), -0.72), ((50, 10), -0.74),
    ((60, 10), -0.75), ((70, 10), -0.75), ((10, 12), -0.49), ((20, 12), -0.53), ((30, 12), -0.56),
    ((40, 12), -0.58), ((50, 12), -0.60), ((60, 12), -0.61), ((70, 12), -0.60), ((10, 14), -0.38),
    ((20, 14), -0.40), ((30, 14), -0.43), ((40, 14), -0.44), ((50, 14), -0.45), ((60, 14), -0.46),
    ((70, 14), -0.46), ((10, 16), -0.26), ((20, 16), -0.28), ((30, 16), -0.29), ((40, 16), -0.30),
    ((50, 16), -0.31), ((60, 16), -0.31), ((70, 16), -0.31),
)  # fmt: skip
_MORE_TEMPERATURE_ROWS = (
    ((10, 17), -0.20), ((20, 17), -0.21), ((30, 17), -0.22), ((40, 17), -0.23), ((60, 17), -0.23),
)  # fmt: skip
_OLD_ROWS = (
    ((0, 10), -0.50), ((5, 15), -0.29), ((0, 18), -0.12), ((5, 18), -0.13), ((10, 18), -0.13),
    ((50, 18), -0.15), ((60, 18), -0.16), ((50, 19), -0.08), ((0, 21), 0.06), ((20, 21), 0.07),
    ((60, 21), 0.08), ((0, 22), 0.13), ((10, 22), 0.14), ((20, 22), 0.15), ((25, 22), 0.15),
)  # fmt: skip
_ACID_ROWS = (
    ((0.2,), 0.04), ((0.6,), 0.12), ((1.0,), 0.20), ((1.6,), 0.32), ((2.0,), 0.39), ((3.0,), 0.58),
    ((4.0,), 0.78), ((5.0,), 0.97), ((7.0,), 1.34), ((10.0,), 1.91), ((12.0,), 2.27),
    ((15.0,), 2.81), ((20.0,), 3.70), ((22.0,), 4.05), ((30.0,), 5.46), ((38.0,), 6.88),
)  # fmt: skip
_GLYCERIN_ROWS = (((5.0,), 1.3388), ((10.0,), 1.3448), ((14.0,), 1.3496), ((20.0,), 1.3572))
_INVERT_ROWS = (
    ((10.0,), 1.34765), ((20.0,), 1.36345), ((30.0,), 1.38040), ((40.0,), 1.39855),
    ((48.0,), 1.41410),
)  # fmt: skip

_LIGHT = tuple(row for row in _CRC_ROWS if row[0][0] <= 72)
_HEAVY = tuple(row for row in _CRC_ROWS if row[0][0] > 72)


def _correction(reading: float, temp_c: float) -> float:
    return temperature_correction(reading, temp_c).likely


def _glycerin_index(percent: float) -> float:
    return index_from_brix(percent * (1 - GLYCERIN_HIDDEN))


def _invert_index(percent: float) -> float:
    return index_from_brix(percent * (1 - INVERT_HIDDEN))


def _turned(
    rows: tuple[tuple[tuple[float], float], ...],
) -> tuple[tuple[tuple[float], float], ...]:
    return tuple(((index,), brix) for (brix,), index in rows)


CHECKS: tuple[Check, ...] = (
    Check(
        "refractive index of a syrup", _OIV, "-", index_from_brix, _OIV_ROWS, 0.00002, "independent"
    ),
    Check(
        "refractive index of a syrup",
        _ICUMSA,
        "-",
        index_from_brix,
        _ICUMSA_ROWS,
        0.00003,
        "same source",
    ),
    Check("refractive index to 72 Brix", _CRC, "-", index_from_brix, _LIGHT, 0.0001, "independent"),
    Check(
        "refractive index past 72 Brix",
        _CRC_FAR,
        "-",
        index_from_brix,
        _HEAVY,
        0.0005,
        "other form",
    ),
    Check(
        "Brix by refractive index",
        _OIV,
        "Brix",
        brix_from_index,
        _turned(_OIV_ROWS),
        0.01,
        "independent",
    ),
    Check(
        "refractometer temperature, cold side",
        _OIV_TEMP,
        "Brix",
        _correction,
        _TEMPERATURE_ROWS + _MORE_TEMPERATURE_ROWS,
        0.011,
        "same source",
    ),
    Check(
        "refractometer temperature", _OLD_TEMP, "Brix", _correction, _OLD_ROWS, 0.02, "independent"
    ),
    Check(
        "citric acid in a refractometer",
        _ACID,
        "Brix",
        acid_correction,
        _ACID_ROWS,
        0.03,
        "same source",
    ),
    Check(
        "glycerin in a refractometer",
        f"{_CRC_OTHERS} glycerol",
        "-",
        _glycerin_index,
        _GLYCERIN_ROWS,
        0.0002,
        "same source",
    ),
    Check(
        "invert sugar in a refractometer",
        f"{_CRC_OTHERS} fructose and glucose, their mean",
        "-",
        _invert_index,
        _INVERT_ROWS,
        0.0005,
        "same source",
    ),
)
