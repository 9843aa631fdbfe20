"""Saturday 8 March 2025: she comes in, is weighed, and most of her comes off."""

from acts import bag, fasteners, figure, hanging, item, kitchen, log_part, picture, take_off, torque, weigh
from gear import PLATFORM_SCALE, scales, wrenches
from log import Log, Phone

STANDARD_SOURCE = "Harrowfen 640 workshop book, third printing, page 1-4: in running order, 90 % fuel, tools in place"
BAGS = {"1": "left crate", "2": "left crate", "3": "left crate", "4": "left crate", "5": "right crate",
        "6": "right crate", "7": "right crate", "8": "right crate", "9": "shelf over the bench"}


def begin(log: Log, ilvane: Phone, torrec: Phone) -> None:
    """The machine, the strip-down and the first spell."""
    log.start_day(1_741_425_120_000)
    for phone in (ilvane, torrec):
        phone.device = log.new_id(phone.clock_ms)
    for key in ("machine", "strip", "spell 1"):
        ilvane.name(key)
    ilvane.set("machine", "machine", name="Harrowfen 640", standard_grams=209_500,
               standard_source=STANDARD_SOURCE, tank_litres=17)
    ilvane.set("strip", "strip", name="Sidecar tug for the heather hives", machine=log.id("machine"),
               note="Commuter twin of 23 years, to pull a flat sidecar with four hives up to the heather and back.")
    ilvane.write("work", spell=log.id("spell 1"), act="begins", people=["Ilvane", "Torrec"])
    ilvane.pause(600)
    scales(log, ilvane)
    wrenches(log, torrec)
    both = {"front_scale": log.id(PLATFORM_SCALE), "rear_scale": log.id(PLATFORM_SCALE)}
    ilvane.write("weigh_in", front_grams=98_500, rear_grams=110_500, step_grams=500, fuel_litres=6, **both,
                 note="As she came in. Two platform scales, boards of the same height under both wheels.")
    for label, kept in BAGS.items():
        bag(ilvane, label, kept)
    log.share()


def seat_and_panels(ilvane: Phone, torrec: Phone) -> None:
    take_off(ilvane, "seat", {"name": "Seat", "place": "seat", "side": "middle", "pieces": 1, "came_in": "fitted",
                              "outcome": "goes_back"}, "1",
             {"seat bolts": fasteners(2, "M6", 20, "flange_hex", "10", "captive_nut", "under the rear lip",
                                      **torque(10, "5-3"))},
             (hanging(4360, as_read="4.36 kg"),))
    picture(ilvane, "seat", "Seat, latch at the front, two bolts under the rear lip", "seat")
    panel = {"place": "side", "pieces": 1, "outcome": "goes_back"}
    screws = fasteners(3, "M6", 16, "button", "4", "brass_insert", "one at each corner, none at the lower rear")
    take_off(torrec, "left panel", {"name": "Side panel", "side": "left"} | panel, "1",
             {"left panel screws": screws}, (kitchen(412),))
    picture(torrec, "left panel", "Side panel, left, three screws", "side_panel")
    take_off(torrec, "right panel", {"name": "Side panel", "side": "right"} | panel, "2",
             {"right panel screws": screws},
             (figure("worked_out", 412, source="Taken as equal to the other side"),))


