"""Sunday 30 March 2025: nobody works on her. Ilvane measures her, and places on the drawing what has changed."""

from acts import change
from log import Log, Phone

# Behind the front axle, above the ground, in mm, and what carries it.
PLACES = {
    "left panel": (930, 640, "sprung"), "right panel": (930, 640, "sprung"), "grab rail": (1_500, 830, "sprung"),
    "pillion footrests": (960, 380, "sprung"), "heel guards": (980, 430, "sprung"),
    "loom cover": (1_480, 780, "sprung"), "inner mudguard": (1_390, 520, "sprung"),
    "centre stand": (800, 210, "sprung"), "fairing": (60, 980, "sprung"), "indicators": (70, 850, "sprung"),
    "battery": (850, 640, "sprung"), "handlebar": (330, 1_010, "sprung"), "rear mudguard": (1_530, 650, "sprung"),
    "plate holder": (1_690, 600, "sprung"), "silencer": (1_240, 370, "sprung"), "heat shield": (520, 400, "sprung"),
    "sprocket cover": (640, 380, "sprung"), "sprocket": (650, 370, "sprung"), "rear units": (1_180, 560, "unsprung"),
    "fork springs": (90, 520, "sprung"), "lamp brackets": (150, 850, "sprung"), "alarm": (1_100, 720, "sprung"),
    "guard bars": (460, 420, "sprung"), "front mudguard": (-20, 560, "unsprung"), "mirrors": (300, 1_090, "sprung"),
    "side stand": (640, 220, "sprung"), "subframe": (720, 320, "sprung"), "strut eyes": (760, 620, "sprung"),
    "lamp socket": (1_010, 600, "sprung"), "hive plate": (1_500, 860, "sprung"),
}  # fmt: skip
WENT_TO = {"indicators": (140, 830), "mirrors": (310, 1_100)}


def play(log: Log, ilvane: Phone) -> None:
    log.start_day(1_743_328_800_000)
    change(ilvane, "machine", "machine", wheelbase_millimetres=1_432, front_axle_millimetres=305,
           rear_axle_millimetres=300, tank_along_millimetres=560, tank_up_millimetres=800,
           standard_state="running_order", standard_up_millimetres=545)  # fmt: skip
    for key in PLACES:
        along, up, carried = PLACES[key]
        went = WENT_TO.get(key)
        to = {} if went is None else {"to_along_millimetres": went[0], "to_up_millimetres": went[1]}
        change(ilvane, key, "part", along_millimetres=along, up_millimetres=up, carried=carried, **to)
