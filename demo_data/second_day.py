"""Saturday 15 March 2025: the rest comes off, the rear mudguard is cut, and two people count the same screws."""

from acts import (
    bag,
    change,
    drained,
    fasteners,
    figure,
    hanging,
    item,
    kitchen,
    log_part,
    move,
    picture,
    refit,
    take_off,
    torque,
    weigh,
)
from log import Log, Phone


def begin(log: Log, ilvane: Phone) -> None:
    log.start_day(1_742_028_900_000)
    ilvane.name("spell 2")
    ilvane.write("work", spell=log.id("spell 2"), act="begins", people=["Ilvane", "Torrec"])
    bag(ilvane, "10", "shelf over the bench")
    bag(ilvane, "11", "tin under the bench")
    log.share()


def tail(ilvane: Phone, torrec: Phone) -> None:
    take_off(torrec, "rear mudguard", {"name": "Rear mudguard", "place": "tail", "side": "middle",
                                       "outcome": "cut_down"}, "10",
             {"rear mudguard bolts": fasteners(5, "M6", 16, "flange_hex", "10", "captive_nut",
                                               "three above, two at the loop", **torque(8, "5-8"))},
             (kitchen(1384),))
    picture(torrec, "rear mudguard", "Rear mudguard, the cut is the chain line", "rear_mudguard")
    take_off(torrec, "plate holder", {"name": "Number plate holder", "place": "tail", "side": "middle",
                                      "outcome": "swapped", "replacement": "Holder on the sidecar side, to be made"},
             "10", {"plate holder bolts": fasteners(3, "M6", 20, "flange_hex", "10", "captive_nut", "two above")},
             (kitchen(318), figure("estimated", 250, weighed_as="going_on", maturity="guess")))
    item(torrec, "item plate", "make", "Number plate holder with its light; check your local rules first.",
         "plate holder")
    torrec.pause(1500)
    weigh(torrec, "rear mudguard", kitchen(951, weighed_as="after_cut"))
    change(torrec, "rear mudguard", outcome_done=True)
    torrec.write("colour_note", thing=torrec.log.id("rear mudguard"), colour="bottle green, two coats",
                 dried_hours=24)
    torrec.log.share()


def exhaust_and_drive(ilvane: Phone, torrec: Phone) -> None:
    take_off(ilvane, "silencer", {"name": "Silencer", "place": "exhaust", "side": "right", "outcome": "goes_back",
                                  "note": "Off to make room for the sidecar mountings."}, "11",
             {"silencer bolts": fasteners(2, "M8", 40, "flange_hex", "13", "steel", "hanger", **torque(25, "4-9")),
              "silencer clamp bolt": fasteners(1, "M8", 50, "hex", "13", "loose_nut", "clamp at the header",
                                               **torque(20, "4-9"))},
             (hanging(4280, as_read="4.28 kg"),))
    item(ilvane, "item gasket", "buy", "Gasket for the right silencer, inner diameter 38 mm.", "silencer")
    picture(ilvane, "silencer", "Right silencer, clamp and hanger", "silencer")
    take_off(ilvane, "heat shield", {"name": "Heat shield of the exhaust", "place": "exhaust", "side": "right"}, "11",
             {"heat shield screws": fasteners(3, "M6", 12, "button", "4", "steel", "welded nuts on the header",
                                              grade="A2-70", finish="stainless", torque_condition="oiled",
                                              thread_confirmed=True, engagement_millimetres=7)},
             (kitchen(296),))
    item(ilvane, "item shield", "decide", "Heat shield: back on, or does the lower strut stand in its place?",
         "heat shield")
    take_off(torrec, "sprocket cover", {"name": "Sprocket cover", "place": "engine", "side": "left",
                                        "outcome": "goes_back"}, "2",
             {"sprocket cover bolts": fasteners(4, "M6", 30, "socket_cap", "5", "cast_aluminium",
                                                "the long one is at the lower rear", pattern="cross",
                                                **torque(10, "4-12"))},
             (kitchen(395),))
    take_off(torrec, "sprocket", {"name": "Gearbox sprocket", "place": "engine", "side": "left",
                                  "outcome": "swapped", "replacement": "Sprocket with two teeth less"}, "2",
             {"sprocket nut": fasteners(1, "M18×1.5", None, "nut", "27", "steel", "on the gearbox shaft",
                                        **torque(75, "4-13", 85, torque_condition="locking_compound",
                                                 torque_as_written="75 to 85 N.m with locking compound"))},
             (kitchen(341), kitchen(276, weighed_as="going_on")))
    refit(torrec, "sprocket nut", 1, "2", 80)
    change(torrec, "sprocket", outcome_done=True)


