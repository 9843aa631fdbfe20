"""The page to send as text: what is written is escaped here and nowhere else, and nothing in it asks for anything.

No script, no link, no form; the policy in its head forbids them all, and knows the one style by its hash (W3C, Content
Security Policy Level 3, 6.7.3). A test holds the hash to the style.
"""

from typing import Any

STYLE = """
:root{color-scheme:light dark;--ink:#16191c;--quiet:#42494f;--ground:#fff;--line:#c3c9ce;--fill:#2f5d8a;--edge:#16191c}
@media (prefers-color-scheme:dark){:root{--ink:#eef1f3;--quiet:#c0c7cc;--ground:#15181b;--line:#4a5259;--fill:#7fb0de;\
--edge:#eef1f3}}
*{box-sizing:border-box}
body{margin:0;background:var(--ground);color:var(--ink);font:1rem/1.45 system-ui,sans-serif;overflow-wrap:anywhere}
main{max-width:52rem;margin:0 auto;padding:1rem clamp(.75rem,4vw,2rem) 2rem}
h1{font-size:1.5rem;line-height:1.2;margin:.2rem 0 .5rem}
h2{font-size:1.2rem;margin:1.8rem 0 .4rem;border-bottom:2px solid var(--ink);padding-bottom:.15rem}
h3{font-size:1rem;margin:1rem 0 .2rem}
p{margin:.35rem 0}
bdi{unicode-bidi:isolate}
.note{white-space:pre-line}
.quiet{color:var(--quiet);font-size:.9375rem}
.notice{border:2px solid var(--ink);padding:.5rem .75rem;margin:.75rem 0}
ul{margin:.3rem 0;padding-inline-start:1.2rem}
table{border-collapse:collapse;width:100%;margin:.4rem 0}
caption{text-align:start;color:var(--quiet);font-size:.9375rem;padding-bottom:.2rem}
th,td{text-align:start;vertical-align:top;padding:.4rem .75rem .4rem 0;border-top:1px solid var(--line);font-weight:400}
thead th{font-weight:650;border-top:0}
tbody th>bdi,tfoot th{font-weight:650}
td:last-child,th:last-child{text-align:end;padding-inline-end:0}
.figure{font-variant-numeric:tabular-nums}
td.figure:last-child{width:40%}
tfoot th,tfoot td{border-top:2px solid var(--ink);font-weight:650}
.row{border-top:1px solid var(--line);padding:.45rem 0}
.spread{display:flex;flex-wrap:wrap;justify-content:space-between;gap:0 1rem;font-weight:650}
.spread>*{min-width:0;max-width:100%}
.spread>:last-child:not(:first-child){margin-inline-start:auto;text-align:end}
figure{margin:.75rem 0}
.pictures{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(15rem,100%),1fr));gap:.75rem}
.pictures figure{margin:0}
img{display:block;width:100%;height:auto;border:1px solid var(--line)}
.missing{border:1px dashed var(--ink);padding:1rem;text-align:center}
svg{display:block;width:100%;overflow:visible;direction:ltr}
svg.away{position:absolute;width:0;height:0}
svg *{vector-effect:non-scaling-stroke}
.h24{height:1.5rem}
.h36{height:2.25rem}
.away{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.bars,.bars tbody{display:block}
.bars tr{display:grid;grid-template-columns:minmax(0,1fr) auto;gap:0 1rem;padding:.35rem 0;border-top:1px solid \
var(--line);position:relative}
.bars th,.bars td,.bars td:last-child{border:0;padding:0;text-align:start}
.bars .figure{text-align:end;max-width:12rem}
.bars .whole{grid-column:1/-1}
.axis{display:flex;justify-content:space-between;direction:ltr;font-size:.8125rem;min-height:1.2em}
.axis span{flex:0 0 0;display:flex;justify-content:center;white-space:nowrap}
.axis span:first-child{justify-content:flex-start}
.axis span:last-child{justify-content:flex-end}
.loss{fill:var(--fill);stroke:var(--edge);stroke-width:1}
.gain{fill:var(--ground);stroke:var(--edge);stroke-width:2}
.dashed{fill:var(--ground);stroke:var(--edge);stroke-width:2;stroke-dasharray:4 3}
.grid{stroke:var(--line);stroke-width:1}
.zero,.whisker{stroke:var(--ink);stroke-width:2;fill:none}
.middle{stroke:var(--ink);stroke-width:3;fill:none}
.under{stroke:var(--ground);stroke-width:6;fill:none}
footer{margin-top:2rem;border-top:2px solid var(--ink);padding-top:.5rem}
@page{margin:14mm 12mm}
@media print{tfoot{display:table-row-group}
:root{color-scheme:light;--ink:#000;--quiet:#000;--ground:#fff;--line:#888;--fill:#555;--edge:#000}
main{max-width:none;padding:0}body{font-size:10pt}
thead{break-after:avoid}tr,.row,.notice,.pictures figure{break-inside:avoid}.axis,h2,h3{break-after:avoid}
.loss{fill:url(#hatch)}
.pictures{grid-template-columns:repeat(2,1fr)}img{max-height:105mm;width:auto;max-width:100%;margin:0 auto}}
"""
STYLE_SHA256 = "BjZf7HwpYyaTTn1qnjI2+ubpLAJYjDS8z9SLK86AfJs="
POLICY = (
    "default-src 'none'; style-src 'sha256-{hash}'; img-src data:; base-uri 'none'; form-action 'none'"
).format(hash=STYLE_SHA256)
HEAD = (
    '<!DOCTYPE html>\n<html lang="{language}">\n<head>\n<meta charset="utf-8">\n'
    '<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
    '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
    '<meta name="referrer" content="no-referrer">\n<meta name="robots" content="noindex">\n'
    '<meta name="color-scheme" content="light dark">\n<title>{title}</title>\n<style>{style}</style>\n</head>\n<body>\n'
    "<main>\n"
)
END = "</main>\n</body>\n</html>\n"

