// Things still to do: writing them down, putting them right and closing them.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { ask } from "./ask.js";
import { Facts, factsOf } from "./facts.js";
import { Section, Text, Tiles } from "./fields.js";
import { Problems, useForm } from "./form.js";
import { useActing } from "./live.js";
import { LongList } from "./long_list.js";

/** The fields of one thing still to do. */
export const ItemFields = ({ bind, at, choices }) => html`
  <${Tiles} ...${bind(`${at}what`)} label=${t("What it needs")} options=${choices.item_kinds} />
  <${Text} ...${bind(`${at}text`)} label=${t("In words")} />`;

const openFacts = (choices) => factsOf({ what: { options: choices.item_kinds }, text: {} });
const closedFacts = () => factsOf({ closed: { options: [[true, t("Yes")], [false, t("No")]] }, closed_how: {} });

function Item({ strip, item, facts, named, place, children }) {
  const disputed = Object.values(item.fields).some((field) => field.disputed);
  return html`<li class="line" ...${place}>
    <p>${t("{what}: {text}", { what: { label: item.what }, text: item.text })}</p>
    ${named && item.part_name && html`<p class="quiet">${item.part_name}</p>`}
    ${item.closed && item.closed_how && html`<p class="quiet">${item.closed_how}</p>`}
    ${children}
    <${Section} light open=${disputed} title=${t("Put it right")}><${Facts} strip=${strip} thing=${item.item} type="item" fields=${item.fields} facts=${facts} /><//></li>`;
}

/** @param {{strip: string, part?: string, items: object[], choices: object}} props */
export function Items({ strip, part, items, choices }) {
  const acting = useActing();
  const form = useForm({ what: "make", text: "" }, acting.problems);
  const [open, closed] = [items.filter((item) => !item.closed), items.filter((item) => item.closed)];
  async function close(item) {
    const how = await ask({ title: t("Done?"), text: item.text, input: t("How was it done?"), action: t("Done") });
    if (how) acting.run("close_item", { strip, item: item.item, how });
  }
  async function save(event) {
    event.preventDefault();
    if (await acting.run("item", { strip, part: part ?? null, ...form.form })) form.fill({ text: "" });
  }
  if (!choices) return null;
  const of = { strip, named: !part };
  const list = (some, draw) => html`<${LongList} rows=${some} keyOf=${(item) => item.item} box=${(rows) => html`<ul class="lines">${rows}</ul>`} of=${draw} />`;
  return html`<div class="stack close"><${Problems} problems=${acting.problems} />
    ${open.length === 0 && html`<p class="quiet">${t("Nothing open.")}</p>`}
    ${list(open, (item, place) => html`<${Item} key=${item.item} facts=${openFacts(choices)} ...${{ item, place, ...of }}>
      <div><button type="button" aria-label=${t("Done: {text}", item)} onClick=${() => close(item)}>${t("Done")}</button></div><//>`)}
    ${closed.length > 0 && html`<${Section} light title=${t("Done already")} says=${t("{count} done", { count: closed.length })}>
      ${list(closed, (item, place) => html`<${Item} key=${item.item} facts=${closedFacts()} ...${{ item, place, ...of }} />`)}<//>`}
    <details class="light"><summary>${t("Write down something to do")}</summary>
      <form class="inside" onSubmit=${save}><${ItemFields} bind=${form.bind} at="" choices=${choices} />
      <button type="submit" disabled=${acting.busy}>${t("Save")}</button></form></details>
  </div>`;
}
