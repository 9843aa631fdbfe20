// All pictures large: of each part how it was beside how it is now, and the rest; found by name.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t } from "../words.js";
import { Text } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Picture, Thumb } from "../pieces/photos.js";
import { finds, folded } from "../pieces/searched.js";
import { Standing, byWhom, whereabouts } from "../pieces/show.js";

export function Pictures({ strip }) {
  const whole = useView(strip, "strip");
  const seen = useView(strip, "pictures");
  const [typed, setTyped] = useState("");
  const title = t("Pictures");
  if (!whole.data || !seen.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, seen]} /><//>`;
  const { parts, others } = seen.data;
  const has = finds(typed);
  const held = (each) => has(folded([each.name, each.side && label(each.side), each.place && label(each.place)].filter(Boolean).join(" ")));
  const shown = parts.filter(held);
  const rest = others.filter(held);
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, seen]} />
    ${parts.length + others.length === 0 ? html`<p>${t("No picture has been taken yet. Take one before you loosen anything.")}</p>` : html`
      <${Text} field="searched" label=${t("Only pictures of")} value=${typed} onValue=${setTyped} type="search" />
      <p role="status">${t("{count} with pictures", { count: shown.length + rest.length })}</p>
      <${LongList} as="plain" rows=${shown} keyOf=${(row) => row.part} box=${(rows) => html`<div class="stack">${rows}</div>`} of=${(row, place) => html`<${OfPart} key=${row.part} ...${{ strip, row, place }} />`} />
      ${rest.length > 0 && html`<section class="stack"><h2>${t("Of other things")}</h2>${rest.map((row) => html`<section class="stack close" key=${row.thing}><h3><bdi>${row.name || label(row.type)}</bdi></h3><${Row} pictures=${row.pictures} name=${row.name} /></section>`)}</section>`}`}
  <//>`;
}

function OfPart({ strip, row, place }) {
  const name = row.name || t("Part without a name");
  const rest = row.pictures.filter((each) => each.entry !== row.before?.entry && each.entry !== row.after?.entry);
  return html`<section class="stack close" ...${place}><h2><a class="reach" href=${route.part(strip, row.part)}><bdi>${name}</bdi></a></h2>
    <p class="quiet">${whereabouts(row)}</p>
    <div class="before-after"><${Large} picture=${row.before} name=${name} words=${row.before?.stood === "off" ? t("While it was off") : t("Before it came off")} none=${t("No picture from before.")} />
      <${Large} picture=${row.after} name=${name} words=${t("Since it, or what replaces it, went on")} none=${t("No picture since it went on.")} /></div>
    ${rest.length > 0 && html`<${Row} pictures=${rest} name=${name} />`}</section>`;
}

function Large({ picture, name, words, none }) {
  if (!picture) return html`<p class="quiet nothing">${none}</p>`;
  return html`<figure><${Picture} sha256=${picture.sha256} alt=${picture.caption || t("{name}: {when}", { name, when: words })} /><figcaption>${words}. ${picture.caption && html`<bdi>${picture.caption}</bdi> `}<span class="quiet">${byWhom(picture)}</span></figcaption></figure>`;
}

const Row = ({ pictures, name }) => html`<ul class="thumbs">${pictures.map((picture) => html`<li key=${picture.entry}><${Thumb} sha256=${picture.sha256} caption=${picture.caption ?? name} /><span class="quiet">${byWhom(picture)}</span></li>`)}</ul>`;
