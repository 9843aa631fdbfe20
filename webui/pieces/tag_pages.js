// Labels laid out on their paper, true to the millimetre in print and as small as the screen otherwise.

import { html } from "../vendor/preact.js";
import { inLetters, route } from "../addresses.js";
import { codeRows } from "../code-rows.js";
import { day, t } from "../words.js";
import { Qr } from "./qr.js";

/** Where the code of a label leads. @param {string} strip @param {{screen: string, id: string}} opens */
const address = (strip, { screen, id }) => inLetters(location.origin + "/" + { bag: route.bag, part: route.part, kept: route.kept }[screen](strip, id));

const said = (words) => (typeof words === "string" ? words : t(words));

/** Pages of labels: the first `used` places of the first page stay free. */
export function TagPages({ strip, of, what, paper, tags, used }) {
  const places = [...Array(used).fill(null), ...tags];
  const each = paper.columns * paper.rows;
  const pages = Array.from({ length: Math.ceil(places.length / each) }, (_, page) => places.slice(page * each, (page + 1) * each));
  return html`<div class="tagpages" data-for=${`${what} ${paper.code}`}>${pages.map((page, index) => html`<section key=${index} class=${`tagpage on_${paper.page} ${paper.cut ? "cut" : ""}`}
      aria-label=${t("Page {n} of {all}", { n: index + 1, all: pages.length })} style=${{ "--wide": paper.page_wide, "--high": paper.page_high }}>
    <ul>${page.map((tag, place) => tag && html`<${Tag} key=${tag.key} ...${{ strip, of, tag, paper, place }} />`)}</ul></section>`)}</div>`;
}

function Tag({ strip, of, tag, paper, place }) {
  const at = {
    "--left": paper.left + (place % paper.columns) * paper.across, "--top": paper.top + Math.floor(place / paper.columns) * paper.down,
    "--across": paper.wide, "--down": paper.high,
  };
  const { kind, name, title, lines } = tag;
  const heading = kind === "part" ? said(title) : name;
  const code = address(strip, tag.opens);
  return html`<li class=${`tag ${kind}`} style=${at}>
    <div class="words">
      <p class="heading"><span class="kind">${{ bag: t("Bag"), box: t("Kept at"), part: t("Part") }[kind]}</span> <strong dir="auto">${heading}</strong></p>
      ${kind === "bag" && title && html`<p class="title" dir="auto">${said(title)}</p>`}
      ${lines.map((line, index) => html`<p class="line-on-tag" dir="auto" key=${index}>${said(line)}</p>`)}
      <p class="of">${tag.at_ms !== null && `${day(tag.at_ms)} · `}<bdi>${of}</bdi></p>
    </div>
    <${Qr} rows=${codeRows(code)} label=${t("Code that opens {what}", { what: kind === "bag" ? t("bag {bag}", { bag: name }) : heading })} /></li>`;
}
