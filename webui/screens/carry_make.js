// Making a file to carry: choosing what goes in, making it, and handing it over.

import { html, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { Pick, Tiles } from "../pieces/fields.js";
import { FileOut } from "../pieces/file_out.js";
import { Counts, Work, useWork } from "../pieces/file_work.js";
import { useFresh, useSummaries } from "../pieces/live.js";
import { Waiting } from "../pieces/frame.js";

const writing = () => import("../bundle-writing.js");
const CONCERNS = ["entries", "received", "settled", "forgotten", "photos"];

/** The strip-downs of this phone by name: [[id, name], …]. */
const named = (lines) => [...lines].sort((a, b) => (b.at ?? 0) - (a.at ?? 0))
  .map(({ strip, name, machine_name: machine }) => [strip, [name || t("Strip-down without a name"), machine].filter(Boolean).join(", ")]);

export function MakeFile() {
  const lines = useSummaries();
  const [kind, setKind] = useState("unsent");
  const [strip, setStrip] = useState(null);
  const [made, setMade] = useState(null);
  const work = useWork();
  const choice = kind === "one" ? strip : kind;
  const choices = [["unsent", t("What the PC does not have")], ["all", t("All strip-downs")], ["one", t("One strip-down")]];
  const choose = (put) => (value) => { setMade(null); put(value); };
  async function make(contents) {
    setMade(null);
    const file = await work.run(async (tell) => (await writing()).makeBundle(contents, tell));
    if (file) setMade({ file, contents });
  }
  return html`<section class="section"><h2>${t("Make a file")}</h2>
    <${Tiles} wide field="choice" label=${t("What goes in")} options=${choices} value=${kind} onValue=${choose(setKind)} />
    ${kind === "one" && html`<${Pick} field="strip" label=${t("Which strip-down")} options=${named(lines.data ?? [])} value=${strip} onValue=${choose(setStrip)} />`}
    ${choice && html`<${Contents} key=${choice} choice=${choice} busy=${work.busy} onMake=${make} />`}
    <${Work} work=${work} words=${t("Making the file…")} />
    ${made && html`<${Made} key=${made.file.name + made.file.size} ...${made} />`}
  </section>`;
}

/** What would go in, and the button. */
function Contents({ choice, busy, onMake }) {
  const { data, trouble, retry } = useFresh(async () => (await writing()).contentsOf(choice), [choice], (change) => CONCERNS.includes(change.what));
  if (!data) return html`<${Waiting} trouble=${trouble} retry=${retry} />`;
  if (data.entries + data.photos.length === 0) {
    return html`<p>${choice === "unsent" ? t("The PC has everything that is on this phone.") : t("There is nothing on this phone yet.")}</p><${LeftOut} ...${data} />`;
  }
  return html`<${Counts} lines=${[[t("Entries"), data.entries], [t("Strip-downs"), data.strips.length], [t("Photos"), data.photos.length]]} />
    <${LeftOut} ...${data} />
    <button type="button" class="main" disabled=${busy} onClick=${() => onMake(data)}>${t("Make the file")}</button>`;
}

function LeftOut({ missing, refused }) {
  return html`${missing.length > 0 && html`<p class="quiet">${t("Photos that are not on this phone, which stay out: {count}.", { count: missing.length })}</p>`}
    ${refused > 0 && html`<p class="quiet">${t("Entries that the PC refused, which stay out: {count}. They are on Sending.", { count: refused })}</p>`}`;
}

/** The file, and the ways out of the phone that this browser has. */
const Made = ({ file, contents }) => html`<div class="block done">
    <p class="mark done" role="status">${t("Made, read back, and whole")}</p>
    <${FileOut} file=${file}>
      <${Counts} lines=${[[t("Entries"), contents.entries], [t("Strip-downs"), contents.strips.length], [t("Photos"), contents.photos.length]]} /><//>
    <p>${t("On the PC, open Cotterbook in its browser and take the file in on this same screen. On another phone, too.")}</p></div>`;
