"""Sunday 30 March 2025: nobody works on her. Ilvane measures her, and places on the drawing what has changed.

After that she weighs what was left, lifts the rear wheel on to the bench, and reads what Torrec chalked on the door.
"""

from acts import change, figure, kitchen, log_part, weigh
from gear import PLATFORM_SCALE
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
    "fork oil": (90, 500, "sprung"), "fork springs": (90, 520, "sprung"),
    "lamp brackets": (150, 850, "sprung"), "alarm": (1_100, 720, "sprung"),
    "guard bars": (460, 420, "sprung"), "front mudguard": (-20, 560, "unsprung"), "mirrors": (300, 1_090, "sprung"),
    "side stand": (640, 220, "sprung"), "subframe": (720, 320, "sprung"), "strut eyes": (760, 620, "sprung"),
    "tool kit": (1_450, 760, "sprung"), "ties": (900, 700, "sprung"),
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
    # What nobody had weighed: the cover now, the ties by guess, the straps when they come.
    weigh(ilvane, "loom cover", kitchen(46))
    weigh(ilvane, "ties", figure("estimated", 90, weighed_as="going_on", maturity="guess", source="Two handfuls"))
    log_part(ilvane, "straps", {"name": "Hive straps", "place": "luggage", "came_in": "new", "outcome": "added",
                                "pieces": 4, "note": "Ordered."})
    # Fuel as the evening before, the rear wheel lifted on to the bench: how high her mass sits.
    ilvane.pause(1200)
    ilvane.write("weigh_in", front_grams=101_500, step_grams=500, fuel_litres=4, plus_minus_litres=0.3,
                 rear_raised_millimetres=400, front_scale=log.id(PLATFORM_SCALE),
                 note="Rear wheel on the bench, brake off, held upright by hand.")
    # Torrec had added up on the door of the shed. He counted the centre stand twice.
    change(ilvane, "strip", "strip", note="Commuter twin of 23 years, to pull a flat sidecar with four hives up to "
           "the heather and back. Chalked on the door: 9,20 kg off her since she came in.")
    # The sheet of the sidecar's mountings wants their bolts tightened anew; from this reading on it counts.
    change(ilvane, "clamp bolts", "group", retorque_kilometres=100, retorque_unit="km", retorque_once=True,
           retorque_from="Sheet of the mountings, page 4")  # fmt: skip
    ilvane.write("machine_use", machine=log.id("machine"), kilometres=61_240, as_read="61240 km")
    log.share()
