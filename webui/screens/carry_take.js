// Taking a carried file in: all of it is looked at, then shown, and kept only when somebody says so.

import { html, useState } from "../vendor/preact.js";
import { t, when } from "../words.js";
import { Counts, Work, size, useWork } from "../pieces/file_work.js";

const taking = () => import("../bundle-taking.js");

export function TakeFile() {
  const [found, setFound] = useState(null);
  const [taken, setTaken] = useState(null);
  const [keeping, setKeeping] = useState(false);
  const work = useWork();
  async function chosen(event) {
    const input = event.currentTarget;
    const [file] = input.files;
    if (!file) return;
    setFound(null);
    setTaken(null);
    setKeeping(false);
    setFound(await work.run(async (tell) => (await taking()).look(file, tell)));
    // The same file can be chosen again.
    input.value = "";
  }
  async function keep() {
    setKeeping(true);
    const kept = await work.run(async (tell) => (await taking()).takeIn(found, tell));
    setFound(null);
    setTaken(kept);
  }
  return html`<section class="section"><h2>${t("Take in a file")}</h2>
    <p>${t("All of it is checked before anything is kept. What is already here stays as it is.")}</p>
    <div class="row"><label class="button over grow">${t("Choose a file")}<input type="file" accept=".zip,application/zip" disabled=${work.busy} onChange=${chosen} /></label></div>
    <${Work} work=${work} words=${keeping ? t("Taking it in…") : t("Looking through the file…")} />
    ${found && !work.busy && html`<${Found} ...${found} onKeep=${keep} onLeave=${() => setFound(null)} />`}
    ${taken && html`<div class="block done"><p class="mark done" role="status">${t("Taken in")}</p>
      <${Counts} lines=${[[t("New entries"), taken.entries], [t("New photos"), taken.photos]]} />
      <p>${t("They wait for the PC like this phone’s own, and go across by themselves when it is in reach.")}</p></div>`}
  </section>`;
}

/** What a file holds, and what of it is new here. */
function Found({ bundle, entries, fresh, strips, photos, freshPhotos, missing, madeMs, onKeep, onLeave }) {
  const news = fresh + freshPhotos.length > 0;
  return html`<div class="block open">
    <p><strong class="name">${bundle.file.name}</strong> <span class="quiet">${size(bundle.file.size)}</span></p>
    <p class="quiet">${Number.isFinite(madeMs) && t("Made {when}. It is whole, and everything in it is right.", { when: when(madeMs) })}</p>
    <${Counts} lines=${[[t("Entries"), entries], [t("of these new here"), fresh], [t("Strip-downs"), strips], [t("Photos"), photos], [t("of the photos new here"), freshPhotos.length]]} />
    ${missing > 0 && html`<p class="quiet">${t("Photos that its entries name and that are not in it: {count}.", { count: missing })}</p>`}
    ${news ? html`<div class="actions"><button type="button" class="main" onClick=${onKeep}>${t("Take it in")}</button>
        <button type="button" onClick=${onLeave}>${t("Leave it")}</button></div>`
      : html`<p class="mark done">${t("All of it is here already.")}</p>`}</div>`;
}
