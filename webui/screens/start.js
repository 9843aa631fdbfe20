// The start: strip-downs by machine, who is working, and how this phone stands.

import { html, useEffect, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { person, setPerson } from "../shop.js";
import { t } from "../words.js";
import { Cautions } from "../pieces/cautions.js";
import { Text } from "../pieces/fields.js";
import { Frame, Waiting, offTheList, sendingWords, useSending } from "../pieces/frame.js";
import { orSay, say, useSummaries } from "../pieces/live.js";
import { Mass } from "../pieces/show.js";
import { Language } from "../pieces/language.js";
import { Theme } from "../pieces/theme.js";

/** The browser's offer to install, which may come before the screen that shows it. */
let offer = null;
let whenOffered = () => {};
addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  offer = event;
  whenOffered(event);
});

export function Start() {
  const { data, trouble, retry } = useSummaries();
  if (!data) return html`<${Frame} title=${t("Machines and strip-downs")} here="machines"><${Waiting} trouble=${trouble} retry=${retry} /><//>`;
  const lines = [...data].sort((a, b) => (b.at ?? 0) - (a.at ?? 0));
  const machines = [...new Set(lines.map((line) => line.machine))].map((machine) => lines.filter((line) => line.machine === machine));
  return html`<${Frame} title=${t("Machines and strip-downs")} here="machines">
    <${NotOnTheList} />
    ${lines.length === 0 && html`<div class="stack"><p>${t("Take a machine apart and know, every evening, what came off, where its bolts are and what it weighed. And get every fastener back into its hole.")}</p></div>`}
    ${machines.map((strips) => html`<section class="stack close" key=${strips[0].machine}><h2>${strips[0].machine_name ?? t("Machine without a name")}</h2>
      <p><a class="reach" href=${route.machine(strips[0].strip)} aria-label=${t("Over the years: {name}", { name: strips[0].machine_name ?? t("Machine without a name") })}>${t("Over the years")}</a></p>
      <ul class="lines">${strips.map((line) => html`<${StripLine} key=${line.strip} line=${line} />`)}</ul></section>`)}
    <a class="button main" href=${route.begin()}>${t("Begin a strip-down")}</a>
    ${lines.length > 0 && html`<p><a class="button" href=${route.shop()}>${t("In the shop")}</a></p>`}
    <${Who} />
    <${Cautions} strip="start" when="off" />
    <section class="section"><h2>${t("This phone")}</h2><${Install} /><${Language} /><${Theme} />
      <p>${sendingWords(useSending())} <a href=${route.sending()}>${t("See Sending")}</a></p>
      <p><a class="reach" href=${route.help()}>${t("How to read a scale, measure a thread, make a mark")}</a></p></section>
  <//>`;
}

/** The way onto the PC's list, for a device that is not on it. */
function NotOnTheList() {
  const state = useSending();
  if (!offTheList(state)) return null;
  return html`<p class="notice">${state.phase === "revoked" ? t("What is written here stays on this device until it is paired again.")
    : t("What is written here stays on this device until it is paired.")} <a href=${route.pair()}>${t("Pair with the PC")}</a></p>`;
}

function StripLine({ line }) {
  const { counts, sums } = line;
  return html`<li><a class="line" href=${route.off(line.strip)}><div class="spread"><span class="name">${line.name || t("Strip-down without a name")}</span>${sums && html`<${Mass} shown=${sums.came_in} signed />`}</div>
    ${line.stops?.count > 0 && html`<p class="mark stopped">${t("Stop: lost, and not ruled out inside the machine")}</p>`}
    ${counts && html`<p class="quiet">${t("{off} of {parts} parts off, {out} fasteners out, {items} things to do", { off: counts.off, parts: counts.parts, out: counts.fasteners_out, items: counts.items_open })}</p>`}</a></li>`;
}

/** The name beside everything that is logged on this phone. */
function Who() {
  const [name, setName] = useState(person());
  const save = async (event) => { event.preventDefault(); await orSay(setPerson(name).then(() => say(t("From now on {name} is working.", { name: name.trim() })))); };
  return html`<form class="section" onSubmit=${save}>
    <${Text} field="who" label=${t("Who is working")} hint=${t("Stands beside everything logged on this phone from now on.")} value=${name} onValue=${setName} maxlength="60" />
    ${name.trim() !== person() && name.trim() && html`<button type="submit">${t("Keep this name")}</button>`}
  </form>`;
}

/** Offers the home screen where the browser lets a page ask, and says how where it does not. */
function Install() {
  const [prompt, setPrompt] = useState(offer);
  useEffect(() => { whenOffered = setPrompt; return () => { whenOffered = () => {}; }; }, []);
  if (matchMedia("(display-mode: standalone)").matches || navigator.standalone) return null;
  if (prompt) return html`<button type="button" onClick=${() => { prompt.prompt(); offer = null; setPrompt(null); }}>${t("Put Cotterbook on the home screen")}</button>`;
  return html`<p class="quiet">${t("Put it on the home screen from the browser’s menu (Share, then Add to Home Screen, or Install): the phone then keeps the log longer and starts without a network.")}</p>`;
}