# The first one first: the others have it in them.
ESCAPES = (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#39;"))

def escaped(text: Any) -> str:
    """The text for a place between tags, or in an attribute between quotation marks (HTML Standard, 13.1.2.3, 13.3).

    What HTML holds for no character (13.2.3.5) is shown as one that is not known.
    """
    found = str(text)
    if [each for each in found if (each < " " or each > "~") and not _is_allowed(ord(each))]:
        found = "".join([each if _is_allowed(ord(each)) else "\ufffd" for each in found])
    for sign, said in ESCAPES:
        found = found.replace(sign, said)
    return found


def _is_allowed(code: int) -> bool:
    if code < 0x20:
        return code in (0x09, 0x0A, 0x0D)
    return not (0x7F <= code <= 0x9F or 0xD800 <= code <= 0xDFFF or 0xFDD0 <= code <= 0xFDEF or code & 0xFFFE == 0xFFFE)


def table(caption: str, heads: tuple[str, str], rows: list[tuple[str, str]], sums: Any = ()) -> str:
    """A table of two columns, of HTML that is escaped already; `sums` are its last rows."""

    def line(row: tuple[str, str]) -> str:
        return '<tr><th scope="row">' + row[0] + '</th><td class="figure">' + row[1] + "</td></tr>\n"

    head = '<tr><th scope="col">' + heads[0] + '</th><th scope="col">' + heads[1] + "</th></tr>"
    foot = "<tfoot>" + "".join([line(row) for row in sums]) + "</tfoot>" if sums else ""
    body = "".join([line(row) for row in rows])
    said = "<caption>" + caption + "</caption>"
    return "<table>" + said + "<thead>" + head + "</thead><tbody>\n" + body + "</tbody>" + foot + "</table>\n"
