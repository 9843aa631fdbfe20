"""Letters of people's names that are the same in two writings: capital and small, in one piece and with its mark apart.

Of Latin, Greek and Cyrillic, after Unicode 14: canonical decomposition and the folding of case. The phone's Python
knows neither; a test holds the tables against what CPython knows.
"""

# Each mark with the letters that carry it: one in one piece, then the letter that stands under the mark.
MARKED = {
    "\u0300": "ÀAÈEÌIÒOÙUàaèeìiòoùuǛÜǜüǸNǹnЀЕЍИѐеѝиḔĒḕēṐŌṑōẀWẁwẦÂầâẰĂằăỀÊềêỒÔồôỜƠờơỪƯừưỲYỳy",
    "\u0301": "ÁAÉEÍIÓOÚUÝYáaéeíióoúuýyĆCćcĹLĺlŃNńnŔRŕrŚSśsŹZźzǗÜǘüǴGǵgǺÅǻåǼÆǽæǾØǿøΆΑΈΕΉΗΊΙΌΟΎΥ"
    "ΏΩΐϊάαέεήηίιΰϋόούυώωϓϒЃГЌКѓгќкḈÇḉçḖĒḗēḮÏḯïḰKḱkḾMḿmṌÕṍõṒŌṓōṔPṕpṸŨṹũẂWẃwẤÂấâẮĂắăẾÊ"
    "ếêỐÔốôỚƠớơỨƯứư",
    "\u0302": "ÂAÊEÎIÔOÛUâaêeîiôoûuĈCĉcĜGĝgĤHĥhĴJĵjŜSŝsŴWŵwŶYŷyẐZẑzẬẠậạỆẸệẹỘỌộọ",
    "\u0303": "ÃAÑNÕOãañnõoĨIĩiŨUũuṼVṽvẪÂẫâẴĂẵăẼEẽeỄÊễêỖÔỗôỠƠỡơỮƯữưỸYỹy",
    "\u0304": "ĀAāaĒEēeĪIīiŌOōoŪUūuǕÜǖüǞÄǟäǠȦǡȧǢÆǣæǬǪǭǫȪÖȫöȬÕȭõȰȮȱȯȲYȳyḠGḡgḸḶḹḷṜṚṝṛ",
    "\u0306": "ĂAăaĔEĕeĞGğgĬIĭiŎOŏoŬUŭuЎУЙИйиўуḜȨḝȩẶẠặạ",
    "\u0307": "ĊCċcĖEėeĠGġgİIŻZżzȦAȧaȮOȯoḂBḃbḊDḋdḞFḟfḢHḣhṀMṁmṄNṅnṖPṗpṘRṙrṠSṡsṤŚṥśṦŠṧšṨṢṩṣṪTṫtẆW"
    "ẇwẊXẋxẎYẏyẛſ",
    "\u0308": "ÄAËEÏIÖOÜUäaëeïiöoüuÿyŸYΪΙΫΥϊιϋυϔϒЁЕЇІёеїіḦHḧhṎÕṏõṺŪṻūẄWẅwẌXẍxẗt",
    "\u0309": "ẢAảaẨÂẩâẲĂẳăẺEẻeỂÊểêỈIỉiỎOỏoỔÔổôỞƠởơỦUủuỬƯửưỶYỷy",
    "\u030a": "ÅAåaŮUůuẘwẙy",
    "\u030b": "ŐOőoŰUűu",
    "\u030c": "ČCčcĎDďdĚEěeĽLľlŇNňnŘRřrŠSšsŤTťtŽZžzǍAǎaǏIǐiǑOǒoǓUǔuǙÜǚüǦGǧgǨKǩkǮƷǯʒǰjȞHȟh",
    "\u030f": "ȀAȁaȄEȅeȈIȉiȌOȍoȐRȑrȔUȕu",
    "\u0311": "ȂAȃaȆEȇeȊIȋiȎOȏoȒRȓrȖUȗu",
    "\u031b": "ƠOơoƯUưu",
    "\u0323": "ḄBḅbḌDḍdḤHḥhḲKḳkḶLḷlṂMṃmṆNṇnṚRṛrṢSṣsṬTṭtṾVṿvẈWẉwẒZẓzẠAạaẸEẹeỊIịiỌOọoỢƠợơỤUụuỰƯựư"
    "ỴYỵy",
    "\u0324": "ṲUṳu",
    "\u0325": "ḀAḁa",
    "\u0326": "ȘSșsȚTțt",
    "\u0327": "ÇCçcĢGģgĶKķkĻLļlŅNņnŖRŗrŞSşsŢTţtȨEȩeḐDḑdḨHḩh",
    "\u0328": "ĄAąaĘEęeĮIįiŲUųuǪOǫo",
    "\u032d": "ḒDḓdḘEḙeḼLḽlṊNṋnṰTṱtṶUṷu",
    "\u032e": "ḪHḫh",
    "\u0330": "ḚEḛeḬIḭiṴUṵu",
    "\u0331": "ḆBḇbḎDḏdḴKḵkḺLḻlṈNṉnṞRṟrṮTṯtẔZẕzẖh",
}
# A letter, then the one it counts as.
FOLDED = (
    "µμÆæÐðØøÞþĐđĦħĲĳĿŀŁłŊŋŒœŦŧſsƁɓƂƃƄƅƆɔƇƈƉɖƊɗƋƌƎǝƏəƐɛƑƒƓɠƔɣƖɩƗɨƘƙƜɯƝɲƟɵƢƣƤƥƦʀƧƨƩʃƬƭ"
    "ƮʈƱʊƲʋƳƴƵƶƷʒƸƹƼƽǄǆǅǆǇǉǈǉǊǌǋǌǤǥǱǳǲǳǶƕǷƿȜȝȠƞȢȣȤȥȺⱥȻȼȽƚȾⱦɁɂɃƀɄʉɅʌɆɇɈɉɊɋɌɍɎɏͰͱͲͳͶͷͿϳ"
    "ΑαΒβΓγΔδΕεΖζΗηΘθΙιΚκΛλΜμΝνΞξΟοΠπΡρΣσΤτΥυΦφΧχΨψΩωςσϏϗϐβϑθϕφϖπϘϙϚϛϜϝϞϟϠϡϢϣϤϥϦϧϨϩϪϫ"
    "ϬϭϮϯϰκϱρϴθϵεϷϸϹϲϺϻϽͻϾͼϿͽЂђЄєЅѕІіЈјЉљЊњЋћЏџАаБбВвГгДдЕеЖжЗзИиКкЛлМмНнОоПпРрСсТтУу"
    "ФфХхЦцЧчШшЩщЪъЫыЬьЭэЮюЯяỺỻỼỽỾỿ"
)
FOLDED_TO_MORE = {"ß": "ss", "ŉ": "\u02bcn", "ẚ": "a\u02be", "ẞ": "ss"}
# The classes of marks by their place: lower ones stand first. All that are not here stand above the letter.
BELOW = {202: "\u0327\u0328", 216: "\u031b", 220: "\u0323\u0324\u0325\u0326\u032d\u032e\u0330\u0331"}
ABOVE = 230

