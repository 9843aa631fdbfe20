"""Tightening torque, preload, friction and scatter against published tables; each check names its source."""

import pytest

from cotterbook.core.bolt import preload_of, torque_factor, torque_for, yield_preload
from cotterbook.core.friction import friction_of
from cotterbook.core.grades import read_grade
from cotterbook.core.heads import bearing_diameters
from cotterbook.core.threads import read_thread
from cotterbook.core.words import Refused

# VDI 2230:2001 as a maker of fasteners prints it for fine threads, seen: thread, friction, then preload in kN and
# torque in N.m for 8.8, 10.9, 12.9 at 0.9 of the yield.
FINE = """
M8x1    0.10  20.7  30.4  35.6  22.8 33.5 39.2
M8x1    0.12  20.2  29.7  34.7  26.1 38.3 44.9
M8x1    0.14  19.7  28.9  33.9  29.2 42.8 50.1
M10x1.25 0.10 32.4  47.5  55.6  44   65   76
M10x1.25 0.12 31.6  46.4  54.3  51   75   87
M10x1.25 0.14 30.8  45.2  52.9  57   83   98
M12x1.25 0.10 49.1  72.1  84.4  79  116  135
M12x1.25 0.12 48.0  70.5  82.5  90  133  155
M12x1.25 0.14 46.8  68.7  80.4 101  149  174
M14x1.5 0.10  66.4  97.5 114.1 124  182  213
M14x1.5 0.12  64.8  95.2 111.4 142  209  244
M14x1.5 0.14  63.2  92.9 108.7 159  234  274
M16x1.5 0.10  89.6 131.6 154.0 189  278  325
M16x1.5 0.12  87.6 128.7 150.6 218  320  374
M16x1.5 0.14  85.5 125.5 146.9 244  359  420
M18x1.5 0.10 120   171   200   283  403  472
M18x1.5 0.12 117   167   196   327  465  544
M18x1.5 0.14 115   163   191   368  523  613
M20x1.5 0.10 151   215   252   392  558  653
M20x1.5 0.12 148   211   246   454  646  756
M20x1.5 0.14 144   206   241   511  728  852
"""
# VDI 2230 table A1 for coarse threads, from memory; friction 0.08, 0.10, 0.12, 0.14, 0.16, torque in N.m.
COARSE = """
M4  8.8   2.3  2.6  3.0  3.3  3.6
M5  8.8   4.4  5.2  5.9  6.5  7.1
M6  8.8   7.7  9.0 10.1 11.3 12.3
M8  8.8  18.5 21.6 24.6 27.3 29.8
M10 8.8  36   43   48   54   59
M12 8.8  63   73   84   93  102
M14 8.8 100  117  133  148  162
M16 8.8 153  180  206  230  252
M18 8.8 220  259  295  329  360
M20 8.8 308  363  415  464  509
M5  10.9   6.5  7.6  8.6  9.5 10.4
M6  10.9  11.3 13.2 14.9 16.5 18.0
M8  10.9  27.2 31.8 36.1 40.1 43.8
M10 10.9  53   63   71   79   87
M12 10.9  92  108  123  137  149
M16 10.9 224  264  302  338  370
M20 10.9 438  517  592  661  725
M4  12.9   3.9  4.5  5.1  5.6  6.2
M6  12.9  13.2 15.4 17.4 19.3 21.1
M8  12.9  31.8 37.2 42.2 46.9 51.2
M10 12.9  62   73   83   93  101
M12 12.9 108  126  144  160  175
M20 12.9 513  605  692  773  848
"""
# The same maker's table for stainless bolts at friction 0.10, seen: preload and torque for class 50, 70, 80.
STAINLESS = """
M4   1.5  3.2  4.2   0.86  1.85  2.4
M5   2.4  5.2  6.9   1.6   3.6   4.8
M6   3.4  7.3  9.7   2.9   6.3   8.4
M8   6.2 13.4 17.9   7.1  15.2  20.3
M10  9.9 21.3 28.4  14    30    39
M18 33.2 71   94    82   176   235
M20 42.5 91  121   115   247   330
"""


def rows(table):
    return [line.split() for line in table.strip().splitlines()]


def near(printed, within=0.015):
    """Within 1.5 %, and half of the last digit that is printed."""
    digits = len(printed.split(".")[1]) if "." in printed else 0
    return pytest.approx(float(printed), abs=0.51 * 10.0**-digits + within * float(printed))


def of_grade(thread, grade, friction):
    bearing = bearing_diameters("hex", thread)
    preload = yield_preload(thread, read_grade(grade).of(thread.diameter).yield_stress, friction)
    return preload, torque_for(preload, thread, bearing, friction)


@pytest.mark.parametrize("row", rows(FINE), ids=lambda row: f"{row[0]} at {row[1]}")
def test_fine_threads_as_vdi_2230_has_them(row):
    for grade, preload, torque in zip(("8.8", "10.9", "12.9"), row[2:5], row[5:8], strict=True):
        ours = of_grade(read_thread(row[0]), grade, float(row[1]))
        assert (ours[0] / 1000.0, ours[1]) == (near(preload), near(torque))


