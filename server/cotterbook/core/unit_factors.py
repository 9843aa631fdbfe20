"""What each unit is worth in g, N.m, mm, l or km, and how it is written: made by cotterbook/units.py."""

FACTORS = {
    "mass": {
        "g": 1.0,
        "kg": 1000.0,
        "mg": 0.001,
        "t": 1000000.0,
        "lb": 453.59237,
        "oz": 28.349523125,
        "st": 6350.29318,
    },
    "torque": {
        "N.m": 1.0,
        "N.cm": 0.01,
        "daN.m": 10.0,
        "kgf.m": 9.80665,
        "kgf.cm": 0.0980665,
        "lbf.ft": 1.3558179483314003,
        "lbf.in": 0.1129848290276167,
        "ozf.in": 0.0070615518142260435,
    },
    "length": {
        "mm": 1.0,
        "cm": 10.0,
        "m": 1000.0,
        "in": 25.4,
        "ft": 304.8,
    },
    "volume": {
        "l": 1.0,
        "dl": 0.1,
        "cl": 0.01,
        "ml": 0.001,
        "US gal": 3.785411784,
        "US qt": 0.946352946,
        "US pt": 0.473176473,
        "US fl oz": 0.0295735295625,
        "imp gal": 4.54609,
        "imp qt": 1.1365225,
        "imp pt": 0.56826125,
        "imp fl oz": 0.0284130625,
    },
    "distance": {
        "km": 1.0,
        "mi": 1.609344,
    },
}
# Without spaces and points, in small letters; of a torque, the words for its force and its arm.
WRITINGS = {
    "mass": {
        "g": "g gram grams gramme grammes",
        "kg": "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
        "mg": "mg milligram milligrams",
        "t": "t tonne tonnes",
        "lb": "lb lbs pound pounds",
        "oz": "oz ozs ounce ounces",
        "st": "st stone stones",
    },
    "length": {
        "mm": "mm millimetre millimetres millimeter millimeters",
        "cm": "cm centimetre centimetres centimeter centimeters",
        "m": "m metre metres meter meters",
        "in": 'in ins inch inches " ″ ”',
        "ft": "ft foot feet ′",
    },
    "volume": {
        "l": "l ltr litre litres liter liters",
        "dl": "dl decilitre decilitres deciliter deciliters",
        "cl": "cl centilitre centilitres centiliter centiliters",
        "ml": "ml millilitre millilitres milliliter milliliters cc ccm cm3 cm^3",
        "US gal": "usgal usgallon usgallons",
        "US qt": "usqt usquart usquarts",
        "US pt": "uspt uspint uspints",
        "US fl oz": "usfloz",
        "imp gal": "impgal impgallon impgallons imperialgallon imperialgallons ukgal ukgallon ukgallons",
        "imp qt": "impqt impquart impquarts imperialquart imperialquarts ukqt",
        "imp pt": "imppt imppint imppints imperialpint imperialpints ukpt",
        "imp fl oz": "impfloz ukfloz",
    },
    "distance": {
        "km": "km kms kilometre kilometres kilometer kilometers",
        "mi": "mi mile miles",
    },
    "force": {
        "N": "n newton newtons",
        "daN": "dan",
        "kgf": "kgf kg kp kilopond kiloponds kilo kilos kilogramforce",
        "lbf": "lbf lb lbs lbsf pound pounds poundforce poundsforce",
        "ozf": "ozf oz ounce ounces",
    },
    "arm": {
        "m": "m metre metres meter meters",
        "cm": "cm centimetre centimetres centimeter centimeters",
        "ft": "ft foot feet ′",
        "in": 'in ins inch inches " ″ ”',
    },
}
# One word for several units: which one has to be said.
AMBIGUOUS = {
    "gal gallon gallons": ("US gal", "imp gal"),
    "qt quart quarts": ("US qt", "imp qt"),
    "pt pint pints": ("US pt", "imp pt"),
    "floz fluidounce fluidounces": ("US fl oz", "imp fl oz"),
    "ton tons": ("t", "a short or long ton"),
    "gr": ("g", "grain"),
}
