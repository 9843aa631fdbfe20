"""Which names of the trade each rule knows, British and American, and which it leaves alone.

The names and what they are: common practice, no source.
"""

from typing import Any

import pytest

from cotterbook.core.follows import firing
from cotterbook.core.part_words import plain_words, what_of
from cotterbook.core.strip import Strip
from vectors.cases import FIRST_AT, identifier

STRIP, PART = identifier("@strip"), identifier("@part")
ABOUT = {"thing": PART, "type": "part"}
GONE = {"off": True, "outcome": "stays_off"}
MOVED = {"outcome": "moved", "outcome_done": True, "off": False}


def fired(name: Any, place: str, *values: Any) -> list[str]:
    strip = Strip(STRIP)
    for number, each in enumerate(values):
        own = {"id": identifier(f"@entry {number}"), "at": FIRST_AT + number}
        own["values"] = {"name": name, "place": place} | each
        strip.add([own | {"strip": STRIP, "by": identifier("@phone"), "who": "Ann", "kind": "set"} | ABOUT])
    return [each["rule"] for each in firing(strip) if each["part"] == PART]


def off_and_on(name: Any, place: str) -> list[str]:
    return fired(name, place, {"off": True, "outcome": "goes_back"}, {"off": False, "outcome_done": True})


def gone(name: Any, place: str) -> list[str]:
    return fired(name, place, GONE)


def moved(name: Any, place: str) -> list[str]:
    return fired(name, place, MOVED)


