// What a part waits for on the way back: each with how it stands, taking it back, and writing one down.

import { html, useState } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { Section, Pick, Text, Tiles } from "./fields.js";
import { Problems, useForm } from "./form.js";
import { useActing, useView } from "./live.js";
import { Standing, byWhom } from "./show.js";

const named = ({ name, side }) => (side ? t("{name}, {side}", { name, side: { label: side } }) : name);

/** @param {{strip: string, part: string, choices: object, says?: string}} props drawn once it is opened */
export const Waits = ({ strip, part, choices, count }) => html`<${Section} light late title=${t("What must go on before it")} says=${count > 0 ? t("{count} written down", { count }) : null}>
  <${List} ...${{ strip, part, choices }} /><//>`;

function List({ strip, part, choices }) {
  const view = useView(strip, "waits", { part });
  const acting = useActing();
  const [adding, setAdding] = useState(false);
  if (!view.data) return html`<${Standing} views=${[view]} />`;
  const { waits, parts } = view.data;
  return html`<${Standing} views=${[view]} /><${Problems} problems=${adding ? [] : acting.problems} />
    ${waits.length > 0 && html`<ul class="lines">${waits.map((wait) => html`<li class="line" key=${wait.wait}>
      <p><strong>${named(wait)}</strong> · ${label(wait.why)}</p>${wait.note && html`<p>${wait.note}</p>`}
      <p class=${`mark ${wait.standing ? "wait" : "done"}`}>${wait.standing ? t(wait.standing) : t("Nothing to wait for now")}</p>
      <p class="quiet">${byWhom(wait)}</p>
      <div><button type="button" disabled=${acting.busy} aria-label=${t("Need not wait for: {name}", { name: named(wait) })} onClick=${() => acting.run("wait_no_more", { strip, wait: wait.wait })}>${t("Need not wait")}</button></div></li>`)}</ul>`}
    ${adding
      ? html`<${Add} ...${{ strip, part, parts, choices, acting }} onDone=${() => setAdding(false)} />`
      : html`<div><button type="button" onClick=${() => setAdding(true)}>${t("Add what goes on first")}</button></div>`}`;
}

function Add({ strip, part, parts, choices, acting, onDone }) {
  const form = useForm({ first: "", why: "behind", note: "" }, acting.problems);
  async function save(event) {
    event.preventDefault();
    if (await acting.run("wait", { strip, part, ...form.latest.current })) onDone();
  }
  if (parts.length === 0) return html`<p class="notice">${t("There is no other part that goes on again.")}</p>`;
  return html`<form class="stack" onSubmit=${save} novalidate><${Problems} problems=${acting.problems} />
    <${Pick} ...${form.bind("first")} label=${t("Goes on first")} options=${parts.map((each) => [each.part, named(each)])} />
    <${Tiles} ...${form.bind("why")} label=${t("Why")} options=${choices.why_it_waits} />
    <${Text} ...${form.bind("note")} label=${t("Note")} />
    <div class="row"><button type="submit" class="grow" disabled=${acting.busy}>${t("Save")}</button><button type="button" class="grow" onClick=${onDone}>${t("Leave it")}</button></div></form>`;
}