_CLASSES = {mark: number for number, marks in BELOW.items() for mark in marks}
_APART = {pair[n]: pair[n + 1] + mark for mark, pair in MARKED.items() for n in range(0, len(pair), 2)}
_FOLDED = {FOLDED[n]: FOLDED[n + 1] for n in range(0, len(FOLDED), 2)}


def alike(text: str) -> str:
    """The text by which two writings of a name are compared: small letters, each mark apart behind its letter."""
    found, marks = "", ""
    for letter in "".join([_small(each) for each in text]):
        if "\u0300" <= letter <= "\u036f":
            marks += letter
            continue
        found, marks = found + _in_order(marks) + letter, ""
    return found + _in_order(marks)


def _small(letter: str) -> str:
    marks = ""
    while letter in _APART:
        letter, marks = _APART[letter][0], _APART[letter][1] + marks
    if letter in FOLDED_TO_MORE:
        return FOLDED_TO_MORE[letter] + marks
    return (_FOLDED[letter] if letter in _FOLDED else letter.lower() if letter < "\x80" else letter) + marks


def _in_order(marks: str) -> str:
    """Several marks of one letter in the order that Unicode lays down, however they were typed."""
    if len(marks) < 2:
        return marks
    return "".join([marks[n] for _, n in sorted([(_CLASSES.get(marks[n], ABOVE), n) for n in range(len(marks))])])