# (rule, what is done, place: names by commas)
FIRES = (
    ("free_line", gone, {
        "frame": "Cable guide, Wire loom clip, Hose clip, P-clip, Clip for the wiring harness, Cable tie, Brake "
        "line bracket, Throttle cable guide, Clutch cable holder, Wiring grommet, Lead clip, Loom strap, "
        "Harness clamp, Cable stay, Brake hose retainer, Brake pipe clip, Fuel line clip, Guide of the "
        "speedometer cable, Zip tie, Guide, "
        "Loom cover, Cover of the rear loom, Brake hose guard, Cable sleeve, Water pipe clip, Breather pipe clip",
        "fork": "Brake hose guide, Hose guide, Brake line clamp, Fork brace, Kabelhalter",
        "front_end": "Headlight bracket, Front fender, Gauge bracket, Lampenhalter, Soporte de faro, Fairing stay",
        "tail": "License plate holder, Rear fender, Hugger, Kennzeichenhalter, Licence plate bracket",
        "front_brake": "Caliper bracket, Zwischenhalter",
        "engine": "Skid plate, Bash plate, Cable loop",
    }),
    ("stones", gone, {
        "fork": "Protective sleeve, Sleeves, Fork sleeve, Fork protectors, Fork gaiters, Fork gators, Fork boots, "
        "Gaiters, Boots, Fork shrouds, Shroud, Fork covers, Fork guards, Fork tube guards, Stanchion "
        "protectors, Fork leg covers, Bellows, Fork bellows, Rubber boots, Rubber gaiters, Dust covers, "
        "Sleeves for the fork tubes, Upper fork covers, Lower fork covers, Left fork sleeve, Faltenbalg, "
        "Fuelle, Carbon fork guards, Slider protectors, Stone guard, Protector, Plastic sleeve",
        "front_end": "Front fender, Front mudguard, Protective sleeve, Gaiters, Fork sleeves, Fender",
        "other": "Fork gaiter",
    }),
    ("lamp_aim", moved, {
        "front_end": "Headlight, Headlamp, Head light, Lamp, Light, Head-lamp unit, Headlight bracket, Lamp stay, "
        "Headlight ears, Headlamp bowl, Headlamp shell, Headlight nacelle, Front indicators, Turn "
        "signals, Front turn signals, Winkers, Indicator stalks, Indicator brackets, Turn signal mount, "
        "Spotlamps, Fog lamps, Fog light bracket, Headlamp bulb, Headlight rim, Headlamp glass, Headlamp "
        "mask, Driving lights, Bracket for the headlamp, Fairing bracket",
        "tail": "Tail light, Taillight, Tail lamp bracket, Rear light, Brake light, Number plate light, Stop "
        "lamp, Blinkers, License plate holder, Tail unit",
    }),
    ("load_bearing", gone, {
        "front_end": "Headlight bracket, Lamp stay, Fairing stay, Instrument mount, Gauge bracket, Windshield bracket",
        "exhaust": "Exhaust pipe bracket, Silencer bracket, "
        "Muffler bracket, Exhaust hanger, Muffler hanger, Exhaust support",
        "engine": "Engine mount, Engine bracket, Engine hanger, Radiator bracket, Head steady bracket, Coil bracket",
        "frame": "Toolbox bracket, Subframe, Frame brace, Crossmember, Down tube brace, Quertraeger, Engine guard "
        "bars, Seat rail, Strut",
        "fork": "Triple clamp, Triple tree, Upper triple clamp, Fork brace",
        "footrests": "Footpeg bracket, Passenger footpeg hangers",
        "front_brake": "Caliper bracket",
        "tail": "License plate holder, Rear fender stay, Grab rail bracket",
    }),
    ("road", gone, {
        "front_end": "Front fender, Fender, Headlight, Headlamp, Front turn signals, Indicators, Fog lamp, Mudflap, "
        "Speedometer, Speedo, Front mudguard extension, Horns",
        "tail": "Tail light, Taillight, License plate holder, License plate, Licence plate, Number plate, "
        "Registration plate, Plate, Rear fender, Fender eliminator, Hugger, Reflector, Number plate "
        "light, Brake light, Winkers, Blinkers",
        "handlebar": "Mirror, Left mirror, Mirror glass, Rear view mirrors, Bar-end mirrors",
        "exhaust": "Silencer, Muffler, Silencers, Catalytic converter, Baffle, Exhaust",
        "frame": "Side stand, Sidestand, Kickstand, Center stand, Centre stand, Stand",
        "rear_wheel": "Belt guard, Chainguard, Chain guard",
    }),
    ("bleed", off_and_on, {
        "front_brake": "Brake hose, Brake line, Brake lines, Hose, Front brake hose, Braided brake line, Brake pipe, "
        "Banjo, Banjo bolt, Brake hose banjo bolt, Bleed nipple, Bleed screw, Bleeder, Bleeder screw, Caliper "
        "pistons, Brake pistons",
        "handlebar": "Hose for front brake, Clutch hose, Hydraulic clutch line",
        "cooling": "Radiator, Radiator hose, Upper radiator hose, Coolant hose, Hose, Hoses, Water pump, Thermostat, "
        "Oil cooler, Thermostat housing, Water hose, Oil cooler line, Oil cooler hoses, Coolant pipe, "
        "Water pump cover, Heater hose",
        "engine": "Drain bolt, Oil drain bolt, "
        "Oil filter, Oil line, Oil pipe, Sump, Oil pan, Drain plug, Oil drain plug, Sump plug, Oil pump, "
        "Water pump, Oil filter cover, Oil filter housing",
        "tank": "Fuel line, Fuel hose, Fuel tap, Petcock, Fuel filter, Fuel pump, Petrol tap, Gas line",
        "fork": "Fork seals, Fork seal, Fork cartridge",
    }),
    ("opened", off_and_on, {
        "handlebar": "Front brake master cylinder, Brake master cylinder, Clutch master cylinder, Master cylinder, "
        "Brake reservoir",
        "front_brake": "Front caliper, Brake caliper, Calliper, Brake calipers, Bremssattel, Wheel cylinder, "
        "Zwischenhalter",
        "rear_brake": "Rear brake caliper, Rear master cylinder, Brake fluid reservoir",
        "engine": "Clutch slave cylinder, Slave cylinder, Clutch cover, Crankcase cover, Cylinder head, Cylinders, "
        "Engine, Head gasket, Stator cover, Oil pressure switch, Oil tank",
        "fork": "Fork leg, Left fork leg, Fork legs, Forks, Fork tube, Stanchion, Fork cap, Fork slider",
        "cooling": "Radiator cap, Expansion tank, Coolant reservoir, Overflow bottle, Ausgleichsbehaelter",
        "tank": "Fuel sender, Fuel level sensor",
        "intake": "Float bowl, Carb bowl, Carburetor, Carburettors, Carbs, Throttle bodies, Fuel rail, Injectors",
    }),
)  # fmt: skip
SILENT = (
    ("free_line", gone, {
        "frame": "Fairing clip, Chain guide, Side panel, Frame plug, Tool tray, Seat bolt, Fuse box, Regulator, "
        "Centre stand",
        "engine": "Valve guide, Chain guide, Clutch cover, Clutch lever, Oil filter, Starter motor, Cylinder head, "
        "Sprocket, Spark plug",
        "exhaust": "Exhaust clamp, Silencer strap, Silencer, Heat shield, Muffler, Exhaust pipe bracket, Exhaust pipe "
        "shield, Exhaust pipe guard, Header pipe cover",
        "electrics": "Lead acid battery strap, Battery strap",
        "intake": "Intake pipe clamp",
        "front_end": "Windshield, Mirror, Screen bolt, Fairing badge, Horn",
        "fork": "Fork seal, Fork spring, Fork gaiters, Fork leg",
        "tail": "Grab rail, Tail badge, Seat lock, Seat latch, Pillion seat, Reflector",
        "seat": "Seat, Seat strap, Seat bracket",
        "side": "Zierblende",
    }),
    ("stones", gone, {
        "fork": "Fork brace, Fork cap, Fork seal, Fork spring, Brake hose guide, Cable sleeve, Steering stem "
        "cover, Disc cover, Axle cover, Fork top cover bolt, Fork bolt cap, Top yoke, Reflector, Mudguard "
        "stay, Fork lock cover, Wheel shroud",
        "front_end": "Headlamp cover, Wiring sleeve, Cable boot, Instrument shroud, Headlight protector, Cover, Boot, "
        "Radiator guard",
        "handlebar": "Hand guards, Lever boot, Handlebar cover, Cable sleeve, Protector",
        "tail": "Rear fender, Mudguard, Fender",
        "engine": "Engine guard, Spark plug boot, Case protectors, Sump guard",
        "seat": "Seat cover",
        "tank": "Tank protector",
        "rear_wheel": "Rear hugger",
        "swing_arm": "Swingarm protector",
    }),
    ("lamp_aim", moved, {
        "front_end": "Horn, Windshield, Neutral light, Warning lights, Instrument light, Oil pressure light, "
        "Speedometer, Mirror, Screen, Fork brace, Gauge",
        "electrics": "Indicator relay, Turn signal relay, Flasher relay, Light switch, Brake light switch, Battery, "
        "Headlight fuse, Lamp loom, Indicator wire, Coil, Horn",
        "handlebar": "Indicator switch, Turn signal switch, Light alloy lever, Mirror, Grips, Clutch lever, Switch for "
        "the lights",
        "engine": "Gear indicator, Fuel level indicator, Temperature indicator, Light alloy cover, Lightweight "
        "flywheel",
        "rear_wheel": "Light alloy rim, Wear indicator",
        "tail": "Grab rail, Seat lock, Reflector, Rear fender",
    }),
    ("load_bearing", gone, {
        "frame": "Cable guide, Wire loom clip, Cable clip, Side stand, Center stand, Kickstand, Horn, Frame plug, "
        "Frame badge, Side panel, Side cover, Wiring loom, Brake hose bracket, Cable tie, Grommet, "
        "Sticker, Frame cap, Frame guard, Regulator relay, Tool strap, Battery cover, Brake line bracket, "
        "Loom bracket, Seat lock, Battery",
        "engine": "Clutch cover, Oil filter, Sprocket cover, Spark plug, Engine badge",
        "front_end": "Headlight, Windshield, Turn signals, Fender",
        "tail": "Tail light, Reflector, Plate, Seat cowl",
        "side": "Zierblende",
        "exhaust": "Muffler, Heat shield",
    }),
    ("road", gone, {
        "front_end": "Windshield, Fairing, Headlight relay, Horn relay, Horn button, Mirror bolt, Fender bolt, Turn "
        "signal relay, Headlight bracket, Indicator wire, Neutral light, Instrument light, Headlamp loom, "
        "Lamp bracket",
        "frame": "Side stand spring, Stand switch, Side stand switch, Standpipe, Frame plug",
        "exhaust": "Silencer clamp, Muffler gasket, Exhaust gasket, Exhaust valve, Silencer bracket, Exhaust heat "
        "shield, Exhaust header",
        "tail": "Seat, Grab rail, Number plate bolt, Tail badge, Pillion seat",
        "engine": "Clutch plate, Pressure plate, Skid plate, Gear indicator, Light alloy cover",
        "handlebar": "Grips, Hand guards, Clutch lever",
        "rear_wheel": "Sprocket, Light alloy rim",
    }),
    ("bleed", off_and_on, {
        "front_brake": "Brake hose guide, Brake line bracket, Brake pads, Brake disc, Brake caliper, Brake rotor, Hose "
        "clip, Speedometer cable, Caliper bolt, Brake disc bolt",
        "rear_wheel": "Grease nipple, Spoke nipple",
        "rear_brake": "Brake pedal, Brake rod, Brake shoes, Brake lever, Torque arm",
        "handlebar": "Clutch cable, Throttle cable, Clutch lever, Brake lever",
        "cooling": "Radiator guard, Radiator cover, Radiator bracket, Radiator fan, Radiator shroud, Radiator grille",
        "engine": "Piston, Pistons, Sump guard bolt, "
        "Air filter, Spark plug, Sump guard, Breather hose, Crankcase breather hose, Sprocket cover, Oil "
        "level window, Pump cover, Chain guide, Clutch cover, Cam chain",
        "intake": "Air filter, Air hose, Intake pipe, Vacuum hose",
        "exhaust": "Exhaust pipe, Down pipe, Tail pipe, Header pipe",
        "tank": "Fuel tank, Tank cover, Overflow hose, Fuel cap, Petrol tank",
        "fork": "Fork brace, Fork gaiters, Fork leg",
    }),
    ("opened", off_and_on, {
        "front_brake": "Brake hose guide, Brake pads, Brake disc, Caliper bracket, Caliper bolt, Brake hose, "
        "Brake line bracket",
        "handlebar": "Clutch lever, Brake lever, Throttle cable, Master cylinder bracket, Master cylinder clamp, "
        "Mirror",
        "fork": "Fork brace, Fork gaiters, Fork sleeve, Fork guard, Top yoke, Steering damper, Fork protectors, "
        "Brake hose guide",
        "engine": "Gear lever, Sprocket cover, Selector fork, Shift fork, Spark plug, Engine guard, Engine mount, "
        "Engine bracket, Gear fork",
        "cooling": "Radiator, Radiator guard, Radiator hose, Radiator fan, Radiator bracket",
        "intake": "Air filter, Air box, Carburettor clamp, Choke cable",
        "tank": "Fuel tank, Fuel cap, Tank pad",
        "frame": "Steering head, Tool box, Luggage rail",
        "tail": "Grab rail, Zierblende",
    }),
)  # fmt: skip


