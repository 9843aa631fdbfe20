"""Standard heads and nuts: dimensions in mm, by nominal thread diameter in mm.

Unless said otherwise: seen in tables of the standard named. `bearing` is the least outer diameter of the
face under the head, dw.
"""

from typing import Any

# fmt: off
# ISO 4014 and ISO 4017: across flats, height, bearing (bearing of M3 and M3.5 from memory).
HEX_ISO: dict[float, Any] = {
    3.0: (5.5, 2.0, 4.57), 3.5: (6.0, 2.4, 5.07), 4.0: (7.0, 2.8, 5.88), 5.0: (8.0, 3.5, 6.88),
    6.0: (10.0, 4.0, 8.88), 8.0: (13.0, 5.3, 11.63), 10.0: (16.0, 6.4, 14.63), 12.0: (18.0, 7.5, 16.63),
    14.0: (21.0, 8.8, 19.64), 16.0: (24.0, 10.0, 22.49), 18.0: (27.0, 11.5, 25.34), 20.0: (30.0, 12.5, 28.19),
}
# DIN 931 and DIN 933, where they differ from ISO, and JIS B 1180 annex; M7 from memory.
HEX_DIN: dict[float, Any] = {
    7.0: (11.0, 4.8, 9.6), 10.0: (17.0, 6.4, 15.6), 12.0: (19.0, 7.5, 17.4), 14.0: (22.0, 8.8, 20.5),
}
# Small hexagons of JIS B 1180 annex; M6 with 8 is no JIS size but usual on motorcycles (from memory).
HEX_SMALL: dict[float, Any] = {
    6.0: (8.0, 4.0), 8.0: (12.0, 5.5), 10.0: (14.0, 7.0), 12.0: (17.0, 8.0), 14.0: (19.0, 9.0), 16.0: (22.0, 10.0),
    18.0: (24.0, 12.0), 20.0: (27.0, 13.0),
}
# Of a hexagon without a washer face of its own, the bearing is about this part of the flats (ISO 4014: 0.89 to 0.94).
BEARING_OF_FLATS = 0.9
# EN 1662, small series (ISO 15071, ISO 4162): across flats, height, flange, flange's edge, bearing.
FLANGE_SMALL: dict[float, Any] = {
    5.0: (7.0, 5.6, 11.4, 1.0, 9.4), 6.0: (8.0, 6.9, 13.6, 1.1, 11.6), 8.0: (10.0, 8.5, 17.0, 1.2, 14.9),
    10.0: (13.0, 9.7, 20.8, 1.5, 18.7), 12.0: (16.0, 12.1, 24.7, 1.8, 22.5), 14.0: (18.0, 12.9, 28.6, 2.1, 26.4),
    16.0: (21.0, 15.2, 32.8, 2.4, 30.6),
}
# EN 1665, heavy series: the same columns, bearing from memory.
FLANGE_HEAVY: dict[float, Any] = {
    5.0: (8.0, 5.8, 11.8, 1.0, 9.8), 6.0: (10.0, 6.6, 14.2, 1.1, 12.2), 8.0: (13.0, 8.1, 18.0, 1.2, 15.8),
    10.0: (16.0, 10.4, 22.3, 1.5, 19.6), 12.0: (18.0, 11.8, 26.6, 1.8, 23.8), 14.0: (21.0, 13.7, 30.5, 2.1, 27.6),
    16.0: (24.0, 15.4, 35.0, 2.4, 31.9), 20.0: (30.0, 18.9, 43.0, 3.0, 39.9),
}
# Usual on motorcycles, from memory: across flats of flange bolts that follow neither.
FLANGE_OTHER: dict[float, Any] = {8.0: 12.0, 10.0: 14.0, 12.0: 17.0}
# DIN 6921 where EN 1665 has another (from memory).
FLANGE_DIN: dict[float, Any] = {10.0: 15.0}
# ISO 4762: key, depth of the socket, head diameter, height, bearing.
SOCKET_CAP: dict[float, Any] = {
    3.0: (2.5, 1.3, 5.5, 3.0, 5.07), 4.0: (3.0, 2.0, 7.0, 4.0, 6.53), 5.0: (4.0, 2.5, 8.5, 5.0, 8.03),
    6.0: (5.0, 3.0, 10.0, 6.0, 9.38), 8.0: (6.0, 4.0, 13.0, 8.0, 12.33), 10.0: (8.0, 5.0, 16.0, 10.0, 15.33),
    12.0: (10.0, 6.0, 18.0, 12.0, 17.23), 14.0: (12.0, 7.0, 21.0, 14.0, 20.17), 16.0: (14.0, 8.0, 24.0, 16.0, 23.17),
    20.0: (17.0, 10.0, 30.0, 20.0, 28.87),
}
# ISO 7380-1: the same columns, and the flat top's diameter; bearing from memory.
BUTTON: dict[float, Any] = {
    3.0: (2.0, 1.04, 5.7, 1.65, 5.0, 2.6), 4.0: (2.5, 1.3, 7.6, 2.2, 6.84, 3.8), 5.0: (3.0, 1.56, 9.5, 2.75, 8.74, 5.0),
    6.0: (4.0, 2.08, 10.5, 3.3, 9.57, 6.0), 8.0: (5.0, 2.6, 14.0, 4.4, 13.07, 7.7),
    10.0: (6.0, 3.12, 17.5, 5.5, 16.57, 10.0), 12.0: (8.0, 4.16, 21.0, 6.6, 19.68, 12.0),
    16.0: (10.0, 5.2, 28.0, 8.8, 26.68, 16.0),
}
# ISO 10642: key, depth of the socket (from memory), head diameter, height; the cone has 90 degrees.
COUNTERSUNK: dict[float, Any] = {
    3.0: (2.0, 1.1, 6.0, 1.7), 4.0: (2.5, 1.5, 8.0, 2.3), 5.0: (3.0, 1.9, 10.0, 2.8), 6.0: (4.0, 2.2, 12.0, 3.3),
    8.0: (5.0, 3.0, 16.0, 4.4), 10.0: (6.0, 3.6, 20.0, 5.5), 12.0: (8.0, 4.3, 24.0, 6.5), 14.0: (10.0, 4.5, 27.0, 7.0),
    16.0: (10.0, 4.8, 30.0, 7.5), 20.0: (12.0, 5.6, 36.0, 8.5),
}
# ISO 14580 (cheese head, to M10): hexalobular socket of ISO 10664, head diameter, height.
HEXALOBULAR_CHEESE: dict[float, Any] = {
    3.0: (10, 5.5, 2.4), 3.5: (15, 6.0, 2.6), 4.0: (20, 7.0, 3.1), 5.0: (25, 8.5, 3.65), 6.0: (30, 10.0, 4.4),
    8.0: (45, 13.0, 5.8), 10.0: (50, 16.0, 6.9),
}
# Pan and countersunk heads with such a socket, and their standards: the sockets are those of ISO 14580.
HEXALOBULAR_OF_HEAD: dict[str, str] = {"button": "ISO 14583", "countersunk": "ISO 14581"}
# ISO 14579 (cap head, M12 and up; from memory), its head as of ISO 4762.
HEXALOBULAR_CAP: dict[float, Any] = {12.0: 55, 14.0: 60, 16.0: 70, 20.0: 80}
# Widths across a hexalobular socket's points (ISO 10664): number, mm.
HEXALOBULAR_ACROSS: dict[int, Any] = {
    10: 2.8, 15: 3.35, 20: 3.95, 25: 4.5, 30: 5.6, 40: 6.75, 45: 7.93, 50: 8.95, 55: 11.35, 60: 13.45, 70: 15.7,
    80: 17.75,
}
# Met on motorcycles beside the standard sizes, from memory: socket number, diameters.
HEXALOBULAR_OTHER: dict[int, Any] = {27: (6.0,), 30: (7.0,), 40: (8.0,), 45: (10.0,)}
# Hexalobular heads driven from outside, from memory: number, diameter.
HEXALOBULAR_OUTSIDE: dict[int, Any] = {5: 4.0, 6: 5.0, 8: 6.0, 10: 8.0, 12: 10.0, 14: 12.0}
# ISO 7045 (pan head with a cross recess): recess number, head diameter, height.
CROSS: dict[float, Any] = {
    3.0: (1, 5.6, 2.4), 3.5: (2, 7.0, 2.6), 4.0: (2, 8.0, 3.1), 5.0: (2, 9.5, 3.7), 6.0: (3, 12.0, 4.6),
    8.0: (4, 16.0, 6.0), 10.0: (4, 20.0, 7.5),
}
# ISO 1207 (cheese head with a slot): slot's width, its depth, head diameter, height.
SLOT: dict[float, Any] = {
    3.0: (0.8, 0.85, 5.5, 2.0), 3.5: (1.0, 1.0, 6.0, 2.4), 4.0: (1.2, 1.1, 7.0, 2.6), 5.0: (1.2, 1.3, 8.5, 3.3),
    6.0: (1.6, 1.6, 10.0, 3.9), 8.0: (2.0, 2.0, 13.0, 5.0), 10.0: (2.5, 2.4, 16.0, 6.0),
}
# ISO 4032: height of the nut; across flats and bearing as of ISO 4014.
NUT: dict[float, Any] = {
    3.0: 2.4, 3.5: 2.8, 4.0: 3.2, 5.0: 4.7, 6.0: 5.2, 8.0: 6.8, 10.0: 8.4, 12.0: 10.8, 14.0: 12.8, 16.0: 14.8,
    18.0: 15.8, 20.0: 18.0,
}
# DIN 934 (old, and lower than ISO 4032 in the larger sizes): height of the nut; M3.5, M7, M14 and M18 from memory.
NUT_DIN: dict[float, Any] = {
    3.0: 2.4, 3.5: 2.8, 4.0: 3.2, 5.0: 4.0, 6.0: 5.0, 7.0: 5.5, 8.0: 6.5, 10.0: 8.0, 12.0: 10.0, 14.0: 11.0,
    16.0: 13.0, 18.0: 15.0, 20.0: 16.0,
}
# Hole for the bolt, medium series of ISO 273 (M7 from memory).
HOLE: dict[float, Any] = {
    3.0: 3.4, 3.5: 3.9, 4.0: 4.5, 5.0: 5.5, 6.0: 6.6, 7.0: 7.6, 8.0: 9.0, 10.0: 11.0, 12.0: 13.5, 14.0: 15.5,
    16.0: 17.5, 18.0: 20.0, 20.0: 22.0,
}

