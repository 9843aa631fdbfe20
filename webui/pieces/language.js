// The language of all words: English, or one that the PC gave once and this phone keeps.

import { html, useState } from "../vendor/preact.js";
import * as requests from "../requests.js";
import { setLanguage, t } from "../words.js";
import { Tiles } from "./fields.js";
import { putSetting, say, setting } from "./live.js";

/** Each by its own name, with the country whose way of writing figures and days is meant where the browser names none. */
const LANGUAGES = [["en", "English", "en-GB"], ["de", "Deutsch", "de-DE"], ["es", "Español", "es-ES"], ["hi", "हिन्दी", "hi-IN"]];
const ENGLISH = "en";

function localeOf(code) {
  const own = navigator.languages.find((each) => each.split("-")[0] === code);
  return own ?? LANGUAGES.find(([each]) => each === code)[2];
}

/** The one that is spoken now: whoever draws the choice anew begins with it. */
let spoken = ENGLISH;

function speak({ code, texts }) {
  spoken = code;
  setLanguage(code === ENGLISH ? null : { locale: localeOf(code), texts });
}

async function fetched(code) {
  const kept = { code, texts: code === ENGLISH ? {} : await requests.language(code) };
  await putSetting("language", kept);
  return kept;
}

/** Shows the language that was chosen on this phone; call at the start. What is new in it comes when the PC is there. */
export async function showLanguage() {
  const kept = await setting("language");
  if (!kept || kept.code === ENGLISH) return;
  speak(kept);
  fetched(kept.code).then((newer) => { if (JSON.stringify(newer.texts) !== JSON.stringify(kept.texts)) speak(newer); }, () => {});
}

export function Language() {
  const [code, setCode] = useState(spoken);
  const choose = async (next) => {
    // The tile stays chosen while its words are on their way.
    setCode(next);
    try {
      speak(await fetched(next));
    } catch (error) {
      setCode(spoken);
      if (!error.sentence) throw error;
      say(t("This language comes from the PC once, and the PC does not answer now."));
    }
  };
  return html`<${Tiles} field="language" label=${t("Language")} value=${code} onValue=${choose} options=${LANGUAGES.map(([each, name]) => [each, html`<bdi lang=${each}>${name}</bdi>`])} />`;
}