def suspension(ilvane: Phone, torrec: Phone) -> None:
    take_off(ilvane, "rear units", {"name": "Rear suspension units", "place": "swing_arm", "side": "both",
                                    "pieces": 2, "outcome": "swapped", "replacement": "Units with stiffer springs"},
             "10",
             {"rear unit bolts": fasteners(2, "M10", 50, "flange_hex", "14", "steel", "lower eyes",
                                           **torque(40, "7-6")),
              "rear unit nuts": fasteners(2, "M10", None, "nut", "14", "steel", "domed nuts on the upper studs",
                                          **torque(40, "7-6"))},
             (kitchen(2146, as_read="2146 g, left"), kitchen(2153, as_read="2153 g, right")))
    picture(ilvane, "rear units", "Rear suspension unit, one of two", "rear_unit")
    take_off(torrec, "fork springs", {"name": "Fork springs", "place": "fork", "side": "both", "pieces": 2,
                                      "outcome": "swapped", "replacement": "Fork springs, 9.5 N/mm"}, "10",
             {"pinch bolts": fasteners(4, "M8", 30, "socket_cap", "6", "cast_aluminium", "upper fork clamp",
                                       **torque(20, "6-8", 24))},
             (figure("estimated", 640, pieces=2, maturity="known", source="Oily, not put on the scale"),
              figure("document", 730, pieces=2, weighed_as="going_on", plus_minus_grams=8,
                     source="Label of the packet, 2 × 365 g ± 4 g")))
    refit(torrec, "pinch bolts", 4, "10", 22)
    change(torrec, "fork springs", outcome_done=True)
    log_part(torrec, "fork oil", {"name": "Fork oil", "place": "fork", "side": "both", "off": True,
                                  "outcome": "swapped", "replacement": "Fork oil, one grade thicker"}, None,
             (drained("fork_oil", 0.94, 0.02, "taken_off", "0,94 l, both legs into one jug"),
              drained("fork_oil", 0.96, 0.01, "going_on", "2 × 0,48 l from the syringe")))
    change(torrec, "fork oil", outcome_done=True)
    take_off(torrec, "lamp brackets", {"name": "Headlamp brackets", "place": "front_end", "side": "both", "pieces": 2,
                                       "outcome": "swapped", "replacement": "Brackets of 3 mm plate"}, "7",
             {"lamp bracket bolts": fasteners(4, "M6", 16, "socket_cap", "5", "steel", "two each side",
                                              **torque(10, "8-1"))},
             (kitchen(264, pieces=2),
              figure("worked_out", 310, pieces=2, weighed_as="going_on",
                     source="From the drawing: 2 plates of 3 mm steel, 66 cm² each")))


def found_on_her(ilvane: Phone, torrec: Phone) -> None:
    """What somebody fitted before, and what is only planned."""
    take_off(ilvane, "alarm", {"name": "Alarm unit", "place": "electrics", "side": "left", "came_in": "accessory",
                               "outcome": "stays_off"}, "5",
             {"alarm screws": fasteners(2, "M5", 20, "cross", "PH2", "plastic", "on the battery tray")},
             (figure("estimated", 350, maturity="guess", source="By hand, with its siren"),))
    log_part(ilvane, "rack", {"name": "Carrier rack", "place": "luggage", "side": "middle", "came_in": "accessory"},
             {"rack bolts": fasteners(4, "M8", 20, "flange_hex", "13", "steel", "two each side")},
             (figure("document", 2900, source="Plate riveted to the rack: 2.9 kg"),))
    log_part(torrec, "toolbox bracket", {"name": "Toolbox bracket", "place": "frame", "side": "left",
                                         "outcome": "stays_off", "note": "Planned, the rack comes off first."},
             {"toolbox bracket bolts": fasteners(2, "M6", 16, "flange_hex", "10", "steel", "under the rack")},
             (figure("estimated", 180, maturity="known"),))
    log_part(torrec, "horn", {"name": "Horn", "place": "electrics", "side": "middle", "outcome": "moved",
                              "note": "Planned: to the left down tube, clear of the strut."},
             {"horn bolt": fasteners(1, "M8", 16, "flange_hex", "12", "steel", "on its spring plate")},
             (figure("estimated", 260, maturity="known"),))
    item(torrec, "item horn", "move", "Horn to the left down tube, lead 30 cm longer.", "horn")


def two_counts(log: Log, ilvane: Phone, torrec: Phone) -> None:
    """Both count the same screws with no signal; neither has the other's count on the screen."""
    log.in_contact = False
    change(ilvane, "inner mudguard screws", "group", count=7)
    torrec.pause(600)
    change(torrec, "inner mudguard screws", "group", count=8)
    log.in_contact = True
    log.share()


def end(ilvane: Phone, torrec: Phone) -> None:
    torrec.pause()
    move(torrec, "stand bolts", 2, "bag", "spares", from_bag="6")
    item(ilvane, "item springs", "check", "Sag with the rider up: measure again when the sidecar is on.")
    ilvane.pause(900)
    ilvane.write("work", spell=ilvane.log.id("spell 2"), act="ends")
    ilvane.log.share()


def play(log: Log, ilvane: Phone, torrec: Phone) -> None:
    begin(log, ilvane)
    for chapter in (tail, exhaust_and_drive, suspension, found_on_her):
        chapter(ilvane, torrec)
    two_counts(log, ilvane, torrec)
    end(ilvane, torrec)