# Inch sizes, in inches. Hexagon of unified bolts (ASME B18.2.1, B18.2.2, from memory):
# flats, height, nut's flats, nut's height.
HEX_UNIFIED: dict[str, Any] = {
    "1/4": (7 / 16, 5 / 32, 7 / 16, 7 / 32), "5/16": (1 / 2, 13 / 64, 1 / 2, 17 / 64),
    "3/8": (9 / 16, 15 / 64, 9 / 16, 21 / 64), "7/16": (5 / 8, 9 / 32, 11 / 16, 3 / 8),
    "1/2": (3 / 4, 5 / 16, 3 / 4, 7 / 16),
}
# ASME B18.3, socket head cap screws: key, depth of the socket, head diameter, height.
SOCKET_CAP_UNIFIED: dict[str, Any] = {
    "#6": (7 / 64, 0.064, 0.226, 0.138), "#8": (9 / 64, 0.077, 0.27, 0.164), "#10": (5 / 32, 0.09, 0.312, 0.19),
    "1/4": (3 / 16, 0.12, 0.375, 0.25), "5/16": (1 / 4, 0.151, 0.469, 0.3125), "3/8": (5 / 16, 0.182, 0.562, 0.375),
    "7/16": (3 / 8, 0.213, 0.656, 0.4375), "1/2": (3 / 8, 0.245, 0.75, 0.5),
}
# Whitworth and BSF hexagons (BS 1083): flats, height, nut's height, washer face; 3/16 from memory. The same
# hexagons stand on cycle threads (from memory); before about 1940 they were a size larger (from memory).
HEX_WHITWORTH: dict[str, Any] = {
    "3/16": (0.34, 0.13, 0.16, 0.32), "1/4": (0.445, 0.176, 0.2, 0.428), "5/16": (0.525, 0.218, 0.25, 0.508),
    "3/8": (0.6, 0.26, 0.312, 0.582), "7/16": (0.71, 0.302, 0.375, 0.69), "1/2": (0.82, 0.343, 0.437, 0.8),
}
# Normal hole of ASME B18.2.8; used for the British threads too.
HOLE_INCHES: dict[str, Any] = {
    "#6": 0.1695, "#8": 0.199, "#10": 0.2055, "#12": 0.228, "1/4": 9 / 32, "5/16": 11 / 32, "3/8": 13 / 32,
    "7/16": 15 / 32, "1/2": 9 / 16,
}
# fmt: on
