// The order of a group on its torque card: which one, its drawing, its stages.

import { html, useState } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { Section, Tiles, word } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { HowTo } from "../pieces/how_to.js";
import { useActing } from "../pieces/live.js";
import { Pattern, Stages } from "../pieces/pattern.js";
import { byWhom } from "../pieces/show.js";

export function Order({ strip, data }) {
  const { pattern } = data;
  const [saved, setSaved] = useState(0);
  if (pattern.fitting.length === 0) return null;
  const chosen = pattern.pattern !== null;
  const disputed = data.disputed.includes("pattern");
  return html`<section class="section"><h2>${t("In which order")}</h2>
    ${chosen && html`<p><strong>${t("{pattern}, {count} fasteners", { pattern: word(pattern.pattern, "pattern"), count: pattern.count })}</strong></p>`}
    ${disputed && html`<ul class="notice bad"><li><strong>${t("Two answers stand here. What you keep below settles it.")}</strong></li>
      ${data.fields.pattern.heads.map((head) => html`<li key=${head.entry}>${head.value ? word(head.value, "pattern") : t("No order")} <span class="quiet">${byWhom(head)}</span></li>`)}</ul>`}
    <${Pattern} pattern=${pattern} /><div><${HowTo} card="order" /></div>
    ${(chosen || data.specification?.steps.length > 0) && html`<${Stages} pattern=${pattern} />`}
    ${data.alive && html`<${Section} light key=${`${saved} ${pattern.pattern} ${disputed}`} open=${!chosen || disputed || Boolean(pattern.trouble)} title=${chosen ? t("Another order") : t("Choose the order")}>
      <${Choose} strip=${strip} data=${data} onSaved=${() => setSaved(saved + 1)} /><//>`}
  </section>`;
}

function Choose({ strip, data, onSaved }) {
  const { pattern, suggested, fitting } = data.pattern;
  const acting = useActing();
  const form = useForm({ pattern: fitting.includes(pattern) ? pattern : suggested }, acting.problems);
  const [saw] = useState(() => data.fields.pattern?.heads.map((head) => head.entry));
  async function save(event) {
    event.preventDefault();
    const values = { pattern: form.latest.current.pattern };
    if (await acting.run("change", { strip, thing: data.group, type: "group", values, saw: saw ? { pattern: saw } : {} })) onSaved();
  }
  const options = [...fitting.map((each) => [each, word(each, "pattern")]), ["", t("No order")]];
  return html`<form class="stack close" onSubmit=${save}><${Problems} problems=${acting.problems} />
    <p class="quiet">${pattern ? t("The manual’s order first.") : t("The manual’s order first. Where it gives none, usual for {count}: {pattern}.", { count: data.pattern.count, pattern: label(suggested, "pattern") })}</p>
    <${Tiles} ...${form.bind("pattern")} label=${t("Order of tightening")} options=${options} />
    <button type="submit" disabled=${acting.busy}>${t("Keep this order")}</button></form>`;
}