@pytest.mark.parametrize("row", rows(COARSE), ids=lambda row: f"{row[0]} {row[1]}")
def test_coarse_threads_as_vdi_2230_has_them(row):
    for friction, torque in zip((0.08, 0.10, 0.12, 0.14, 0.16), row[2:], strict=True):
        assert of_grade(read_thread(row[0]), row[1], friction)[1] == near(torque)


@pytest.mark.parametrize("row", rows(STAINLESS), ids=lambda row: row[0])
def test_stainless_bolts_as_a_maker_prints_them(row):
    for grade, preload, torque in zip(("A2-50", "A2-70", "A4-80"), row[1:4], row[4:7], strict=True):
        ours = of_grade(read_thread(row[0]), grade, 0.10)
        # Their M5 of class 50 is 1.6 where the others of the row lead to 1.69.
        assert (ours[0] / 1000.0, ours[1]) == (near(preload, 0.02), near(torque, 0.03))


@pytest.mark.parametrize(("size", "low", "high"), [("M6", 9.9, 10), ("M8", 24, 25), ("M10", 48, 49), ("M12", 85, 85)])
def test_builders_of_machines_print_the_same_for_8_8(size, low, high):
    """Tables of builders of machines for 8.8, seen; they differ among themselves by up to 10 to 15 %."""
    torque = of_grade(read_thread(size), "8.8", 0.12)[1]
    assert 0.95 * low < torque < 1.05 * high


@pytest.mark.parametrize(
    ("finish", "condition", "factor"), [("black", "dry", 0.30), ("zinc", "dry", 0.20), ("zinc", "oiled", 0.18)]
)
def test_the_short_formula_lies_within_our_range_of_friction(finish, condition, factor):
    """Shigley table 8-15, seen: T = K d F with K 0.30 black, 0.20 zinc, 0.18 lubricated."""
    found = friction_of(finish, condition)
    for size in ("M6", "M8", "M10", "M12"):
        thread = read_thread(size)
        low, high = [
            torque_factor(thread, bearing_diameters("hex", thread), friction) / thread.diameter
            for friction in (found.low, found.high)
        ]
        assert low < factor < high * 1.02


def test_a_lubricated_thread_as_nasa_has_it():
    """NASA TM-106943, seen: K from 0.11 to 0.15 lubricated, about 0.2 dry."""
    thread, head = read_thread("M10"), bearing_diameters("hex", read_thread("M10"))
    factors = [torque_factor(thread, head, friction) / 10.0 for friction in (0.08, 0.10, 0.15)]
    assert 0.11 < factors[0] < factors[1] < 0.15 and factors[2] == pytest.approx(0.2, abs=0.01)


@pytest.mark.parametrize(
    ("condition", "scatter"), [("oiled", 0.25), ("dry", 0.35), ("locking_compound", 0.35), (None, 0.35)]
)
def test_the_preload_scatters_as_nasa_std_5020b_table_3_has_it(condition, scatter):
    """25 % lubricated, 35 % as received, seen; what is not said is taken as the wider."""
    assert friction_of("zinc", condition).scatter == scatter


def test_friction_classes_of_vdi_2230_table_a5():
    """As makers of fasteners print them, seen: B 0.08 to 0.16 oiled; stainless with oil from class D, to 0.35."""
    for finish in ("plain", "black", "zinc", "coated"):
        found = friction_of(finish, "oiled")
        assert (found.low, found.high) == (0.08, 0.16)
    assert friction_of("stainless", "oiled").high == 0.35


def test_the_prevailing_torque_is_added():
    """AC 43.13-1B 7-40d, seen: the torque that only turns the nut is added to the one wanted."""
    thread, head = read_thread("M8"), bearing_diameters("hex", read_thread("M8"))
    bare = torque_for(10_000, thread, head, 0.12)
    assert torque_for(10_000, thread, head, 0.12, 3.0) == pytest.approx(bare + 3.0)
    assert preload_of(bare + 3.0, thread, head, 0.12, 3.0) == pytest.approx(10_000)
    assert preload_of(2.0, thread, head, 0.12, 3.0) == 0.0


def test_what_the_formulas_are_not_for_is_refused():
    thread = read_thread("M8")
    for friction in (0.0, 0.7, float("nan"), float("inf"), "0.1", True, None):
        with pytest.raises(Refused):
            yield_preload(thread, 640.0, friction)
    for call in (
        lambda: yield_preload(read_thread("1/4 BSF"), 640.0, 0.12),
        lambda: yield_preload(thread, 20.0, 0.12),
        lambda: yield_preload(thread, 640.0, 0.12, prevailing=500.0),
        lambda: torque_for(-1.0, thread, (11.6, 9.0), 0.12),
        lambda: torque_for(1.0, thread, (9.0, 11.6), 0.12),
        lambda: preload_of(2001.0, thread, (11.6, 9.0), 0.12),
    ):
        with pytest.raises(Refused):
            call()
