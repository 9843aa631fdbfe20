"""Spanish words of parts by the English ones that the rules know. Trade usage, common practice, no source.

Of Spain and of the Americas. Without marks, in the singular and in the masculine; several words that are one thing have
their "de" and no article: "caja de filtro de aire".
"""

from typing import Any

# fmt: off
# English: Spanish, between commas.
SPANISH_WORDS = {
    # Where, and which.
    "front": "delantero, frontal", "rear": "trasero, posterior", "left": "izquierdo, izda", "right": "derecho, dcha",
    "upper": "superior, alto, arriba", "lower": "inferior, bajo, abajo", "inner": "interior, interno",
    "outer": "exterior, externo", "middle": "central, medio", "side": "lateral, lado", "both": "ambos", "pair": "par",
    "set": "juego, conjunto", "new": "nuevo", "old": "viejo, antiguo", "long": "largo", "short": "corto",
    "small": "pequeno", "spare": "repuesto, recambio", "main": "principal", "plastic": "plastico",
    "rubber": "goma, caucho", "steel": "acero", "metal": "metal, metalico, chapa", "alloy": "aluminio, aleacion",
    "carbon": "carbono", "chromed": "cromado", "assembly": "completo",
    # Brakes.
    "brake": "freno", "caliper": "pinza, mordaza, caliper de freno", "disc": "disco", "pad": "pastilla, balata",
    "brake lever": "maneta de freno", "brake hose": "latiguillo, latiguillo de freno, latiguillo de frenos",
    "master cylinder": "bomba de freno trasero, bomba de freno delantero, cilindro maestro",
    "brake master cylinder": "bomba de freno, cilindro de freno", "clutch master cylinder": "bomba de embrague",
    "bleed nipple": "purgador", "bleed screw": "tornillo de purga, tornillo de sangrado", "bleed": "purga, sangrado",
    "banjo bolt": "tornillo hueco, tornillo banjo, racor hueco", "piston": "embolo", "drum": "tambor",
    "shoe": "zapata", "fluid": "liquido, fluido", "clutch line": "latiguillo de embrague",
    "brake fluid reservoir": "deposito de liquido de freno, deposito de liquido de frenos, vaso de liquido de freno, "
    "vaso de liquido de frenos",
    # Clutch, gears, engine.
    "clutch": "embrague, clutch", "gear": "cambio, marcha, engranaje", "gearbox": "caja de cambio, caja de cambios",
    "gear lever": "palanca de cambio, palanca de cambios, pedal de cambio, pedal de cambios", "engine": "motor",
    "cylinder": "cilindro", "cylinder head": "culata, tapa de cilindro", "cylinder head gasket": "junta de culata",
    "crankcase": "carter, carter de motor", "crankcase cover": "tapa de carter, tapa de motor",
    "crankshaft": "ciguenal", "camshaft": "arbol de leva, arbol de levas", "valve": "valvula",
    "valve cover": "tapa de valvulas, tapa de balancines", "alternator": "alternador",
    "generator": "generador, magneto", "starter": "arranque, motor de arranque",
    "slave cylinder": "cilindro esclavo, bombin de embrague", "oil": "aceite", "oil cooler": "radiador de aceite",
    "oil filter": "filtro de aceite", "drain plug": "tapon de vaciado, tapon de drenaje", "drain": "vaciado, drenaje",
    "oil drain plug": "tapon de vaciado de aceite, tapon de drenaje de aceite", "oil level": "nivel de aceite",
    "oil pressure": "presion de aceite", "rocker": "balancin", "clutch cover": "tapa de embrague",
    # Air, fuel, exhaust, water.
    "air": "aire", "air box": "caja de aire, caja de filtro de aire, caja de filtro", "filter": "filtro",
    "intake": "admision", "carburettor": "carburador", "float bowl": "cuba de carburador", "injector": "inyector",
    "throttle body": "cuerpo de mariposa, cuerpo de inyeccion, cuerpo de acelerador",
    "fuel": "combustible, gasolina, nafta", "tank": "deposito, tanque",
    "fuel tap": "llave de gasolina, llave de paso, grifo de gasolina", "tap": "grifo",
    "tank cap": "tapa de deposito, tapon de deposito, tapa de tanque, tapon de gasolina, tapa de gasolina",
    "tank cover": "cubredeposito, cubretanque", "throttle": "acelerador, gas", "throttle grip": "puno de gas",
    "choke": "estarter, ahogador", "exhaust": "escape", "header": "colector", "exhaust header": "codo de escape",
    "silencer": "silenciador, silencioso, mofle", "catalyst": "catalizador",
    "heat shield": "protector termico, proteccion termica",
    "exhaust heat shield": "chapa de escape, cubreescape, protector de escape",
    "coolant": "refrigerante, anticongelante", "radiator": "radiador", "fan": "ventilador, electroventilador",
    "water": "agua", "thermostat": "termostato", "expansion tank": "vaso de expansion, deposito de expansion",
    "overflow": "rebosadero", "breather": "respiradero", "reservoir": "vaso", "bottle": "botella", "pump": "bomba",
    "vacuum": "vacio",
    # Wheels, fork, swing arm, chain.
    "wheel": "rueda", "rim": "llanta, aro, rin", "tyre": "neumatico, cubierta", "inner tube": "camara", "hub": "buje",
    "spoke": "radio, rayo", "axle": "eje", "bearing": "rodamiento, cojinete, balero", "fork": "horquilla",
    "steering bearing": "rodamiento de direccion, cojinete de direccion",
    "fork leg": "botella de horquilla, barra de horquilla, pata de horquilla",
    "fork seal": "reten de horquilla, retenes de horquilla",
    "fork brace": "puente de horquilla, estabilizador de horquilla", "brace": "estabilizador, refuerzo",
    "gaiter": "fuelle, guardapolvo", "top yoke": "tija, cristo, platina de direccion",
    "swing arm": "basculante, horquilla trasera, tijera", "spring": "muelle, resorte",
    "shock absorber": "amortiguador, monoamortiguador", "rear shock absorber": "amortiguador trasero",
    "steering damper": "amortiguador de direccion", "steering": "direccion", "linkage": "bieleta, biela, bieletas",
    "chain": "cadena", "chain guard": "cubrecadena, guardacadena, cubre cadena, guarda cadena",
    "rear sprocket": "corona, plato", "front sprocket": "pinon",
    "front sprocket cover": "cubrepinon, tapa de pinon, tapa pinon", "belt": "correa",
    "cam chain": "cadena de distribucion", "propeller shaft": "cardan",
    # Handlebar, footrests, seat.
    "handlebar": "manillar, manubrio, semimanillar", "lever": "maneta, palanca, manilla", "grip": "puno",
    "bar end weight": "contrapeso, contrapeso de manillar", "mirror": "espejo, retrovisor, espejo retrovisor",
    "hand guard": "cubremano, cubremanos, paramano, paramanos, protector de mano, protector de manos",
    "footrest": "estribera, reposapie, reposapies, estribo, posapie, posapies, pisadera",
    "footrest hanger": "soporte de estribera, soporte de estriberas, soporte de reposapie, soporte de reposapies",
    "passenger": "pasajero, acompanante", "rider": "piloto, conductor", "heel": "talon",
    "heel guard": "talonera, protector de talon, protector de talones", "seat": "asiento, sillin",
    "latch": "cierre, pestillo", "seat latch": "cerradura de asiento",
    "grab rail": "asidero, agarradera, asa de pasajero", "backrest": "respaldo",
    # Stands, frame, luggage, guards.
    "stand": "caballete, parador", "centre stand": "caballete central",
    "side stand": "caballete lateral, pata de cabra, pata lateral, muleta lateral",
    "frame": "bastidor, chasis, cuadro", "subframe": "subchasis, subbastidor", "crossmember": "travesano",
    "strut": "tirante, puntal",
    "carrier": "portatopcase, portaequipaje, portaequipajes, portabulto, portabultos, parrilla",
    "luggage": "equipaje, maletero", "pannier": "maleta, alforja",
    "pannier frame": "soporte de maleta, soporte de maletas, portamaleta, portamaletas, soporte de alforjas",
    "tool": "herramienta", "box": "caja", "guard": "protector, proteccion, guarda", "bag": "bolsa",
    "crash bar": "defensa, defensa de motor, defensas de motor, barra protectora, barra de proteccion",
    "sump guard": "cubrecarter, protector de carter, protector de motor, quilla metalica", "shield": "pantalla",
    "radiator guard": "rejilla de radiador, cubreradiador", "rail": "riel, carril", "handle": "asa",
    # Bodywork.
    "mudguard": "guardabarro, guardabarros, salpicadera, guardafango, guardafangos, aleta", "flap": "faldilla",
    "fairing": "carenado, carena", "belly pan": "quilla",
    "side panel": "tapa lateral, tapas laterales, cacha, panel lateral, carenado lateral", "tail unit": "colin, cola",
    "undertray": "bandeja inferior de colin, bandeja inferior, bajo de colin",
    "windscreen": "parabrisa, parabrisas, cupula", "panel": "panel", "cover": "tapa, cubierta de, funda",
    "cap": "tapon, capuchon", "housing": "carcasa, alojamiento", "plate": "placa", "tray": "bandeja",
    "mask": "mascara", "badge": "insignia, anagrama", "sticker": "pegatina, adhesivo, calcomania",
    "trim": "moldura, embellecedor", "foam": "espuma", "spoiler": "aleron",
    # Lamps and electrics.
    "headlamp": "faro, optica, luz delantera", "lamp": "luz, lampara",
    "tail lamp": "piloto trasero, luz trasera, faro trasero, calavera", "brake lamp": "luz de freno, luz de frenos",
    "foglamp": "antiniebla, faro antiniebla, faros antiniebla", "spotlamp": "faro auxiliar, faros auxiliares",
    "indicator": "intermitente, direccional, luz de giro, cuarto", "warning lamp": "testigo",
    "bulb": "bombilla, foco, ampolleta", "glass": "cristal, vidrio", "lens": "lente, mica",
    "reflector": "catadioptrico, reflectante, reflector, ojo de gato",
    "number plate": "matricula, placa de matricula, patente",
    "number plate bracket": "portamatricula, portamatriculas, portaplaca, portaplacas, soporte de placa",
    "number plate lamp": "luz de placa, luz de matricula", "battery": "bateria",
    "battery tray": "caja de bateria, soporte de bateria", "coil": "bobina, bobina de encendido",
    "spark plug": "bujia", "connector": "conector", "ignition": "encendido, contacto",
    "ignition lock": "clausor, bombin de contacto, llave de contacto, cerradura de contacto, chapa de contacto, "
    "bombin", "lock": "cerradura, candado", "key": "llave", "horn": "claxon, bocina, pito", "relay": "rele",
    "fuse": "fusible", "fuse box": "caja de fusible, caja de fusibles", "switch": "interruptor, conmutador",
    "regulator": "regulador", "controller": "centralita", "charger": "cargador",
    "loom": "cableado, mazo, mazo de cable, mazo de cables",
    "instrument": "instrumento, tablero, cuadro de instrumentos, cuadro de mando, cuadro de mandos",
    "speedometer": "velocimetro, cuentakilometros", "rev counter": "cuentavueltas, tacometro", "electric": "electrico",
    "neutral": "punto muerto", "level": "nivel", "temperature": "temperatura", "pressure": "presion",
    # Lines, and what holds them.
    "hose": "manguera, manguito", "line": "linea", "pipe": "tubo, tuberia, cano",
    "cable": "cable, sirga, piola, chicote", "wire": "alambre", "bracket": "soporte, sujecion, anclaje, escuadra",
    "guide": "guia, pasacable, pasacables", "clamp": "brida, abrazadera, torreta", "clip": "grapa, presilla",
    "cable tie": "brida de plastico, precinto", "grommet": "pasamuros, arandela de goma", "eyelet": "ojal, argolla",
    "strap": "correa de sujecion, cinta, pulpo", "hook": "gancho", "channel": "canaleta", "holder": "portador",
    # Fasteners and small things.
    "screw": "tornillo", "bolt": "perno, esparrago", "nut": "tuerca", "washer": "arandela, golilla",
    "spacer": "distanciador, separador, espaciador", "bush": "casquillo", "pin": "chaveta", "cotter pin": "pasador",
    "rivet": "remache", "circlip": "anillo elastico, circlip, seeger", "gasket": "junta, empaque, empaquetadura",
    "seal": "reten, junta torica", "adjuster": "tensor, ajustador", "adapter": "adaptador", "shaft": "flecha",
    "rod": "varilla", "knob": "pomo, perilla", "button": "boton, pulsador", "hinge": "bisagra", "weight": "peso",
    "bar": "barra",
    # Between two of them. What has something is called by that: "espejo con soporte" is a mirror.
    "of": "de, para, en, a, con, sin, bajo de", "the": "la, el, los, las, lo, un, una, y, su",
}
# fmt: on
# Words that are English or German as well, where they may be another thing: no sign of a Spanish name by themselves.
SPANISH_DOUBTFUL = (
    "a", "banjo", "caliper", "central", "circlip", "clutch", "gas", "inferior", "interior", "lateral",
    "media", "medio", "metal", "motor", "panel", "principal", "pulpo", "radio", "superior",
)  # fmt: skip
_FORMS = {each.strip(): english for english, words in SPANISH_WORDS.items() for each in words.split(",")}
_PIECES = {word: True for words in _FORMS for word in words.split()}
SPANISH: dict[str, str] = {}


def singular(word: str) -> str:
    """The form that the table has of a word: in the singular, and in the masculine where it has that."""
    forms = [word]
    if word.endswith("s"):
        forms += [word[:-1]] + ([word[:-2]] if word.endswith("es") else [])
        forms += [word[:-3] + "z"] if word.endswith("ces") else []
    for form in forms:
        if form in _FORMS:
            return form
    for form in forms:
        if form.endswith("a") and form[:-1] + "o" in _FORMS:
            return form[:-1] + "o"
    return ([form for form in forms if form in _PIECES] or [word])[0]


SPANISH.update({" ".join([singular(word) for word in each.split()]): _FORMS[each] for each in _FORMS})


def spanish_word(word: str) -> Any:
    """What a Spanish word means, of any number and gender, or None; "" where it means something beside others only."""
    form = singular(word)
    return SPANISH.get(form, "" if form in _PIECES else None)