def pillion(ilvane: Phone, torrec: Phone) -> None:
    take_off(torrec, "grab rail", {"name": "Grab rail", "place": "tail", "side": "middle", "outcome": "stays_off",
                                   "note": "Three bolts came out whole, the fourth fell and was not found."}, "3",
             {"grab rail bolts": fasteners(4, "M8", 25, "socket_cap", "6", "steel", "two each side of the seat rail",
                                           **torque(22, "5-4"))},
             (kitchen(1246),), lost=1)
    item(torrec, "item bolt", "check", "Fourth M8×25 of the grab rail: look under the engine before she is moved.",
         "grab rail")
    picture(torrec, "grab rail", "Grab rail from above, the lost bolt is the left rear one", "grab_rail")
    take_off(ilvane, "pillion footrests", {"name": "Pillion footrests", "place": "footrests", "side": "both",
                                           "pieces": 2, "outcome": "stays_off"}, "4",
             {"footrest bolts": fasteners(4, "M8", 30, "flange_hex", "13", "cast_aluminium", "two each side",
                                          **torque(25, "5-5"))},
             (kitchen(587, as_read="587 g, the left one alone"),))
    take_off(ilvane, "heel guards", {"name": "Pillion heel guards", "place": "footrests", "side": "both", "pieces": 2,
                                     "outcome": "stays_off"}, "4",
             {"heel guard screws": fasteners(4, "M6", 12, "button", "4", "cast_aluminium", "two each side")},
             (kitchen(174, pieces=2, with_fasteners=True),))
    take_off(torrec, "loom cover", {"name": "Cover of the rear loom", "place": "tail", "side": "middle",
                                    "outcome": "stays_off", "note": "Not weighed: it went out with the rags."}, "5",
             {"loom cover clips": fasteners(4, "7 mm", None, "clip", "none", "plastic", "along the edge")})
    take_off(torrec, "inner mudguard", {"name": "Inner rear mudguard", "place": "rear_wheel", "side": "middle",
                                        "outcome": "stays_off"}, "5",
             {"inner mudguard screws": fasteners(8, "M5", 12, "button", "3", "plastic", "round the wheel arch")},
             (kitchen(530),))


def stand_and_front(ilvane: Phone, torrec: Phone) -> None:
    take_off(torrec, "centre stand", {"name": "Centre stand", "place": "frame", "side": "middle",
                                      "outcome": "stays_off"}, "6",
             {"stand bolts": fasteners(2, "M10", 60, "hex", "17", "loose_nut", "pivot, one each side",
                                       **torque(45, "7-2")),
              "stand nuts": fasteners(2, "M10", None, "nut", "17", "steel", "on the pivot bolts, inside")})
    slip = weigh(torrec, "centre stand", hanging(3.62, step_grams=0.02, as_read="3.62 g"))
    torrec.pause()
    torrec.write("strike", entry=slip, why="The scale stood at kilograms, typed as grams.")
    weigh(torrec, "centre stand", hanging(3620, as_read="3.62 kg"))
    picture(torrec, "centre stand", "Centre stand, left pivot worn", "centre_stand")
    reading = {"weighed_as": "taken_off", "pieces": 1, "basis": "weighed", "low_grams": 2600, "high_grams": 3000,
               "scale": "spring balance", "as_read": "between 2.6 and 3.0 kg, it swung"}
    take_off(ilvane, "fairing", {"name": "Handlebar fairing with screen", "place": "front_end", "side": "middle",
                                 "outcome": "stays_off"}, "6",
             {"fairing screws": fasteners(4, "M6", 20, "button", "4", "brass_insert", "two each side")}, (reading,))
    picture(ilvane, "fairing", "Handlebar fairing with its screen", "fairing")
    take_off(ilvane, "headlamp", {"name": "Headlamp", "place": "front_end", "side": "middle", "outcome": "goes_back"},
             "7", {"headlamp bolts": fasteners(2, "M8", 20, "flange_hex", "12", "steel", "one each side",
                                               **torque(18, "8-1", 22))},
             (kitchen(1652),))
    picture(ilvane, "headlamp", "Headlamp, connector hangs free on the right", "headlamp")
    take_off(torrec, "indicators", {"name": "Front indicators", "place": "front_end", "side": "both", "pieces": 2,
                                    "outcome": "moved", "note": "From the fairing to the fork brackets."}, "7",
             {"indicator nuts": fasteners(2, "M8", None, "nut", "12", "loose_nut", "inside the fairing")},
             (kitchen(212, pieces=2),))
    take_off(torrec, "instruments", {"name": "Instrument cluster", "place": "front_end", "side": "middle",
                                     "outcome": "goes_back"}, "7",
             {"instrument nuts": fasteners(3, "M6", None, "nut", "10", "loose_nut", "rubber mounts below",
                                           **torque(7, "8-2"))},
             (kitchen(1084),))


