// Pairing this device with the PC: the owner's code, and what the list is to call it.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { pair } from "../devices.js";
import { t } from "../words.js";
import { Text } from "../pieces/fields.js";
import { Frame, useSending } from "../pieces/frame.js";
import { leadOn, say } from "../pieces/live.js";

/** @param {{code: string}} props; the code of a scanned address */
export function Pair({ code }) {
  const { phase } = useSending();
  const [typed, setTyped] = useState(code);
  const [name, setName] = useState("");
  const [trouble, setTrouble] = useState(null);
  const [busy, setBusy] = useState(false);
  async function save(event) {
    event.preventDefault();
    setBusy(true);
    setTrouble(null);
    try {
      await pair(typed, name);
      say(t("Paired."));
      leadOn(route.sending());
    } catch (error) {
      if (!error.sentence) throw error;
      setTrouble(error.sentence);
    } finally {
      setBusy(false);
    }
  }
  const foot = html`<button type="submit" form="pair" class="main" disabled=${busy}>${t("Pair")}</button>`;
  return html`<${Frame} title=${t("Pair with the PC")} here="sending" foot=${foot}>
    ${phase === "revoked" && html`<p class="notice">${t("The owner has taken this device off the PC's list. Everything is kept here. A new code puts it on again.")}</p>`}
    <p>${t("The owner makes a code on the PC or on a paired phone: Sending, Devices of this shop, Add a device.")}</p>
    <form id="pair" class="stack" onSubmit=${save} novalidate>
      ${trouble && html`<p class="notice bad" role="alert">${t(trouble)}</p>`}
      <${Text} field="code" label=${t("Pairing code")} hint=${t("Eight digits. It works once, within five minutes.")} value=${typed} onValue=${setTyped} inputmode="numeric" maxlength="12" big aria-required="true" />
      <${Text} field="device_name" label=${t("Name for this device")} hint=${t("So that the list says whose it is, such as: phone at the lift.")} value=${name} onValue=${setName} maxlength="60" aria-required="true" />
    </form>
  <//>`;
}
