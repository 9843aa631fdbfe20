// Light or dark: As the phone has it, or as somebody chose.

import { html, useEffect, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { Tiles } from "./fields.js";
import { orSay, putSetting, setting } from "./live.js";

const show = (theme) => {
  if (theme) document.documentElement.dataset.theme = theme;
  else delete document.documentElement.dataset.theme;
};

/** Shows the theme that was chosen on this phone; call at the start. */
export const showTheme = async () => show(await setting("theme"));

export function Theme() {
  const [theme, setTheme] = useState(document.documentElement.dataset.theme ?? "");
  useEffect(() => { orSay(setting("theme")).then((kept) => setTheme(kept ?? "")); }, []);
  const choose = (next) => { setTheme(next ?? ""); show(next); orSay(putSetting("theme", next)); };
  return html`<${Tiles} field="theme" label=${t("Light or dark")} value=${theme} onValue=${choose}
    options=${[["", t("As the phone")], ["light", t("Light, for the sun")], ["dark", t("Dark, for the night")]]} />`;
}