def names(table: Any) -> list[Any]:
    return [
        pytest.param(rule, done, name.strip(), place, id=f"{rule}: {name.strip()} at {place}")
        for rule, done, places in table
        for place, text in places.items()
        for name in text.split(",")
        if name.strip()
    ]


@pytest.mark.parametrize(("rule", "done", "name", "place"), names(FIRES))
def test_it_fires(rule: str, done: Any, name: str, place: str) -> None:
    assert rule in done(name, place)


@pytest.mark.parametrize(("rule", "done", "name", "place"), names(SILENT))
def test_it_is_silent(rule: str, done: Any, name: str, place: str) -> None:
    assert rule not in done(name, place)


def test_each_rule_by_name_has_thirty_names_that_fire_it_and_thirty_that_do_not() -> None:
    for table in (FIRES, SILENT):
        for rule, _, places in table:
            assert len([name for text in places.values() for name in text.split(",")]) >= 30, rule


@pytest.mark.parametrize(
    ("name", "words", "what"),
    [
        ("Hose for the front brake", "front brake hose", "hose"),
        ("Brake hose, front", "front brake hose", "hose"),
        ("Head-light", "headlamp", "headlamp"),
        ("Turn signals, rear (pair)", "rear pair indicator", "indicator"),
        ("Rear shock", "rear shock absorber", "absorber"),
        ("Rear shock absorber", "rear shock absorber", "absorber"),
        ("Triple clamp, lower", "lower top yoke", "yoke"),
        ("License plate holder", "number plate bracket", "bracket"),
        ("Light alloy rim", "alloy rim", "rim"),
        ("", "", ""),
        (None, "", ""),
    ],
)
def test_names_are_read_in_the_words_of_the_list(name: Any, words: str, what: str) -> None:
    assert plain_words(name) == words.split()
    assert what_of(plain_words(name)) == what


def test_what_certainly_opens_a_system_is_not_asked_about_as_well() -> None:
    for name, place in (("Brake hose", "front_brake"), ("Hose", "cooling"), ("Fork seal", "fork")):
        rules = off_and_on(name, place)
        assert "bleed" in rules and "opened" not in rules


def test_nothing_is_asked_of_what_was_never_touched() -> None:
    for name, place in (("Brake hose", "front_brake"), ("Brake caliper, front", "front_brake"), ("Fork leg", "fork")):
        assert fired(name, place, {}) == []
