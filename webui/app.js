// The shell: starts what lies under the screens, and shows the screen that the address names.

import { html, render, useEffect, useState } from "./vendor/preact.js";
import { readRoute, route } from "./addresses.js";
import * as shop from "./shop.js";
import * as sync from "./sync.js";
import * as update from "./update.js";
import { stayAwakeWhileSending } from "./wake.js";
import { onLanguage, t } from "./words.js";
import { Asking } from "./pieces/ask.js";
import { Waiting } from "./pieces/frame.js";
import { Suggestions } from "./pieces/group_form.js";
import { showLanguage } from "./pieces/language.js";
import { showTheme } from "./pieces/theme.js";
import { Back } from "./screens/back.js";
import { Bag, Kept } from "./screens/bag.js";
import { Balance } from "./screens/balance.js";
import { Begin } from "./screens/begin.js";
import { Buy } from "./screens/buy.js";
import { Carry } from "./screens/carry.js";
import { Charts } from "./screens/charts.js";
import { Count } from "./screens/count.js";
import { Devices } from "./screens/devices.js";
import { Find } from "./screens/find.js";
import { Gear } from "./screens/gear.js";
import { Handover } from "./screens/handover.js";
import { InTheShop } from "./screens/in_the_shop.js";
import { Help } from "./screens/help.js";
import { Machine } from "./screens/machine.js";
import { MapOfMachine } from "./screens/map.js";
import { Maps } from "./screens/maps.js";
import { Masses } from "./screens/masses.js";
import { Off } from "./screens/off.js";
import { OpenItems } from "./screens/open_items.js";
import { Pair } from "./screens/pair.js";
import { Part } from "./screens/part.js";
import { Pictures } from "./screens/pictures.js";
import { PinsOfPhoto } from "./screens/pins.js";
import { Record } from "./screens/record.js";
import { Retorque } from "./screens/retorque.js";
import { Scan } from "./screens/scan.js";
import { Sending } from "./screens/sending.js";
import { Settings } from "./screens/settings.js";
import { Sheets } from "./screens/sheets.js";
import { Specifications } from "./screens/specifications.js";
import { Start } from "./screens/start.js";
import { Tables } from "./screens/tables.js";
import { Tags } from "./screens/tags.js";
import { TakeOff } from "./screens/take_off.js";
import { Tally } from "./screens/tally.js";
import { WeighIn } from "./screens/weigh_in.js";
import { ToStandard } from "./screens/to_standard.js";
import { Torque } from "./screens/torque.js";

const SCREENS = { start: Start, begin: Begin, take_off: TakeOff, strip: Off, off: Off, back: Back, open: OpenItems, settings: Settings, count: Count, buy: Buy, handover: Handover, map: MapOfMachine, specifications: Specifications, maps: Maps, statement: Masses, part: Part, pins: PinsOfPhoto, standard: ToStandard, sending: Sending, tally: Tally, balance: Balance, weigh_in: WeighIn, gear: Gear, torque: Torque, record: Record, retorque: Retorque, pair: Pair, devices: Devices, carry: Carry, sheets: Sheets, labels: Tags, bag: Bag, kept: Kept, find: Find, help: Help, scan: Scan, charts: Charts, machine: Machine, tables: Tables, shop: InTheShop, pictures: Pictures };

/** The strip-down that the bar leads to from the screen of sending. */
let lastStrip;

function App() {
  const [place, setPlace] = useState(readRoute(location.hash));
  const [spoken, setSpoken] = useState(0);
  useEffect(() => onLanguage(() => setSpoken((turn) => turn + 1)), []);
  useEffect(() => {
    const moved = () => setPlace(readRoute(location.hash));
    addEventListener("hashchange", moved);
    // The address may have changed between the first drawing and now.
    moved();
    return () => removeEventListener("hashchange", moved);
  }, []);
  useEffect(() => {
    scrollTo(0, 0);
    document.querySelector("h1")?.focus({ preventScroll: true });
  }, [place.screen, place.strip, place.part, place.group, place.photo, place.sheet, place.written]);
  if (place.screen === "start") lastStrip = undefined;
  lastStrip = place.strip ?? lastStrip;
  const Screen = SCREENS[place.screen];
  return html`<${Newer} /><${Screen} key=${`${spoken} ${location.hash}`} ...${place} strip=${lastStrip} /><${Asking} /><${Suggestions} />`;
}

/** A newer version waits, and says so once; it takes over only when asked. */
function Newer() {
  const [state, setState] = useState("none");
  const [put, setPut] = useState(false);
  useEffect(() => update.subscribe(setState), []);
  if (state === "none" || put) return null;
  return html`<aside class="notice" role="status"><p>${t("A newer version is here.")} <a href=${route.sending()}>${t("Take it from Sending.")}</a></p>
    <button type="button" onClick=${() => setPut(true)}>${t("Later")}</button></aside>`;
}

async function open() {
  const page = document.getElementById("page");
  try {
    await shop.ready();
    await showTheme();
    await showLanguage();
  } catch (error) {
    if (!error.sentence) throw error;
    render(html`<main class="sheet"><h1>Cotterbook</h1><${Waiting} trouble=${error.sentence} retry=${() => location.reload()} /></main>`, page);
    return;
  }
  page.replaceChildren();
  render(html`<${App} />`, page);
  sync.start();
  stayAwakeWhileSending(sync.subscribe);
  // Without a service worker the program still works; it only needs the PC to start.
  await update.register().catch(() => {});
}

open();
