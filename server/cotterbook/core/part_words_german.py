"""German words of parts by the English ones that the rules know. Trade usage, common practice, no source.

Without marks, as `part_names` looks for them: "a" is "ä", "ss" is "ß" and "sss". What stands here may be a piece of a
compound, first or last ("bremsschlauch" and "halter"), and the longest piece counts: "luftfilterkasten" is no filter.
"""

from typing import Any

from .part_words import BETWEEN

# fmt: off
# English: German.
GERMAN_WORDS = {
    # Where, and which.
    "front": "vorder vorn vorne front", "rear": "hinter hinten heck", "left": "li link links linksseitig",
    "right": "re recht rechts rechtsseitig", "upper": "ober oben oberteil", "lower": "unter unten unterteil",
    "inner": "inner innen", "outer": "ausser aussen", "middle": "mittler mitte mittig",
    "side": "seite seiten seitlich", "both": "beide beidseitig", "pair": "paar", "set": "satz", "new": "neu",
    "old": "alt", "long": "lang", "short": "kurz", "small": "klein", "spare": "ersatz", "main": "haupt",
    "plastic": "kunststoff plastik", "rubber": "gummi", "steel": "stahl edelstahl", "metal": "metall blech",
    "alloy": "alu aluminium", "carbon": "kohlefaser", "chrome": "chrom", "chromed": "verchromt",
    "assembly": "baugruppe komplett", "protective": "schutzend",
    # Brakes.
    "brake": "brems bremse", "brake caliper": "bremssattel bremsattel bremszange",
    "caliper": "schwimmsattel festsattel", "brake disc": "bremsscheibe", "brake pad": "bremsbelag bremsklotz",
    "brake lever": "handbremshebel", "brake pedal": "fussbremshebel fussbremse bremsfusshebel",
    "brake hose": "stahlflexleitung stahlflex",
    "brake master cylinder": "hauptbremszylinder handbremszylinder fussbremszylinder handbremspumpe bremspumpe",
    "wheel cylinder": "radbremszylinder", "brake fluid": "bremsflussigkeit", "pad": "belag klotz",
    "brake fluid reservoir": "bremsflussigkeitsbehalter", "bleed nipple": "entluftungsnippel entlufternippel",
    "bleed screw": "entluftungsschraube entlufterschraube", "bleed": "entluftung entlufter",
    "banjo bolt": "hohlschraube", "banjo": "ringauge ringstuck", "piston": "kolben", "drum": "trommel",
    "brake light switch": "bremslichtschalter", "shoe": "backe", "abs": "abs",
    # Clutch, gears, engine.
    "clutch": "kupplung", "gear": "gang schalt schaltung", "gear lever": "schalthebel fusschalthebel ganghebel",
    "gear linkage": "schaltgestange", "gearbox": "getriebe", "engine": "motor triebwerk", "cylinder": "zylinder",
    "cylinder head": "zylinderkopf", "cylinder head gasket": "zylinderkopfdichtung kopfdichtung",
    "head gasket": "zylinderdichtung", "crankcase": "kurbelgehause motorgehause", "crankshaft": "kurbelwelle",
    "camshaft": "nockenwelle", "valve": "ventil", "valve cover": "ventildeckel", "alternator": "lichtmaschine lima",
    "alternator cover": "lichtmaschinendeckel limadeckel", "starter": "anlasser", "starter engine": "anlassermotor",
    "master cylinder": "geberzylinder hauptzylinder", "slave cylinder": "nehmerzylinder", "oil": "ol motorol",
    "oil cooler": "olkuhler", "oil pan": "olwanne", "oil drain plug": "olablasschraube", "oil drain": "olablass",
    "drain plug": "ablasschraube", "drain": "ablass", "oil level": "olstand", "oil pressure": "oldruck",
    "slave": "nehmer", "engine mount": "motorhalter motorhalterung motoraufhangung",
    # Air, fuel, exhaust, water.
    "air": "luft", "air filter": "luftfilter luftfiltereinsatz", "air box": "luftfilterkasten luftfiltergehause",
    "filter": "filter", "intake": "ansaug einlass", "carburettor": "vergaser", "float bowl": "schwimmerkammer",
    "injector": "einspritzduse", "throttle body": "drosselklappe drosselklappenkorper drosselklappengehause",
    "fuel": "benzin kraftstoff sprit", "fuel tank": "benzintank kraftstofftank", "tank": "tank",
    "fuel tap": "benzinhahn kraftstoffhahn", "tap": "hahn", "fuel cap": "tankdeckel tankverschluss",
    "tank cover": "tankabdeckung tankverkleidung", "throttle": "gas", "throttle cable": "gaszug gasbowdenzug",
    "throttle grip": "gasgriff gasdrehgriff", "choke": "choke kaltstart", "exhaust": "auspuff abgas",
    "exhaust header": "krummer auspuffkrummer", "silencer": "schalldampfer auspufftopf endtopf endschalldampfer",
    "catalyst": "katalysator kat", "heat shield": "hitzeschutz hitzeschild hitzeblech hitzeschutzblech",
    "exhaust heat shield": "auspuffblende auspuffhitzeschutz", "coolant": "kuhlwasser kuhlmittel kuhlflussigkeit kuhl",
    "radiator": "kuhler wasserkuhler", "fan": "lufter ventilator kuhlerlufter", "water": "wasser",
    "radiator guard": "kuhlergrill kuhlerschutz kuhlerschutzgitter kuhlerblende", "thermostat": "thermostat",
    "expansion tank": "ausgleichsbehalter ausgleichbehalter", "overflow": "uberlauf", "breather": "entluftungs",
    "reservoir": "behalter vorratsbehalter", "bottle": "flasche", "pump": "pumpe", "vacuum": "unterdruck",
    # Wheels, fork, swing arm, chain.
    "wheel": "rad laufrad", "rim": "felge", "tyre": "reifen", "inner tube": "luftschlauch", "hub": "nabe",
    "spoke": "speiche", "axle": "achs achse radachse steckachse", "bearing": "lager",
    "steering bearing": "lenkkopflager steuerkopflager", "fork": "gabel telegabel telegabeln",
    "fork leg": "gabelholm holm gabelbein", "fork stanchion": "standrohr gabelstandrohr", "fork slider": "tauchrohr",
    "fork seal": "gabelsimmerring gabeldichtring", "fork brace": "gabelstabi gabelstabilisator gabelbrace",
    "brace": "stabilisator strebe", "gaiter": "faltenbalg balg gummibalg", "sleeve": "hulse schutzhulse",
    "top yoke": "gabelbrucke gabelkrone", "swing arm": "schwinge hinterradschwinge", "spring": "feder",
    "rear shock absorber": "federbein zentralfederbein", "shock absorber": "stossdampfer", "damper": "dampfer",
    "steering damper": "lenkungsdampfer", "steering": "lenkung", "linkage": "umlenkung", "link": "glied",
    "linkage lever": "umlenkhebel", "chain": "kette antriebskette", "chain adjuster": "kettenspanner",
    "chain slider": "kettenschleifer", "chain guard": "kettenschutz kettenschutzblech",
    "rear sprocket": "kettenrad kettenblatt", "front sprocket": "ritzel antriebsritzel", "sprocket": "zahnkranz",
    "front sprocket cover": "ritzelabdeckung ritzeldeckel", "drive belt": "zahnriemen antriebsriemen",
    "belt": "riemen keilriemen", "propeller shaft": "kardan", "cam chain": "steuerkette",
    # Handlebar, footrests, seat.
    "handlebar": "lenker lenkstange stummellenker", "lever": "hebel", "pedal": "pedal", "grip": "griff lenkergriff",
    "bar end weight": "lenkergewicht lenkerendgewicht lenkerende", "mirror": "spiegel ruckspiegel aussenspiegel",
    "hand guard": "handprotektor handschutz handschutzer", "footrest": "fussraste raste trittbrett",
    "footrest hanger": "rastentrager fussrastentrager fussrastenhalter rastenhalter rastenanlage fussrastenanlage",
    "passenger": "sozius beifahrer", "rider": "fahrer", "heel guard": "fersenschutz fersenschutzer",
    "seat": "sitz sitzbank sattel", "seat latch": "sitzbankschloss sitzbankverriegelung", "latch": "verriegelung",
    "grab rail": "haltegriff haltebugel soziusgriff soziusbugel", "backrest": "ruckenlehne lehne",
    "seat cover": "sitzbezug sitzbankbezug", "foam": "polster sitzpolster schaumstoff",
    # Stands, frame, luggage, guards.
    "stand": "stander", "centre stand": "hauptstander mittelstander", "side stand": "seitenstander", "frame": "rahmen",
    "subframe": "heckrahmen hilfsrahmen rahmenheck", "crossmember": "quertrager traverse", "strut": "stutze",
    "carrier": "trager gepacktrager gepackbrucke", "rear carrier": "hecktrager", "luggage": "gepack",
    "pannier": "koffer packtasche satteltasche seitenkoffer", "pannier frame": "koffertrager kofferrahmen",
    "topcase": "topcase", "tool": "werkzeug bordwerkzeug", "crash bar": "sturzbugel schutzbugel",
    "tool box": "werkzeugkasten werkzeugfach werkzeugbox werkzeugrolle", "box": "kasten fach", "bag": "tasche",
    "guard": "schutz schutzer schutzblende", "protector": "protektor", "shield": "schild",
    "sump guard": "motorschutz motorschutzplatte motorschutzblech unterfahrschutz olwannenschutz",
    "sidecar": "beiwagen seitenwagen", "rail": "schiene", "handle": "bugel",
    # Bodywork.
    "mudguard": "schutzblech kotflugel radabdeckung spritzschutz schmutzfanger", "flap": "lappen",
    "fairing": "verkleidung", "upper fairing": "verkleidungsoberteil oberverkleidung frontverkleidung kanzel",
    "belly pan": "bugspoiler motorspoiler bugverkleidung", "side panel": "seitendeckel seitenverkleidung seitenteil",
    "tail unit": "heckteil heckverkleidung heckburzel heckhocker", "undertray": "heckunterverkleidung heckunterteil",
    "windscreen": "windschild windschutzscheibe verkleidungsscheibe frontscheibe windschutz", "panel": "blende",
    "cover": "abdeckung deckel gehausedeckel", "cap": "kappe verschluss", "lid": "klappe", "housing": "gehause",
    "plate": "platte", "tray": "ablage", "mask": "lampenmaske maske", "badge": "schriftzug plakette",
    "sticker": "aufkleber", "decal": "dekor", "trim": "zierleiste", "strip": "leiste",
    # Lamps and electrics.
    "headlamp shell": "lampentopf", "headlamp rim": "scheinwerferring lampenring", "engine block": "motorblock",
    "ball joint": "kugelgelenk", "headlamp bracket": "lampenhalter lampenhalterung",
    "headlamp": "scheinwerfer frontscheinwerfer hauptscheinwerfer", "lamp": "lampe leuchte licht",
    "tail lamp": "rucklicht ruckleuchte heckleuchte schlussleuchte", "brake lamp": "bremslicht bremsleuchte",
    "foglamp": "nebelscheinwerfer nebellampe", "spotlamp": "zusatzscheinwerfer fernscheinwerfer",
    "indicator": "blinker blinkleuchte fahrtrichtungsanzeiger",
    "warning lamp": "kontrollleuchte warnleuchte kontrolllampe", "bulb": "birne gluhlampe gluhbirne leuchtmittel",
    "glass": "glas", "lens": "linse streuscheibe", "reflector": "reflektor ruckstrahler katzenauge",
    "number plate": "kennzeichen nummernschild",
    "number plate bracket": "kennzeichenhalter kennzeichentrager nummernschildhalter",
    "number plate lamp": "kennzeichenleuchte kennzeichenbeleuchtung", "battery": "batterie akku",
    "battery tray": "batteriekasten batteriefach batteriehalter", "coil": "zundspule spule", "spark plug": "zundkerze",
    "plug": "stopfen", "connector": "stecker", "ignition": "zund zundung", "ignition lock": "zundschloss lenkschloss",
    "lock": "schloss", "key": "schlussel", "horn": "hupe signalhorn", "relay": "relais", "fuse": "sicherung",
    "fuse box": "sicherungskasten", "switch": "schalter taster armatur", "sensor": "sensor fuhler geber messfuhler",
    "regulator": "regler spannungsregler laderegler", "controller": "steuergerat", "charger": "ladegerat",
    "loom": "kabelbaum", "instrument": "instrument cockpit armaturenbrett armaturen anzeige",
    "speedometer": "tacho tachometer", "speedometer cable": "tachowelle", "rev counter": "drehzahlmesser",
    "electric": "elektrik elektro strom", "neutral": "leerlauf", "level": "fullstand", "temperature": "temperatur",
    "pressure": "druck",
    # Lines, and what holds them.
    "hose": "schlauch", "line": "leitung flexleitung", "pipe": "rohr", "cable": "kabel zug bowdenzug seil",
    "wire": "draht litze", "coolant hose": "kuhlerschlauch kuhlwasserschlauch",
    "bracket": "halter halterung halteblech halteplatte befestigung aufnahme", "guide": "fuhrung",
    "clamp": "klemme klemmung schelle klemmschelle", "hose clamp": "schlauchschelle", "clip": "klammer klips",
    "cable tie": "kabelbinder", "grommet": "tulle kabeltulle durchfuhrung", "eyelet": "ose",
    "strap": "band riemchen spannband", "hook": "haken", "channel": "kanal kabelkanal",
    # Fasteners and small things.
    "screw": "schraube sechskantschraube innensechskantschraube", "bolt": "bolzen stehbolzen",
    "nut": "mutter kontermutter", "washer": "unterlegscheibe beilagscheibe federscheibe federring", "module": "modul",
    "spacer": "distanz distanzhulse abstandshalter", "bush": "buchse", "pin": "stift", "cotter pin": "splint",
    "rivet": "niet", "circlip": "sicherungsring sprengring seegerring", "gasket": "dichtung flachdichtung",
    "seal": "simmerring dichtring wellendichtring", "adjuster": "einsteller", "adapter": "zwischenstuck",
    "insert": "einsatz", "ball": "kugel", "shaft": "welle", "rod": "stange", "knob": "knopf", "button": "druckknopf",
    "hinge": "scharnier", "mat": "matte", "weight": "gewicht", "end": "endstuck",
    # "Scheibe" is a disc, a washer or a windscreen: the wheel's disc, as in most compounds.
    "disc": "scheibe",
    # Between two of them: what has something is called by that ("Spiegel mit Halter" is a mirror).
    "for": "fur mit samt ohne", "of": "von vom der des aus", "on": "am an auf im in", "to": "zum zur zu",
    "the": "die das den dem ein eine einer und",
}
# fmt: on
# What is first of two words and has the other after it without any word between: "Halter Bremsschlauch".
GERMAN_FIRST = (
    "abdeckung", "befestigung", "deckel", "dichtung", "fuhrung", "halter", "halterung", "klammer", "mutter",
    "schelle", "schlauch", "schraube", "schutz",
)  # fmt: skip
# Words that are English or Spanish as well, where they may be another thing: no sign of a German name by themselves.
# "Rad" is a radiator to many in Britain.
GERMAN_DOUBTFUL = (
    "alt", "alter", "alts", "alu", "aluminium", "an", "band", "bands", "den", "die", "front", "gang", "in", "lang",
    "li", "lima", "motor", "rad", "rads", "re", "traverse",
)  # fmt: skip
# A word of more letters is none.
LONGEST_WORD = 50
JOINTS = ("s", "n", "en", "es", "er", "e")
ENDINGS = ("e", "n", "s", "en", "er", "es", "em", "ern")
GERMAN = {word: english for english, words in GERMAN_WORDS.items() for word in words.split()}


