// What a part waits for on the way back: each with how it stands, taking it back, and writing one down.

import { html, useState } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "./drafted.js";
import { Section, Pick, Text, Tiles } from "./fields.js";
import { stemsLeft } from "./form_draft.js";
import { Problems } from "./form.js";
import { useActing, useView } from "./live.js";
import { Standing, byWhom, partToChoose as named } from "./show.js";

/** The stems of forms of this kind that were left unsaved. */
export const waitsLeft = (strip) => stemsLeft(`wait/${strip}/`);

/** @param {{strip: string, part: string, name: string, choices: object, left: string[], count?: number}} props drawn once it is opened; `left` of waitsLeft */
export function Waits({ strip, part, name, choices, left, count }) {
  const stem = `wait/${strip}/${part}`;
  const begun = left.includes(stem);
  return html`<${Section} light late open=${begun} title=${t("What must go on before it")} says=${count > 0 ? t("{count} written down", { count }) : null}>
    <${List} ...${{ strip, part, name, choices, stem, begun }} /><//>`;
}

function List({ strip, part, name, choices, stem, begun }) {
  const view = useView(strip, "waits", { part });
  const acting = useActing();
  const [adding, setAdding] = useState(begun);
  if (!view.data) return html`<${Standing} views=${[view]} />`;
  const { waits, parts } = view.data;
  return html`<${Standing} views=${[view]} /><${Problems} problems=${adding ? [] : acting.problems} />
    ${waits.length > 0 && html`<ul class="lines">${waits.map((wait) => html`<li class="line" key=${wait.wait}>
      <p><strong>${named(wait)}</strong> · ${label(wait.why)}</p>${wait.note && html`<p>${wait.note}</p>`}
      <p class=${`mark ${wait.standing ? "wait" : "done"}`}>${wait.standing ? t(wait.standing) : t("Nothing to wait for now")}</p>
      <p class="quiet">${byWhom(wait)}</p>
      <div><button type="button" disabled=${acting.busy} aria-label=${t("Need not wait for: {name}", { name: named(wait) })} onClick=${() => acting.run("wait_no_more", { strip, wait: wait.wait })}>${t("Need not wait")}</button></div></li>`)}</ul>`}
    ${adding
      ? html`<${Drafted} form=${Add} stem=${stem} about=${name} ...${{ strip, part, parts, choices, acting }} onDone=${() => setAdding(false)} />`
      : html`<div><button type="button" onClick=${() => setAdding(true)}>${t("Add what goes on first")}</button></div>`}`;
}

function Add({ strip, part, parts, choices, acting, begun, onDone }) {
  const form = useDrafted(begun, { first: "", why: "behind", note: "" }, acting);
  async function save(event) {
    event.preventDefault();
    if (await form.act("wait", { strip, part, ...form.latest.current })) onDone();
  }
  if (parts.length === 0) return html`<p class="notice">${t("There is no other part that goes on again.")}</p>`;
  return html`<form class="stack" onSubmit=${save} novalidate>
    <${HereAgain} back=${form.back} words=${(gaps) => t("What you began to add is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
    <${Pick} ...${form.bind("first")} label=${t("Goes on first")} options=${parts.map((each) => [each.part, named(each)])} />
    <${Tiles} ...${form.bind("why")} label=${t("Why")} options=${choices.why_it_waits} />
    <${Text} ...${form.bind("note")} label=${t("Note")} />
    <div class="row"><button type="submit" class="grow" disabled=${acting.busy}>${t("Save")}</button><button type="button" class="grow" onClick=${onDone}>${t("Leave it")}</button></div></form>`;
}
