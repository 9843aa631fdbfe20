"""Standard screw threads of motorcycles, old and new: sizes and pitches.

Metric: ISO 261 with the coarse and fine selection of ISO 262, M3 to M20. Unified: ASME B1.1,
to 1/2 inch. Whitworth form (BS 84) and cycle thread (BS 811): sizes as lists of the trade give them.
"""

INCH = 25.4

# fmt: off
# Diameter: its coarse pitch, then its fine pitches, in mm (ISO 261). ISO 262 picks the coarse and the first fine ones.
METRIC = (
    (3, 0.5, (0.35,)), (3.5, 0.6, (0.35,)), (4, 0.7, (0.5,)), (5, 0.8, (0.5,)),
    (6, 1.0, (0.75,)), (7, 1.0, (0.75,)), (8, 1.25, (1.0, 0.75)),
    (10, 1.5, (1.25, 1.0, 0.75)), (12, 1.75, (1.25, 1.5, 1.0)), (14, 2.0, (1.5, 1.25, 1.0)),
    (16, 2.0, (1.5, 1.0)), (18, 2.5, (1.5, 2.0, 1.0)), (20, 2.5, (1.5, 2.0, 1.0)),
)

# What is written before the threads per inch, diameter in inches, then threads per inch.
UNC = (
    ("#6", 0.138, 32), ("#8", 0.164, 32), ("#10", 0.19, 24), ("#12", 0.216, 24), ("1/4", 0.25, 20),
    ("5/16", 0.3125, 18), ("3/8", 0.375, 16), ("7/16", 0.4375, 14), ("1/2", 0.5, 13),
)
UNF = (
    ("#6", 0.138, 40), ("#8", 0.164, 36), ("#10", 0.19, 32), ("#12", 0.216, 28), ("1/4", 0.25, 28),
    ("5/16", 0.3125, 24), ("3/8", 0.375, 24), ("7/16", 0.4375, 20), ("1/2", 0.5, 20),
)
BSW = (
    ("1/8", 0.125, 40), ("3/16", 0.1875, 24), ("1/4", 0.25, 20), ("5/16", 0.3125, 18), ("3/8", 0.375, 16),
    ("7/16", 0.4375, 14), ("1/2", 0.5, 12),
)
BSF = (
    ("3/16", 0.1875, 32), ("7/32", 0.21875, 28), ("1/4", 0.25, 26), ("5/16", 0.3125, 22), ("3/8", 0.375, 20),
    ("7/16", 0.4375, 18), ("1/2", 0.5, 16),
)
# From 7/16 on there are two: 26 of the cycle form, and 20 in its stead.
BSC = (
    ("1/8", 0.125, 40), ("5/32", 0.15625, 32), ("3/16", 0.1875, 32), ("7/32", 0.21875, 26), ("1/4", 0.25, 26),
    ("5/16", 0.3125, 26), ("3/8", 0.375, 26), ("7/16", 0.4375, 26), ("7/16", 0.4375, 20),
    ("1/2", 0.5, 26), ("1/2", 0.5, 20),
)
INCH_SERIES = (("unc", UNC), ("unf", UNF), ("bsw", BSW), ("bsf", BSF), ("bsc", BSC))

# Series: flank angle in degrees, then by how many pitches the pitch diameter, the bolt's minor diameter and the
# nut's minor diameter are less than the nominal diameter.
#   metric: ISO 724 and ISO 898-1 (d3 with the root at H/6)
#   unified: ASME B1.1, thread height 0.61343 P
#   Whitworth: BS 84, depth 0.640327 P          cycle: BS 811, depth 0.5327 P (from memory)
FORMS = {
    "metric_coarse": (60, 0.649519, 1.226869, 1.082532),
    "metric_fine": (60, 0.649519, 1.226869, 1.082532),
    "unc": (60, 0.649519, 1.226869, 1.082532),
    "unf": (60, 0.649519, 1.226869, 1.082532),
    "bsw": (55, 0.640327, 1.280654, 1.280654),
    "bsf": (55, 0.640327, 1.280654, 1.280654),
    "bsc": (60, 0.5327, 1.0654, 1.0654),
}
# Pitches off the nominal diameter for the stress area's diameter, where the standard has its own; else the
# mean of pitch and minor diameter: ISO 898-1 (d - 0.9382 P), ASME B1.1 (d - 0.9743 P).
STRESS = {"unc": 0.9743, "unf": 0.9743}
# fmt: on

SOURCES = {
    "metric_coarse": "ISO 261, ISO 724, ISO 898-1",
    "metric_fine": "ISO 261, ISO 724, ISO 898-1",
    "unc": "ASME B1.1",
    "unf": "ASME B1.1",
    "bsw": "BS 84, sizes from lists of the trade",
    "bsf": "BS 84, sizes from lists of the trade",
    "bsc": "BS 811, sizes from lists of the trade, depth of thread from memory",
}
