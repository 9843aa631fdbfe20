// Striking an entry: it stays readable, struck out and with its reason, and counts no more.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { ask } from "./ask.js";

/**
 * The button that strikes an entry, once its reason is given.
 * @param {{strip: string, entry: string, acting: object, text: string|object, title?: string}} props
 *   `acting` is the useActing of whatever shows the problems; `text` says what would be struck
 */
export function Strike({ strip, entry, acting, text, title = t("Strike this?"), words = t("Strike") }) {
  async function strike() {
    const why = await ask({
      title, text: t("{entry}. It stays readable in the history, struck out, and counts no more.", { entry: text }),
      input: t("Why was it a mistake?"), action: t("Strike it"),
    });
    if (!why) return;
    let asked;
    const struck = await acting.run("strike", { strip, entry, why }, { refused: (problems) => { asked = problems.find((each) => each.code === "something_open"); } });
    if (struck || !asked) return;
    const same = await ask({ title: t("Strike it all the same?"), text: t(asked), input: t("Why all the same?"), action: t("Strike it all the same") });
    if (same) acting.run("strike", { strip, entry, why, all_the_same: same });
  }
  return html`<button type="button" class="plain" disabled=${acting.busy} aria-label=${t("{words}: {text}", { words, text })} onClick=${strike}>${words}</button>`;
}