def tank_and_handlebar(ilvane: Phone, torrec: Phone) -> None:
    take_off(ilvane, "tank", {"name": "Fuel tank", "place": "tank", "side": "middle", "outcome": "goes_back",
                              "note": "Drained into cans, tap shut."}, "1",
             {"tank bolts": fasteners(2, "M8", 30, "flange_hex", "12", "captive_nut", "rear, through the rubber",
                                      **torque(20, "5-6"))},
             (hanging(5860, as_read="5.86 kg"),))
    take_off(torrec, "filter cover", {"name": "Air filter cover", "place": "intake", "side": "left",
                                      "outcome": "goes_back"}, "8",
             {"filter cover screws": fasteners(5, "M5", 16, "cross", "PH2", "plastic", "round the edge",
                                              pattern="star")},
             (kitchen(236),))
    take_off(torrec, "coil cover", {"name": "Ignition coil cover", "place": "electrics", "side": "right"}, "8",
             {"coil cover bolts": fasteners(2, "M6", 12, "flange_hex", "10", "steel", "front and rear")},
             (kitchen(148),))
    take_off(ilvane, "battery", {"name": "Battery", "place": "electrics", "side": "middle", "outcome": "swapped",
                                 "replacement": "Sealed battery of the same size"}, "8",
             {"battery screws": fasteners(2, "M6", 12, "cross", "PH2", "other", "terminals, earth off first")},
             (hanging(4120, as_read="4.12 kg"),
              figure("document", 3900, weighed_as="going_on", step_grams=100,
                     source="Data sheet that came with the new battery: 3.9 kg")))
    take_off(ilvane, "handlebar", {"name": "Handlebar", "place": "handlebar", "side": "middle", "outcome": "swapped",
                                   "replacement": "Wide handlebar for sidecar work"}, "9",
             {"clamp bolts": fasteners(4, "M8", 35, "socket_cap", "6", "cast_aluminium", "clamp, front pair first",
                                       grade="8.8", pattern="cross",
                                       **torque(23, "6-1", 27, torque_condition="dry",
                                                torque_steps_newton_metres=[10]))})
    first = weigh(ilvane, "handlebar", kitchen(846))
    weigh(ilvane, "handlebar", kitchen(847, again=first))
    weigh(ilvane, "handlebar", kitchen(846, again=first))
    picture(ilvane, "handlebar", "Handlebar as it came off, without grips", "handlebar")
    screws = {"head": "socket_cap", "key": "5", "into": "wrought_aluminium"}
    take_off(torrec, "master cylinder", {"name": "Front brake master cylinder", "place": "front_brake",
                                         "side": "right", "outcome": "goes_back",
                                         "note": "Hung upright, hose not opened."}, "9",
             {"master cylinder bolts": fasteners(2, "M6", 25, sits="clamp, upper one first", **screws,
                                                 **torque(12, "9-3", torque_condition="dry"))},
             (kitchen(671, tare_grams=250, as_read="671 (− 250) g, in the tray that catches the drips"),))
    item(torrec, "item hose", "secure", "Front brake hose: hang the master cylinder upright, no kink, no pull.",
         "master cylinder")
    take_off(torrec, "clutch perch", {"name": "Clutch lever perch", "place": "handlebar", "side": "left",
                                      "outcome": "goes_back"}, "9",
             {"clutch perch bolts": fasteners(2, "M6", 25, sits="clamp", **screws, **torque(12, "9-4"))},
             (kitchen(288),))


def missing(ilvane: Phone, torrec: Phone) -> None:
    """What belongs on the standard machine and was gone before anybody began."""
    log_part(torrec, "chain guard", {"name": "Lower chain guard", "place": "swing_arm", "side": "left",
                                     "came_in": "missing", "off": True}, None,
             (figure("document", 240, source="Workshop book 1-6, list of parts and masses"),))
    log_part(torrec, "tool kit", {"name": "Tool kit", "place": "tail", "side": "middle", "came_in": "missing",
                                  "off": True}, None,
             (figure("estimated", 900, maturity="similar", source="A roll of like tools from the bench"),))


def end(ilvane: Phone) -> None:
    ilvane.pause(900)
    ilvane.write("work", spell=ilvane.log.id("spell 1"), act="ends")
    ilvane.log.share()


def play(log: Log, ilvane: Phone, torrec: Phone) -> None:
    begin(log, ilvane, torrec)
    for chapter in (seat_and_panels, pillion, stand_and_front, tank_and_handlebar, missing):
        chapter(ilvane, torrec)
    end(ilvane)
