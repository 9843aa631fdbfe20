"""Hindi words of parts, in Devanagari, by the English ones that the rules know. Common practice, no source.

Mostly English in another writing, in which people differ: `SPELT` brings the common ways of writing a sound to one.
"""

from .find_words import fold

# fmt: off
# English: Hindi, between commas.
HINDI_WORDS = {
    # Where, and which.
    "front": "आगे, अगला, अगली, अगले, सामने, फ्रंट", "rear": "पीछे, पिछला, पिछली, पिछले, रियर, बैक",
    "left": "बायां, बाईं, बाएं, बायें, लेफ्ट", "right": "दायां, दाईं, दाएं, दायें, दाहिना, दाहिनी, राइट",
    "upper": "ऊपरी, ऊपर, अपर", "lower": "निचला, निचली, निचले, नीचे, लोअर", "top": "टॉप",
    "inner": "भीतरी, अंदरूनी, इनर", "outer": "बाहरी, आउटर", "middle": "बीच, मिडल", "side": "साइड, बगल",
    "both": "दोनों", "pair": "जोड़ी, जोड़ा, पेयर", "set": "सेट", "kit": "किट", "new": "नया, नई, नये, नए",
    "old": "पुराना, पुरानी, पुराने", "main": "मेन, मुख्य", "small": "छोटा, छोटी, छोटे", "long": "लंबा, लंबी, लंबे",
    "plastic": "प्लास्टिक", "rubber": "रबर, रबड़", "steel": "स्टील", "metal": "मेटल, धातु",
    "alloy": "अलॉय, एल्युमिनियम", "chrome": "क्रोम", "carbon": "कार्बन", "assembly": "असेंबली",
    # Brakes.
    "brake": "ब्रेक", "caliper": "कैलिपर, कैलीपर", "disc": "डिस्क, डिस्क प्लेट", "pad": "पैड", "lever": "लीवर",
    "pedal": "पेडल, पैडल", "master": "मास्टर", "cylinder": "सिलेंडर, सिलिंडर", "slave": "स्लेव",
    "fluid": "फ्लुइड, फ्लूइड", "reservoir": "रिजर्वायर, रिजर्वर", "bleed": "ब्लीड, ब्लीडिंग", "nipple": "निपल, निप्पल",
    "banjo": "बैंजो", "piston": "पिस्टन", "drum": "ड्रम", "shoe": "शू", "abs": "एबीएस",
    # Clutch, gears, engine.
    "clutch": "क्लच", "gear": "गियर, गीयर", "gearbox": "गियरबॉक्स", "engine": "इंजन", "head": "हेड",
    "crankcase": "क्रैंककेस, क्रैंक केस", "camshaft": "कैमशाफ्ट", "valve": "वाल्व, वॉल्व", "alternator": "अल्टरनेटर",
    "starter": "स्टार्टर", "oil": "ऑयल, तेल", "oil cooler": "ऑयल कूलर", "cooler": "कूलर", "pan": "पैन",
    "drain": "ड्रेन", "plug": "प्लग", "sump": "सम्प, संप", "chamber": "चैंबर", "magnet": "मैग्नेट, चुंबक",
    "shift": "शिफ्ट, शिफ्टर", "kick": "किक",
    # Air, fuel, exhaust, water.
    "air": "एयर, हवा", "air box": "एयर बॉक्स, एयरबॉक्स", "filter": "फिल्टर", "intake": "इनटेक",
    "carburettor": "कार्बोरेटर, कार्ब्युरेटर", "injector": "इंजेक्टर",
    "throttle": "थ्रॉटल, एक्सीलेरेटर, एक्सेलरेटर, रेस", "body": "बॉडी", "fuel": "फ्यूल, पेट्रोल",
    "tank": "टैंक, टंकी, टैंकी", "petcock": "पेटकॉक", "tap": "नल", "cap": "कैप", "lid": "ढक्कन", "choke": "चोक",
    "exhaust": "एग्जॉस्ट, एक्जॉस्ट", "header": "हेडर, बेंड पाइप", "silencer": "साइलेंसर, मफलर",
    "catalyst": "कैटेलिस्ट", "heat": "हीट", "shield": "शील्ड", "coolant": "कूलेंट, कूलैंट",
    "radiator": "रेडिएटर, रेडियेटर", "fan": "फैन, पंखा", "water": "वाटर, पानी", "thermostat": "थर्मोस्टेट",
    "bottle": "बोतल, बॉटल", "pump": "पंप", "overflow": "ओवरफ्लो", "breather": "ब्रीदर",
    # Wheels, fork, swing arm, chain.
    "wheel": "पहिया, पहिये, पहिए, व्हील, चक्का", "rim": "रिम", "tyre": "टायर", "tube": "ट्यूब", "hub": "हब",
    "spoke": "स्पोक, तीली", "axle": "एक्सल, धुरी", "bearing": "बेयरिंग, बियरिंग", "fork": "फोर्क, चिमटा", "leg": "लेग",
    "seal": "सील", "brace": "ब्रेस", "gaiter": "गेटर, गैटर", "boot": "बूट", "sleeve": "स्लीव", "yoke": "योक",
    "top yoke": "टॉप योक, टॉप ब्रिज", "swing arm": "स्विंगआर्म, स्विंग आर्म", "spring": "स्प्रिंग",
    "shock absorber": "शॉकर, शॉक, शॉक एब्जॉर्बर, शॉक अब्जॉर्बर, शॉक एब्जार्बर, शॉक अब्सॉर्बर", "damper": "डैंपर, डंपर",
    "steering": "स्टीयरिंग, स्टेयरिंग", "linkage": "लिंकेज", "link": "लिंक", "chain": "चेन",
    "sprocket": "स्प्रॉकेट, स्प्रोकेट, गरारी", "belt": "बेल्ट", "rod": "रॉड", "stanchion": "स्टैंचन",
    # Handlebar, footrests, seat.
    "handlebar": "हैंडलबार, हैंडल बार, हैंडल", "bar": "बार", "end": "एंड", "weight": "वेट, वजन", "grip": "ग्रिप, मूठ",
    "mirror": "मिरर, शीशा, शीशे, आईना", "hand": "हैंड, हाथ", "guard": "गार्ड",
    "footrest": "फुटरेस्ट, फुट रेस्ट, फुटपेग, पायदान", "hanger": "हैंगर", "passenger": "पैसेंजर, पिलियन, सवारी",
    "rider": "राइडर, चालक", "heel": "हील, एड़ी", "seat": "सीट, गद्दी", "latch": "लैच", "lock": "लॉक, ताला",
    "grab rail": "ग्रैब रेल, ग्रैबरेल", "rail": "रेल", "backrest": "बैकरेस्ट",
    # Stands, frame, luggage, guards.
    "stand": "स्टैंड", "centre": "सेंटर", "frame": "फ्रेम, चेसिस, चैसी", "subframe": "सबफ्रेम", "strut": "स्ट्रट",
    "carrier": "कैरियर", "luggage": "लगेज, सामान", "pannier": "पैनियर", "tool": "टूल, औजार",
    "box": "बॉक्स, डिब्बा, पेटी", "crash bar": "क्रैश बार, क्रैश गार्ड, लेग गार्ड",
    "sump guard": "सम्प गार्ड, इंजन गार्ड, बैश प्लेट", "plate": "प्लेट", "rack": "रैक", "sidecar": "साइडकार",
    # Bodywork.
    "mudguard": "मडगार्ड, मड गार्ड, फेंडर", "flap": "फ्लैप", "fairing": "फेयरिंग", "belly pan": "बेली पैन",
    "panel": "पैनल", "tail": "टेल", "unit": "यूनिट", "undertray": "अंडरट्रे, अंडर ट्रे",
    "windscreen": "विंडस्क्रीन, विंड स्क्रीन, विंडशील्ड, वाइजर", "cover": "कवर", "housing": "हाउसिंग, केसिंग",
    "tray": "ट्रे", "sticker": "स्टिकर", "badge": "बैज", "mask": "मास्क", "foam": "फोम",
    # Lamps and electrics.
    "headlamp": "हेडलैंप, हेडलाइट, हेड लाइट, हेड लैंप", "lamp": "लाइट, लैंप, बत्ती", "tail lamp": "टेललाइट, टेललैंप",
    "indicator": "इंडिकेटर, ब्लिंकर", "bulb": "बल्ब", "glass": "ग्लास, कांच, काँच", "lens": "लेंस",
    "reflector": "रिफ्लेक्टर", "number plate": "नंबर प्लेट, नंबरप्लेट", "battery": "बैटरी", "coil": "कॉइल, कॉयल",
    "connector": "कनेक्टर", "ignition": "इग्निशन, इग्नीशन", "key": "चाबी", "horn": "हॉर्न, भोंपू", "relay": "रिले",
    "fuse": "फ्यूज", "switch": "स्विच", "sensor": "सेंसर", "regulator": "रेगुलेटर, रेग्युलेटर", "charger": "चार्जर",
    "loom": "वायरिंग, हार्नेस", "instrument": "मीटर, इंस्ट्रूमेंट", "speedometer": "स्पीडोमीटर",
    "foglamp": "फॉग लाइट, फॉग लैंप", "electric": "बिजली, इलेक्ट्रिक",
    # Lines, and what holds them.
    "hose": "होज, होस", "line": "लाइन", "pipe": "पाइप, नली", "cable": "केबल", "wire": "वायर, तार",
    "bracket": "ब्रैकेट, ब्रेकेट, ब्रैकिट, होल्डर, माउंट", "guide": "गाइड", "clamp": "क्लैंप", "clip": "क्लिप",
    "tie": "टाई", "grommet": "ग्रोमेट", "strap": "स्ट्रैप, पट्टा", "hook": "हुक", "protector": "प्रोटेक्टर",
    # Fasteners and small things.
    "screw": "स्क्रू, पेंच", "bolt": "बोल्ट", "nut": "नट", "washer": "वॉशर", "spacer": "स्पेसर", "bush": "बुश",
    "pin": "पिन", "gasket": "गैस्केट, गास्केट", "adjuster": "एडजस्टर", "adapter": "एडेप्टर", "shaft": "शाफ्ट",
    "knob": "नॉब", "button": "बटन",
    # Between two of them, where the order is the English one: "ब्रेक का होज", "होज के लिए क्लिप".
    "the": "का, की, के, लिए, वाला, वाली, वाले, और, में, पर, से, तरफ",
}
# A sound as some write it, then as others do, to which the first is brought: the moon above as the dot, m and n before
# a consonant of theirs as the dot, open o and e as plain ones, long vowels as short ones, a doubled letter as one.
_SOUNDS = (
    "\u0901 \u0902 म्प ंप म्ब ंब न्ड ंड ण्ड ंड न्ट ंट ण्ट ंट न्ज ंज ञ्ज ंज न्द ंद न्क ंक ङ्क ंक न्स ंस प्प प "
    "\u0911 \u0906 \u0949 \u093e \u0945 \u0947 \u090d \u090f \u0948 \u0947 \u0910 \u090f "
    "\u094c \u094b \u0914 \u0913 \u0940 \u093f \u0908 \u0907 \u0942 \u0941 \u090a \u0909 "
    "\u093f\u092f \u093f\u090f \u092f\u0947 \u090f"
).split()
SPELT = tuple(zip(_SOUNDS[::2], _SOUNDS[1::2]))
# fmt: on
# By that spelling: made when the first name in Devanagari comes.
_hindi: dict[str, str] = {}


def spelt(word: str) -> str:
    """A folded word of Devanagari in the one spelling of its sounds."""
    for one, other in SPELT:
        word = word.replace(one, other)
    return word


def hindi_table() -> dict[str, str]:
    """The English words by the Hindi ones, as `spelt` brings them to one spelling."""
    if not _hindi:
        pairs = [(each, english) for english, words in HINDI_WORDS.items() for each in words.split(",")]
        _hindi.update({spelt(fold(each)): english for each, english in pairs})
    return _hindi
