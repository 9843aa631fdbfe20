// Devices of this shop, for its owner: who is on the list, one more, another role, and off the list.

import { html, useEffect, useState } from "../vendor/preact.js";
import * as list from "../devices.js";
import { t, when } from "../words.js";
import { ask } from "../pieces/ask.js";
import { Text, Tiles, word } from "../pieces/fields.js";
import { Frame, Waiting } from "../pieces/frame.js";
import { Qr } from "../pieces/qr.js";

/** How often it is looked for who took the code. */
const LOOK_MS = 2_000;
const ROLES = ["owner", "hand", "looker_on"];
const roleTiles = () => ROLES.map((role) => [role, word(role)]);

export function Devices() {
  const [devices, setDevices] = useState(null);
  const [codes, setCodes] = useState([]);
  const [trouble, setTrouble] = useState(null);
  /** Do something with the PC; what went wrong stands at the top. */
  async function doing(work) {
    try {
      setTrouble(null);
      return await work;
    } catch (error) {
      if (!error.sentence) throw error;
      setTrouble(error.sentence);
      return null;
    }
  }
  const show = (found) => { setDevices(found.devices); setCodes(found.codes); };
  const load = async () => show((await doing(list.all())) ?? { devices: [], codes: [] });
  /** Once more, by itself: what goes wrong then is said when a person asks. */
  const look = () => list.all().then(show, () => {});
  useEffect(() => { load(); }, []);
  const took = (now) => now && setDevices(now);
  return html`<${Frame} title=${t("Devices of this shop")} here="sending">
    ${trouble && html`<${Waiting} trouble=${trouble} retry=${load} />`}
    ${devices === null && !trouble && html`<p>${t("Asking the PC…")}</p>`}
    ${devices && html`<${Adding} doing=${doing} codes=${codes} setCodes=${setCodes} look=${look} />
      <ul class="lines">${devices.map((device) => html`<${Device} key=${device.id} device=${device} doing=${doing} took=${took} />`)}</ul>`}
  <//>`;
}

/** One device: when it was paired, which tells two of one name apart, when it was seen, what it had not sent then, and what can be changed. */
function Device({ device, doing, took }) {
  const [name, setName] = useState(device.name);
  const [role, setRole] = useState(device.role);
  const waiting = (device.unsent ?? 0) + (device.unsent_photos ?? 0);
  async function save(event) {
    event.preventDefault();
    took(await doing(list.change(device.id, name, role)));
  }
  async function revoke() {
    const text = device.here ? t("This is the device in your hand. It is let in no longer; what it has not sent stays on it.")
      : t("It is let in no longer, from now on. What it has not sent stays on it, and can be handed over by a file.");
    if (await ask({ title: t("Take {name}, paired {when}, off the list?", { name: device.name, when: when(device.paired_ms) }), text, action: t("Take it off") })) took(await doing(list.revoke(device.id)));
  }
  return html`<li class="line">
    <p><strong><bdi>${device.name}</bdi></strong>${device.here && ` (${t("this one")})`}: ${device.revoked_ms ? t("off the list since {when}", { when: when(device.revoked_ms) }) : word(device.role)}</p>
    <p class="quiet">${device.seen_ms ? t("Paired {paired}, seen last {seen}.", { paired: when(device.paired_ms), seen: when(device.seen_ms) })
      : t("Paired {paired}, not seen since.", { paired: when(device.paired_ms) })}
      ${waiting > 0 && ` ${t("It had {count} not sent then.", { count: waiting })}`}</p>
    ${!device.revoked_ms && html`<details class="light"><summary>${t("Change…")}</summary><form class="inside" onSubmit=${save}>
      <${Text} id=${`name-${device.id}`} field="name" label=${t("Name")} value=${name} onValue=${setName} maxlength="60" />
      <${Tiles} id=${`role-${device.id}`} field=${`role-${device.id}`} label=${t("What it may do")} options=${roleTiles()} value=${role} onValue=${setRole} />
      <div class="row"><button type="submit" class="grow">${t("Save")}</button><button type="button" class="grow" onClick=${revoke}>${t("Take it off the list")}</button></div></form></details>`}
  </li>`;
}

/** A code for one more device, large enough to be read across the bench. */
function Adding({ doing, codes, setCodes, look }) {
  const [role, setRole] = useState("hand");
  const [made, setMade] = useState(null);
  async function make(event) {
    event.preventDefault();
    const code = await doing(list.codeFor(role));
    if (code) setCodes([...codes, code.until_ms]);
    setMade(code);
  }
  return html`<details class="light"><summary>${t("Add a device")}</summary><div class="inside">
    <form class="stack" onSubmit=${make}>
      <${Tiles} field="role" label=${t("What it may do")} options=${roleTiles()} value=${role} onValue=${setRole} />
      <p class="hint">${t("An owner does all. A hand writes, and does not change this list. A looker-on reads.")}</p>
      <button type="submit" class="main">${t("Make a pairing code")}</button>
    </form>
    ${made && html`<${Code} made=${made} taken=${!codes.includes(made.until_ms)} look=${look} />`}
  </div></details>`;
}

/** Until somebody has taken it, or it is too old. */
function Code({ made, taken, look }) {
  const [gone, setGone] = useState(false);
  useEffect(() => {
    setGone(false);
    // A little early: on the PC it must not be gone first.
    const timer = setTimeout(() => setGone(true), made.lives_ms - LOOK_MS);
    return () => clearTimeout(timer);
  }, [made]);
  const over = gone || taken;
  useEffect(() => {
    if (over) return undefined;
    const timer = setInterval(() => { if (!document.hidden) look(); }, LOOK_MS);
    return () => clearInterval(timer);
  }, [made, over]);
  if (taken && !gone) return html`<p class="notice" role="status">${t("A device has taken the code: see the list below. Make another for another device.")}</p>`;
  if (gone) return html`<p class="notice">${t("This code is too old now. Make another.")}</p>`;
  const { trust } = made;
  return html`<div class="stack close" role="status">
    ${trust && html`<h2>${t("1. A new phone trusts the PC")}</h2>
      <p>${t("Open this address on the phone, and follow what it says:")} <a href=${trust.address}>${trust.address}</a></p>
      <${Qr} rows=${trust.qr} label=${t("QR code of the page of trust")} />
      <p>${t("Compare the certificate's SHA-256:")}</p><p><code class="fingerprint">${trust.fingerprint}</code></p>
      <h2>${t("2. It opens the pages")}</h2>`}
    <p>${t("Open this address on it:")} <a href=${made.url}>${made.address}</a></p>
    <${Qr} rows=${made.qr} label=${t("QR code of the address, with the pairing code")} />
    <p>${t("On an iPhone put it on the home screen first, open it there, and type the code.")}</p>
    <p>${t("Pairing code, good once, until {when}:", { when: when(Date.now() + made.lives_ms) })}</p>
    <p class="figure code">${`${made.code.slice(0, 4)} ${made.code.slice(4)}`}</p></div>`;
}
