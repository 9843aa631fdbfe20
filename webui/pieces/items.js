// Things still to do: writing them down and closing them.

import { html } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { ask } from "./ask.js";
import { Text, Tiles } from "./fields.js";
import { Problems, useForm } from "./form.js";
import { useActing } from "./live.js";

/** The fields of one thing still to do. */
export const ItemFields = ({ bind, at, choices }) => html`
  <${Tiles} ...${bind(`${at}what`)} label=${t("What it needs")} options=${choices.item_kinds} />
  <${Text} ...${bind(`${at}text`)} label=${t("In words")} />`;

/** @param {{strip: string, part?: string, items: object[], choices: object}} props */
export function Items({ strip, part, items, choices }) {
  const acting = useActing();
  const form = useForm({ what: "make", text: "" }, acting.problems);
  const open = items.filter((item) => !item.closed);
  async function close(item) {
    const how = await ask({ title: t("Done?"), text: item.text, input: t("How was it done?"), action: t("Done") });
    if (how) acting.run("close_item", { strip, item: item.item, how });
  }
  async function save(event) {
    event.preventDefault();
    if (await acting.run("item", { strip, part: part ?? null, ...form.form })) form.fill({ text: "" });
  }
  return html`<div class="stack close"><${Problems} problems=${acting.problems} />
    ${open.length === 0 && html`<p class="quiet">${t("Nothing open.")}</p>`}
    <ul class="lines">${open.map((item) => html`<li class="line" key=${item.item}>
      <p><strong>${label(item.what)}:</strong> ${item.text}</p>
      ${!part && item.part_name && html`<p class="quiet">${item.part_name}</p>`}
      <div><button type="button" aria-label=${t("Done: {text}", item)} onClick=${() => close(item)}>${t("Done")}</button></div></li>`)}</ul>
    ${choices && html`<details class="light"><summary>${t("Write down something to do")}</summary>
      <form class="inside" onSubmit=${save}><${ItemFields} bind=${form.bind} at="" choices=${choices} />
      <button type="submit" disabled=${acting.busy}>${t("Save")}</button></form></details>`}
  </div>`;
}
