// Stops: what is lost and may lie inside the machine stands before all else, until somebody rules it out with a word of how.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { isolated, t } from "../words.js";
import { ask } from "./ask.js";
import { Problems } from "./form.js";
import { Icon } from "./icons.js";
import { useActing, useSummaries } from "./live.js";
import { byWhom } from "./show.js";

/** On every screen of a strip-down, as the phone's own list of strip-downs has it. */
export function StopLine({ strip }) {
  const { data } = useSummaries();
  const stops = data?.find((line) => line.strip === strip)?.stops;
  if (!stops?.count) return null;
  const more = stops.count - stops.first.length;
  return html`<section class="stop" aria-label=${t("Stop")}><${Icon} name="stop" /><div class="stack close">
    ${stops.first.map((sentence) => html`<p key=${t(sentence)}><strong>${t("Stop:")}</strong> ${t(sentence)}</p>`)}
    ${more > 0 && html`<p>${t("{count} more like this.", { count: more })}</p>`}
    <p><a href=${route.openItems(strip)}>${t("Rule it out, with a word of how")}</a></p></div></section>`;
}

/** The stops themselves, open ones with the way to rule each out. */
export function Stops({ strip, stops }) {
  const acting = useActing();
  async function ruleOut({ group, sentence }) {
    const how = await ask({
      title: t("Ruled out?"), text: t(sentence), input: t("How was it ruled out that it is inside?"), action: t("Ruled out"),
    });
    if (how) acting.run("rule_out", { strip, group, how });
  }
  return html`<${Problems} problems=${acting.problems} /><ul class="stack close">${stops.map((stop) => html`<li class=${`block ${stop.open ? "stopping" : "done"}`} key=${stop.rule + stop.group}>
    ${stop.open ? html`<p class="mark stopped">${stop.again ? t("Stop, open again: more was lost than was answered for") : t("Stop")}</p>` : html`<p class="mark done">${t("Ruled out")}</p>`}
    <p>${t(stop.sentence)}</p>
    ${stop.said && html`<p class="quiet">${t("Said at the end of a spell: {text}", stop.said)} · ${byWhom(stop.said)}</p>`}
    ${stop.closed && html`<p class="quiet">${[stop.closed.how, byWhom(stop.closed)].map(isolated).join(" · ")}</p>`}
    <div class="row">${stop.open && html`<button type="button" disabled=${acting.busy} aria-label=${t("Ruled out: {sentence}", stop)} onClick=${() => ruleOut(stop)}>${t("Ruled out")}</button>`}
      ${stop.open && !stop.struck && html`<a class="button" href=${route.part(strip, stop.part)}>${t("Found: move it on the part’s page")}</a>`}</div>
  </li>`)}</ul>`;
}
