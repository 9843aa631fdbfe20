// What is new each time: said where it is put in, and asked why it goes in used.

import { html } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { ask } from "./ask.js";
import { Text } from "./fields.js";

/** What a group is that is new each time, and what that rests on. @param {{of: object|null}} props as the core's `new_each_time` */
export function NewEachTime({ of }) {
  if (!of) return null;
  return html`<p class="mark wait">${of.suggested ? t("New each time, as it seems: {kind}", { kind: { label: of.kind } }) : t("New each time: {kind}", { kind: label(of.kind) })}</p><p class="quiet">${t(of.basis)}</p>`;
}

/** The field for the reason; asked for only once the core wants it. */
export function WhyUsed({ bind, problems }) {
  const bound = bind("why");
  if (!bound.value && !problems.some((problem) => problem.code === "used_again")) return null;
  return html`<${Text} ...${bound} label=${t("Why these are used again")} maxlength="400" />`;
}

/** Put in again without a reason: an open line until somebody says why, or new ones are in. */
export function UsedAgain({ strip, each, acting }) {
  async function excuse() {
    const how = await ask({ title: t("Why are they used again?"), text: t(each.sentence), input: t("Why these are used again"), action: t("Save") });
    if (how) acting.run("excuse", { strip, group: each.group, how });
  }
  return html`<p class="mark bad">${t(each.sentence)}</p>
    <div><button type="button" disabled=${acting.busy} aria-label=${t("Say why: {sentence}", each)} onClick=${excuse}>${t("Say why")}</button></div>`;
}