def bare(word: str) -> str:
    """Without its umlauts, however they are written; "ue" behind a vowel or a q is none."""
    word = word.replace("ae", "a").replace("oe", "o").replace("sss", "ss")
    at = word.find("ue", 1)
    while at > 0:
        if word[at - 1] not in "aeioq":
            word = word[:at] + "u" + word[at + 2 :]
        at = word.find("ue", at + 1)
    return word[:1] + word[2:] if word.startswith("ue") else word


def german_word(word: str) -> Any:
    """What a German word means, taken apart where it is a compound, or None."""
    plain = bare(word)
    return _apart(plain, {}) if len(plain) <= LONGEST_WORD else None


def ended(word: str) -> Any:
    if word in GERMAN:
        return GERMAN[word]
    for ending in ENDINGS:
        stem = word[: len(word) - len(ending)]
        if len(stem) > 2 and word.endswith(ending) and stem in GERMAN:
            return GERMAN[stem]
    return None


def _apart(word: str, failed: dict[str, bool]) -> Any:
    """The longest piece first, then, behind a joint or none, what is left; a letter that both share may be missing."""
    whole = ended(word)
    if whole is not None or word in failed:
        return whole
    for cut in range(len(word) - 2, 1, -1):
        piece = GERMAN.get(word[:cut])
        if piece is None or piece in BETWEEN:
            continue
        rests = [word[cut:]] + [word[cut + len(joint) :] for joint in JOINTS if word[cut:].startswith(joint)]
        for rest in rests + [word[cut - 1 :]]:
            last = _apart(rest, failed) if 2 < len(rest) < len(word) else None
            if last is not None and last not in BETWEEN:
                return piece + " " + last
    failed[word] = True
    return None
